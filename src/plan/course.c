#include "plan/course.h"

#include "base/units.h"
#include "earth/rhumb.h"
#include "search/refine.h"
#include "search/rig.h"

#include <math.h>

/* Decimals of a degree in a route file: a centimetre. */
enum { DECIMALS = 7, EXTRA_ROUNDS = 3 };

/* After cutting, the few places left are moved a little once more. */
static const double FIRST_STEP_M = 2.0 * METRES_PER_NMI;
static const double LAST_STEP_M = 0.25 * METRES_PER_NMI;
static const double WORTH_FRAC = 2e-5; /* refine.h */
enum { MOVE_ROUNDS = 12 };

/* No track that was to end with the forecast ends so long before it. */
static const double RUN_OUT_M = 150.0 * METRES_PER_NMI;

/* Places closer than this are one. */
static const double SAME_PLACE_M = 20.0;

enum obstacle course_rig(const struct voyage *voyage, struct track *track,
                         const struct underway *start, struct arena *arena) {
    double cost_s;
    return rig_track(voyage, track, start, arena, &cost_s);
}

static void round_places(struct track *track) {
    for (size_t i = 0; i < track->count; i++)
        track->vertices[i].at =
            position_rounded(track->vertices[i].at, DECIMALS);
}

/* Changes that the integrator made on its own, on the way along a leg. */
struct extra {
    const struct track *track;
    struct vertex vertices[64];
    size_t after[64]; /* index of the vertex that each follows */
    size_t count;
    size_t leg;
    double on_m; /* the last of them, on from the start of the leg */
};

static void note_extra(void *context, const struct sail_change *change) {
    struct extra *extra = context;
    const struct vertex *ends = &extra->track->vertices[extra->leg];
    double on_m = rhumb_between(ends[0].at, change->at).distance_m;
    double left_m = rhumb_between(change->at, ends[1].at).distance_m;
    /* a second part is told before its time: what comes next may be nearer */
    double leg_m = rhumb_between(ends[0].at, ends[1].at).distance_m;
    bool forward = on_m > extra->on_m + SAME_PLACE_M && left_m > SAME_PLACE_M &&
                   on_m + left_m < leg_m + SAME_PLACE_M;
    if (!change->unplanned || !forward ||
        extra->count == sizeof extra->vertices / sizeof *extra->vertices)
        return;
    extra->on_m = on_m;
    extra->vertices[extra->count] = (struct vertex){
        .at = position_rounded(change->at, DECIMALS), .order = change->to};
    extra->after[extra->count++] = extra->leg;
}

static void find_extra(const struct voyage *voyage, struct extra *extra,
                       const struct underway *start) {
    struct sail_observer observer = {.change = note_extra, .context = extra};
    struct underway boat = track_start(voyage, extra->track, start);
    for (extra->leg = 0; extra->leg + 1 < extra->track->count; extra->leg++) {
        extra->on_m = 0.0;
        if (track_sail_stretch(voyage, extra->track, extra->leg, &boat,
                               &observer) != OBSTACLE_NONE)
            return;
    }
}

/* Gives every change on the way a place of its own. */
static struct track with_extra(const struct voyage *voyage,
                               const struct track *track,
                               const struct underway *start,
                               struct arena *arena, bool *added) {
    struct extra extra = {.track = track};
    find_extra(voyage, &extra, start);
    *added = extra.count > 0;
    if (!*added)
        return *track;
    struct track longer = {.count = 0};
    longer.vertices =
        arena_alloc(arena, track->count + extra.count, sizeof *longer.vertices);
    size_t next = 0;
    for (size_t i = 0; i < track->count; i++) {
        longer.vertices[longer.count++] = track->vertices[i];
        while (next < extra.count && extra.after[next] == i)
            longer.vertices[longer.count++] = extra.vertices[next++];
    }
    return longer;
}

enum obstacle course_with_changes(const struct voyage *voyage,
                                  struct track *track,
                                  const struct underway *start,
                                  struct arena *arena) {
    enum obstacle why = course_rig(voyage, track, start, arena);
    bool added = true;
    for (int round = 0; round < EXTRA_ROUNDS && why == OBSTACLE_NONE; round++) {
        *track = with_extra(voyage, track, start, arena, &added);
        if (!added)
            break;
        why = course_rig(voyage, track, start, arena);
    }
    return why;
}

double course_cost_s(const struct voyage *voyage, const struct track *course,
                     const struct underway *start) {
    double elapsed_s;
    double cost_s = track_cost(voyage, course, start, &elapsed_s);
    return isfinite(cost_s) ? cost_s + voyage_arrival_wait_s(voyage, elapsed_s)
                            : cost_s;
}

void course_run_out(const struct voyage *voyage, struct track *track,
                    const struct underway *start) {
    const struct vertex *v = track->vertices;
    while (track->count > 2 &&
           rhumb_between(v[track->count - 2].at, v[track->count - 1].at)
                   .distance_m < SAME_PLACE_M)
        track->count--;
    struct vertex *last = &track->vertices[track->count - 1];
    struct position end = last->at;
    double course_deg = rhumb_between(last[-1].at, end).course_deg;
    struct underway boat = track_start(voyage, track, start);
    last->at = rhumb_ahead(end, course_deg, RUN_OUT_M);
    enum obstacle why = OBSTACLE_NONE;
    size_t at = 0;
    for (; why == OBSTACLE_NONE && at + 1 < track->count; at++)
        why = track_sail_stretch(voyage, track, at, &boat, NULL);
    last->at = end;
    if (why != OBSTACLE_HORIZON)
        return;
    track->vertices[at].at = position_rounded(boat.at, DECIMALS);
    track->count = at + 1;
}

/* A track as it will be written: places rounded, the best orders for them (or
 * those of the search), every change at a place of its own. */
struct candidate {
    struct track track;
    double cost_s; /* HUGE_VAL where it can't be sailed */
};

static struct candidate finished(const struct voyage *voyage,
                                 const struct track *track,
                                 const struct underway *start,
                                 struct arena *arena) {
    struct track course = track_copy(arena, track);
    round_places(&course);
    course_with_changes(voyage, &course, start, arena);
    double elapsed_s;
    return (struct candidate){
        .track = course,
        .cost_s = track_cost(voyage, &course, start, &elapsed_s)};
}

/* Is it the better course? One that loses too much is none, nor is one of too
 * many places where there is another; of the rest the one with fewer. Where all
 * have too many a plotter is served best by the fewest. */
static bool is_better(const struct candidate *course,
                      const struct candidate *than, double most_s,
                      size_t most_points) {
    bool many = course->track.count > most_points;
    bool than_many = than->track.count > most_points;
    if (many != than_many)
        return than_many && isfinite(course->cost_s);
    if (many && course->track.count != than->track.count)
        return isfinite(course->cost_s) &&
               course->track.count < than->track.count;
    if (course->cost_s > most_s || than->cost_s > most_s)
        return course->cost_s < than->cost_s;
    return course->track.count < than->track.count ||
           (course->track.count == than->track.count &&
            course->cost_s < than->cost_s);
}

static void prefer(struct candidate *best, struct candidate course,
                   double most_s, size_t most_points) {
    if (is_better(&course, best, most_s, most_points))
        *best = course;
}

/* The whole, the same with fewer places, and those moved a little, by turns as
 * long as that makes them fewer: what moves win back is room to do without
 * more. Each counts by what it costs once it is rounded and rigged anew. */
struct track course_cut(const struct voyage *voyage, const struct track *track,
                        const struct underway *start,
                        const struct course_options *options,
                        struct arena *arena) {
    struct refine_options moves = {.first_step_m = FIRST_STEP_M,
                                   .last_step_m = LAST_STEP_M,
                                   .worth_frac = WORTH_FRAC,
                                   .rounds = MOVE_ROUNDS};
    struct candidate best = finished(voyage, track, start, arena);
    struct track few = track_copy(arena, track);
    double elapsed_s;
    double cost_s = track_cost(voyage, track, start, &elapsed_s);
    double most_s = cost_s * (1.0 + options->leg_loss_frac);
    size_t before = 0;
    refine_simplify(voyage, &few, start, options->leg_loss_frac,
                    options->most_points, arena);
    while (few.count != before) {
        prefer(&best, finished(voyage, &few, start, arena), most_s,
               options->most_points);
        cost_s = refine_track(voyage, &few, start, &moves, arena);
        prefer(&best, finished(voyage, &few, start, arena), most_s,
               options->most_points);
        before = few.count;
        refine_simplify(voyage, &few, start, fmax(0.0, most_s / cost_s - 1.0),
                        options->most_points, arena);
    }
    return best.track;
}
