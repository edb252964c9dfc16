/* When to depart: the same passage from several departures, and which of them
 * costs least. */
#ifndef PLAN_WINDOW_H
#define PLAN_WINDOW_H

#include "plan/many.h"

/* Departures, at most: checked before memory is asked for. */
enum { WINDOW_DEPARTURES = 1000 };

struct window {
    const struct request *request; /* its departure is the first */
    struct many_row *rows;         /* in order of time */
    size_t count;                  /* at least 1 */
    /* Indices of those that reach the finish, by cost, of two alike the earlier
     * first. */
    size_t *ranked;
    size_t ranked_count;
};

/* How many departures a request asks for: 1 to WINDOW_DEPARTURES. Call it
 * before request_resolve(): the first becomes the request's own, and is that
 * where `earliest` is left out. STATUS_INPUT, or STATUS_USAGE without a passage
 * file: a key is missing; the latest is before the earliest; they are too
 * many. */
bool window_count(struct request *request, size_t *count, struct arena *arena,
                  struct error *error);

/* Plans all of them; never fails, rows do. The window lives in `arena`. */
struct window *window_plan(const struct world *world,
                           const struct request *request, size_t count,
                           const struct plan_progress *progress,
                           struct arena *arena);

/* Fills `ranked` by the rows. */
void window_rank(struct window *window, struct arena *arena);

/* None can be planned: why the first can't, its text and its status. True where
 * one is. */
bool window_check(const struct window *window, struct error *error);

#endif
