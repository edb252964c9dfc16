/* Mainsail gybes that send someone forward beyond the work limits, and courses
 * that keep clear of them: docs/decisions/preventer.md. */
#ifndef PLAN_GYBES_H
#define PLAN_GYBES_H

#include "plan/plan.h"
#include "search/track.h"

/* Has the course none? False, too, where it can't be sailed; true for a boat
 * that gybes her mainsail from the cockpit. */
bool gybes_are_kept(const struct voyage *voyage, const struct track *course,
                    const struct underway *start);

/* The same of its places alone, the spar stowed: what orders for them can keep
 * to. */
bool gybes_can_be_kept(const struct voyage *voyage, const struct track *course,
                       const struct underway *start, struct arena *arena);

/* As the course is sailed in the end there may be one after all: then nothing
 * is told of what it costs to have none. */
void gybes_check_told(struct plan *plan);

#endif
