/* The search as a whole: from a voyage to the best track and what it costs.
 *
 *   1. a known way: the shortest over open water, rigged as well as it can
 *      be: the bound; in a current stronger than the boat the fastest by
 *      rays, too;
 *   2. a coarse front that scouts, then a wide one over the whole sea;
 *   3. its best ways refined: the deck states chosen anew, the places moved
 *      continuously, by turns until the cost stops falling;
 *   4. a fine front in a corridor round them, and its ways refined;
 *   5. the best of them with its boards in another order, and with its work out
 *      of the dark.
 * Places to pass cut the way into parts; each is searched from where and how
 * the last one ended.
 */
#ifndef SEARCH_SEARCH_H
#define SEARCH_SEARCH_H

#include "search/front.h"

struct search_request {
    struct position from;
    const struct position *via;
    size_t via_count;
    struct position to;
    struct deck start; /* how the boat is rigged now */
    /* search_ways(): one to each stop; NULL: all is open water */
    const struct waterway *const *ways;
    double effort; /* > 0: times the usual work; 0: the usual */
    /* > 0: ways that cost more are not looked for, nor is the cause where there
     * is none that costs less */
    double most_s;
};

struct search_progress {
    void (*report)(void *context, const char *stage, double done_frac);
    /* The fronts are done: what is left, mostly on one thread, is to move the
     * best track. NULL: nobody waits for that. */
    void (*nearly_done)(void *context, const struct track *best);
    void *context;
};

struct search_result {
    bool reached;
    bool sailed;              /* false: there is no track at all */
    double cost_s, elapsed_s; /* of the track, by voyage */
    double refined_s;         /* of cost, taken off what the fronts had found */
    struct track track;
    struct isochrone *isochrones;
    size_t isochrone_count;
    size_t labels, expansions;
    enum obstacle cause; /* what stopped it, where not reached */
};

/* The places to pass, and the finish as the last: at least 1. */
size_t search_stop_count(const struct search_request *request);
struct position search_stop_at(const struct search_request *request,
                               size_t index);

/* The ways over open water from stop to stop, once for all searches of a
 * request; NULL where nothing bars any. `*open`: false where one of them is
 * closed for good, so that no search can help. */
const struct waterway *const *search_ways(const struct voyage *voyage,
                                          const struct search_request *request,
                                          struct arena *arena, bool *open);

/* The result lives in `arena`. */
void search_run(const struct voyage *voyage,
                const struct search_request *request,
                const struct search_progress *progress, struct arena *arena,
                struct search_result *result);

/* The shortest way from stop to stop as a track of rhumb lines, round what lies
 * between. */
struct track search_direct_track(const struct search_request *request,
                                 struct arena *arena);

#endif
