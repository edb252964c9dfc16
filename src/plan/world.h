/* What is loaded once for all plans of a run: the boat and the forecast. */
#ifndef PLAN_WORLD_H
#define PLAN_WORLD_H

#include "boat/boat.h"
#include "forecast/forecast.h"
#include "plan/request.h"

struct world {
    struct boat boat;
    struct forecast *forecast;
    double max_current_mps; /* strongest in the files; 0 without a field */
};

bool world_load(struct world *world, const struct request *request,
                struct arena *arena, struct error *error);

#endif
