/* What tells the crew that a change is due, from the plan's own numbers: the
 * angle or the wind that the boat shows on the course before when it is done.
 */
#ifndef PLAN_SIGNS_H
#define PLAN_SIGNS_H

#include "plan/moving.h"
#include "plan/plan.h"

/* Fills `sign` of the work on deck whose `cause` is the wind. None for work at
 * departure or moved into daylight, for the second part of a change, and
 * where the course turns by more than the wind: then the place tells. */
void signs_give(struct plan *plan, const struct moved_list *moved);

#endif
