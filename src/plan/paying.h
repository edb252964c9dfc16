/* Where the spar pays along a given track: the same track without it. */
#ifndef PLAN_PAYING_H
#define PLAN_PAYING_H

#include "plan/plan.h"
#include "voyage/voyage.h"

/* Sails the places of a plan that reaches its finish once more with the spar
 * stowed, from the same departure, whatever the crew's limits, and fills the
 * summary's figures without the spar and the stretches on which it is out. All
 * of it stays unknown where the boat starts with her spar out (`start`), or
 * can't sail the track without it. The legs are there. In `arena`. */
void paying_give(struct plan *plan, const struct voyage *voyage,
                 struct deck start, struct arena *arena);

#endif
