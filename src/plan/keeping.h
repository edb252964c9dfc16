/* Is the old track still good? What is left of an earlier plan's track is
 * sailed through the forecast of the new one, by the same voyage: same limits,
 * water, ease and moves of deck work, changes wherever they suit on it.
 *
 * It is joined at the end of the leg that is nearest, or of the first after it
 * that lies ahead: the course there is no more than KEEPING_TURN_DEG off that
 * of the leg itself, and no land or zone is between.
 */
#ifndef PLAN_KEEPING_H
#define PLAN_KEEPING_H

#include "plan/moving.h"
#include "plan/plan.h"
#include "search/track.h"

#define KEEPING_TURN_DEG 45.0

/* Fills `keeping` of a plan whose legs, changes and summary are there. `start`
 * is the boat as she is at departure. In `arena`. */
void keeping_give(struct plan *plan, const struct voyage *voyage,
                  const struct underway *start, const struct moving *wish,
                  const struct previous *previous, struct arena *arena);

#endif
