/* Why a change is made, in a short clause, from the plan's own figures; and the
 * length to set the spar to. */
#ifndef PLAN_REASONS_H
#define PLAN_REASONS_H

#include "base/arena.h"
#include "plan/plan.h"

/* Fills `why`, `pole_length_m` and `headsail` of every change; legs are
 * complete. */
void reasons_give(struct plan *plan, struct arena *arena);

#endif
