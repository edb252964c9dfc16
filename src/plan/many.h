/* Many plans of one world: other departures, other eases. They are made side by
 * side, one thread each, and each is forgotten once its figures are taken, so
 * that many take hardly more memory than as many as run at once. Call
 * plan_prepare() before, where they share their places.
 */
#ifndef PLAN_MANY_H
#define PLAN_MANY_H

#include "plan/passage.h"
#include "plan/quantile.h"

/* One of many. A plan that can't be made is a row that says why. */
struct many_row {
    bool planned;
    struct error error; /* where not planned */
    /* Its head, coast, summary, arrival, litres and display; no lists. Not
     * planned: of those what is asked for and the forecast. */
    struct plan plan;
    struct plan *whole; /* the plan itself, where it is kept; else NULL */
    /* Arrivals of its track in the weather of each member; count 0: there are
     * none, or it was not asked for. */
    struct quantiles members;
};

struct many {
    const struct world *world;
    const struct request *requests; /* one for each plan */
    size_t count;
    const struct plan_progress *progress; /* of the whole; NULL: nobody
                                             listens */
    /* NULL: none is kept. Else the plan of this index lives in it; nobody else
     * may use it meanwhile. */
    struct arena *kept;
    size_t kept_index;
    /* Worlds of the members that each track is sailed in, too: spread.h. */
    const struct world *members;
    size_t member_count;
};

/* Fills a row for each request, in their order; the same whatever the threads.
 */
void many_plan(const struct many *many, struct many_row *rows);

#endif
