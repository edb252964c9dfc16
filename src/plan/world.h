/* What is loaded once for all plans of a run: the boat, the forecast, the
 * coast and the zones. */
#ifndef PLAN_WORLD_H
#define PLAN_WORLD_H

#include "boat/boat.h"
#include "earth/coast.h"
#include "earth/fetch.h"
#include "earth/sea_mask.h"
#include "earth/zone.h"
#include "forecast/forecast.h"
#include "plan/request.h"
#include "plan/seaway.h"
#include "voyage/voyage.h"

struct waterway; /* search/waterway.h */

struct world {
    struct boat boat;
    struct forecast *forecast;
    double max_current_mps;    /* strongest in the files, with a coast in its
                                  box; 0 without a field */
    struct grain grain;        /* of the files, where the passage leads */
    const struct coast *coast; /* NULL: none is wanted, or none installed */
    const struct sea_mask *mask;
    struct coast_box coast_box;
    const struct fetch *fetch;   /* NULL without a coast */
    const struct seaway *seaway; /* in the reach of the stops */
    struct zones zones;
    /* plan_prepare(): over open water to each stop, for all plans; NULL: each
     * looks for itself. */
    const struct waterway *const *ways;
};

/* Of the coast what the request's stops, or its track, can need; with a coast
 * of a large forecast, too (reach_weather()), else all of it. The first
 * error of any file, with its name. */
bool world_load(struct world *world, const struct request *request,
                struct arena *arena, struct error *error);

/* The same world with the weather of another member of its forecast. It lives
 * in `arena`, and no longer than `world`; several threads may make some. */
bool world_of_member(struct world *one, const struct world *world,
                     const struct request *request, struct member member,
                     struct arena *arena, struct error *error);

#endif
