/* What the skipper has to be told about the figures of a plan. */
#ifndef PLAN_WARNINGS_H
#define PLAN_WARNINGS_H

#include "plan/plan.h"
#include "plan/request.h"
#include "plan/world.h"

/* Collects those of the forecast and those of the plan. */
void warnings_give(struct plan *plan, const struct world *world,
                   const struct request *request, struct arena *arena);

#endif
