/* Why a change is made, in a short clause, from the plan's own figures; and the
 * length to set the spar to. */
#ifndef PLAN_REASONS_H
#define PLAN_REASONS_H

#include "base/arena.h"
#include "plan/plan.h"

/* Fills `why` and `cause` of every change, and `pole_length_m` and `headsail`
 * of those that put the spar out: for the largest headsail whose max_wind is
 * not below the strongest mean wind of the legs until the spar is worked on
 * again. Legs are complete, and so is `skip`: a set is said to steady her only
 * where leaving it undone rolls her more. */
void reasons_give(struct plan *plan, struct arena *arena);

#endif
