/* From a request to a finished plan: the story of the program.
 *
 *   world_load()    forecast and boat, decoded once
 *   plan_passage()  voyage -> search -> legs -> changes -> summary
 *   plan_along()    the same for a track that is given
 */
#ifndef PLAN_PASSAGE_H
#define PLAN_PASSAGE_H

#include "base/arena.h"
#include "base/error.h"
#include "plan/plan.h"
#include "plan/request.h"
#include "plan/world.h"

/* Called from one thread, between 0 and 1; NULL function: nobody listens. */
struct plan_progress {
    void (*report)(void *context, const char *stage, double done_frac);
    void *context;
};

/* Finds the route. Errors: STATUS_INPUT (the start is the finish, with no place
 * to pass between), STATUS_NO_ROUTE (and why), STATUS_OUTSIDE (start,
 * finish or departure outside the forecast, a limit whose field is missing
 * everywhere: names the area and hours to ask for). The plan lives in
 * `arena`. */
bool plan_passage(const struct world *world, const struct request *request,
                  const struct plan_progress *progress, struct arena *arena,
                  struct plan **plan, struct error *error);

/* For many plans that differ in their departure and ease alone: what these do
 * not change is worked out once and put into the world. It lives in `arena`.
 * Where it can't be, or depends on the departure after all, nothing is put:
 * each plan then works it out by itself, with the same result. */
void plan_prepare(struct world *world, const struct request *request,
                  struct arena *arena);

/* A track of the crew's own: its places, and whether its legs' ends are the
 * only places for changes (a route that this program wrote). */
struct given_track {
    const char *name;
    const struct position *places;
    size_t count;     /* at least 2 */
    bool own_changes; /* changes only at its points */
};

/* Times a track through the forecast; limits that it breaks become warnings.
 * Errors: as above; STATUS_INPUT where preflight_track() says so. */
bool plan_along(const struct world *world, const struct request *request,
                const struct given_track *track, struct arena *arena,
                struct plan **plan, struct error *error);

#endif
