#include "plan/orders.h"

#include "plan/course.h"
#include "plan/engine.h"
#include "plan/haste.h"
#include "search/rig.h"

#include <math.h>

/* A track of the crew's own is cut for changes every so many miles. */
static const double GIVEN_SPACING_M = 10.0 * METRES_PER_NMI;

/* Prices of a second under engine, in seconds, at which orders are tried where
 * the fuel does not last; after them, orders as without an engine. */
static const double PRICES[] = {0.05, 0.1, 0.2, 0.4, 0.8, 1.6, 3.2};
enum { PRICE_COUNT = sizeof PRICES / sizeof *PRICES };

struct ordering {
    const struct voyage *voyage;
    const struct underway *start;
    const struct orders_options *options;
    struct arena *arena;
    const struct track *given;
    bool tried;
    struct track best;
    double best_s;
    enum obstacle why;
};

static enum obstacle choose(const struct ordering *ordering,
                            const struct voyage *voyage, struct track *track) {
    struct arena *arena = ordering->arena;
    *track = track_copy(arena, ordering->given);
    if (ordering->options->own_changes)
        return course_rig(voyage, track, ordering->start, arena);
    *track = rig_divide(voyage, track, GIVEN_SPACING_M, arena);
    enum obstacle why =
        course_with_changes(voyage, track, ordering->start, arena);
    *track = rig_thin(track, arena);
    return why;
}

static struct haste_tried try_orders(void *context, double factor) {
    struct ordering *ordering = context;
    struct voyage weighed = *ordering->voyage;
    struct track track;
    weighed.ease *= factor;
    enum obstacle why = choose(ordering, &weighed, &track);
    struct haste_tried tried =
        pacing_judge(ordering->voyage, &track, ordering->start,
                     &ordering->options->pacing, ordering->arena);
    if (ordering->tried &&
        !(why == OBSTACLE_NONE && tried.cost_s < ordering->best_s))
        return tried;
    ordering->tried = true;
    ordering->best = track;
    ordering->best_s = tried.cost_s;
    ordering->why = why;
    return tried;
}

/* As if there were fuel for all of it. */
static enum obstacle give(const struct voyage *voyage, struct track *track,
                          const struct underway *start,
                          const struct orders_options *options,
                          struct arena *arena) {
    struct ordering ordering = {.voyage = voyage,
                                .start = start,
                                .options = options,
                                .arena = arena,
                                .given = track};
    haste_try_all(try_orders, &ordering, voyage->ease);
    *track = ordering.best;
    return ordering.why;
}

/* What a course costs once the engine is held to the fuel. */
static double fitted_cost_s(const struct voyage *voyage,
                            const struct track *track,
                            const struct underway *start) {
    struct voyage held = *voyage;
    double elapsed_s;
    return engine_fit(&held, track, start, &elapsed_s);
}

/* Orders that count on more fuel than there is are no good once it is held
 * back, a headsail rolled to motor, say: those of a boat that spares it, and
 * more and more so, are tried, and the cheapest taken. */
static void order_sparing(const struct voyage *voyage, struct track *track,
                          const struct track *given,
                          const struct underway *start,
                          const struct orders_options *options,
                          struct arena *arena) {
    double best_s = fitted_cost_s(voyage, track, start);
    for (size_t i = 0; i <= PRICE_COUNT; i++) {
        struct voyage sparing = *voyage;
        struct track own = *given;
        sparing.motoring = i < PRICE_COUNT
                               ? engine_priced(voyage, PRICES[i])
                               : (struct motoring){.below_mps = 0.0};
        if (give(&sparing, &own, start, options, arena) != OBSTACLE_NONE)
            continue;
        double cost_s = fitted_cost_s(voyage, &own, start);
        if (cost_s >= best_s)
            continue;
        best_s = cost_s;
        *track = own;
    }
}

enum obstacle orders_give(const struct voyage *voyage, struct track *track,
                          const struct underway *start,
                          const struct orders_options *options,
                          struct arena *arena) {
    struct track given = *track;
    enum obstacle why = give(voyage, track, start, options, arena);
    if (why == OBSTACLE_NONE && !engine_is_within(voyage, track, start))
        order_sparing(voyage, track, &given, start, options, arena);
    return why;
}
