/* Sails the final course once more and writes down what happens: legs, changes,
 * the track, the sums of the summary. No figure here comes from elsewhere. */
#ifndef PLAN_LEGS_H
#define PLAN_LEGS_H

#include "plan/plan.h"
#include "search/track.h"

/* Fills legs, changes, track and the summary's sums of `plan`, whose depart,
 * boat and forecast times are set. `boat` stands at the first vertex; it ends
 * where the course ends or where `*obstacle` stopped it. */
void legs_sail(const struct voyage *voyage, const struct track *course,
               struct underway *boat, struct arena *arena, struct plan *plan,
               enum obstacle *obstacle);

#endif
