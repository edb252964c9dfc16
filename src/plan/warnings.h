/* What the skipper has to be told about the figures of a plan. */
#ifndef PLAN_WARNINGS_H
#define PLAN_WARNINGS_H

#include "plan/plan.h"
#include "plan/request.h"
#include "plan/water.h"
#include "plan/world.h"

/* What the plan was made from. */
struct warned {
    const struct world *world;
    const struct request *request;
    const struct water *water;
};

/* Collects those of the forecast, of land and zones, and of the plan. */
void warnings_give(struct plan *plan, const struct warned *from,
                   struct arena *arena);

#endif
