#include "plan/orders.h"

#include "plan/course.h"
#include "plan/haste.h"
#include "search/rig.h"

#include <math.h>

/* A track of the crew's own is cut for changes every so many miles. */
static const double GIVEN_SPACING_M = 10.0 * METRES_PER_NMI;

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

enum obstacle orders_give(const struct voyage *voyage, struct track *track,
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
