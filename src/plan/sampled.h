/* The boat along her way, for drawing: samples out of the steps of the
 * integrator, half an hour apart or less, one wherever a leg starts or the deck
 * changes. */
#ifndef PLAN_SAMPLED_H
#define PLAN_SAMPLED_H

#include "base/arena.h"
#include "plan/plan.h"
#include "voyage/sail.h"

/* Takes the start of the step where it is time for one; `starts_leg`: it always
 * is. */
void sampled_add(struct plan *plan, const struct sail_step *step,
                 bool starts_leg, struct arena *arena);

/* The same state once more, where and when the way ends. */
void sampled_end(struct plan *plan, struct position at, struct instant when,
                 struct arena *arena);

#endif
