#include "search/refine.h"

#include "earth/rhumb.h"

#include <math.h>
#include <string.h>

/* A gain below this is none. */
static const double LEAST_GAIN_S = 0.01;

/* A track and the boat as she was at each vertex, so that a change in the
 * middle is timed from there on only. */
struct timed {
    const struct voyage *voyage;
    struct track *track;
    struct underway *at; /* [count] */
    double cost_s, crept_s;
};

/* Times the track from vertex `first` on, keeping the boat at each vertex in
 * `at` where that is not NULL; where it is, the track is on trial: HUGE_VAL
 * where it costs as much as the timed one or creeps more. To creep a little may
 * cost less than the tack that it saves, but no finished plan may. */
static double cost_from(const struct timed *timed, size_t first,
                        struct underway *at) {
    struct underway boat = timed->at[first];
    for (size_t i = first; i + 1 < timed->track->count; i++) {
        if (at)
            at[i] = boat;
        if (track_sail_stretch(timed->voyage, timed->track, i, &boat, NULL) !=
            OBSTACLE_NONE)
            return HUGE_VAL;
        if (!at &&
            (boat.cost_s >= timed->cost_s || boat.crept_s > timed->crept_s))
            return HUGE_VAL;
    }
    if (at)
        at[timed->track->count - 1] = boat;
    return boat.cost_s;
}

static void time_from(struct timed *timed, size_t first) {
    timed->cost_s = cost_from(timed, first, timed->at);
    timed->crept_s = timed->at[timed->track->count - 1].crept_s;
}

static void time_all(struct timed *timed, const struct underway *start) {
    timed->at[0] = track_start(timed->voyage, timed->track, start);
    time_from(timed, 0);
}

/* A move: the vertices round `index` go the same way, by `step_m` in the middle
 * and less towards the ends of the window; pinned ones stay. */
struct move {
    size_t index, window;
    double course_deg, step_m;
};

static size_t first_moved(const struct move *move) {
    return move->index > move->window ? move->index - move->window : 1;
}

static void make_move(struct track *track, const struct move *move) {
    size_t last = move->index + move->window;
    for (size_t i = first_moved(move); i <= last && i + 1 < track->count; i++) {
        struct vertex *vertex = &track->vertices[i];
        double off = fabs((double)i - (double)move->index);
        double part = 1.0 - off / ((double)move->window + 1.0);
        if (!vertex->pinned)
            vertex->at =
                rhumb_ahead(vertex->at, move->course_deg, part * move->step_m);
    }
}

/* The cost after a move; HUGE_VAL where that is no gain. Leaves `timed` alone,
 * so that several moves can be tried at once. */
static double cost_after(const struct timed *timed, const struct move *move,
                         struct vertex *copy) {
    struct track track = {.vertices = copy, .count = timed->track->count};
    memcpy(copy, timed->track->vertices, track.count * sizeof *copy);
    make_move(&track, move);
    struct timed trial = *timed;
    trial.track = &track;
    return cost_from(&trial, first_moved(move) - 1, NULL);
}

/* Tries a window along the line between its neighbours and square to it; the
 * best of the four is taken. `copies` has room for four tracks. */
static bool move_window(struct timed *timed, size_t index, size_t window,
                        double step_m, struct vertex *copies) {
    static const double turns_deg[] = {90.0, -90.0, 0.0, 180.0};
    enum { WAYS = sizeof turns_deg / sizeof *turns_deg };
    const struct vertex *v = timed->track->vertices;
    double along_deg =
        rhumb_between(v[index - 1].at, v[index + 1].at).course_deg;
    struct move moves[WAYS];
    double costs[WAYS];
#pragma omp parallel for schedule(static)
    for (int i = 0; i < WAYS; i++) {
        moves[i] = (struct move){.index = index,
                                 .window = window,
                                 .course_deg =
                                     angle_wrap_360(along_deg + turns_deg[i]),
                                 .step_m = step_m};
        costs[i] = cost_after(timed, &moves[i],
                              &copies[(size_t)i * timed->track->count]);
    }
    int best = 0;
    for (int i = 1; i < WAYS; i++) {
        if (costs[i] < costs[best])
            best = i;
    }
    if (costs[best] >= timed->cost_s - LEAST_GAIN_S)
        return false;
    make_move(timed->track, &moves[best]);
    time_from(timed, first_moved(&moves[best]) - 1);
    return true;
}

/* One round: the long bends first, then the short ones. */
static bool move_all(struct timed *timed, double step_m,
                     struct vertex *copies) {
    static const size_t windows[] = {6, 2, 0};
    bool moved = false;
    for (size_t w = 0; w < sizeof windows / sizeof *windows; w++) {
        size_t stride = windows[w] / 2 + 1;
        for (size_t i = 1; i + 1 < timed->track->count; i += stride) {
            if (windows[w] > 0 || !timed->track->vertices[i].pinned)
                moved =
                    move_window(timed, i, windows[w], step_m, copies) || moved;
        }
    }
    return moved;
}

double refine_track(const struct voyage *voyage, struct track *track,
                    const struct underway *start,
                    const struct refine_options *options,
                    struct arena *scratch) {
    struct timed timed = {.voyage = voyage, .track = track};
    timed.at = arena_alloc(scratch, track->count, sizeof *timed.at);
    time_all(&timed, start);
    if (isinf(timed.cost_s))
        return timed.cost_s;
    double step_m = options->first_step_m;
    struct vertex *copies =
        arena_alloc(scratch, 4 * track->count, sizeof *copies);
    for (int round = 0;
         round < options->rounds && step_m >= options->last_step_m; round++) {
        if (!move_all(&timed, step_m, copies))
            step_m *= 0.5;
    }
    return timed.cost_s;
}

static void remove_vertex(struct track *track, size_t index) {
    memmove(&track->vertices[index], &track->vertices[index + 1],
            (track->count - index - 1) * sizeof *track->vertices);
    track->count--;
}

/* The cost of the track without one vertex. */
static double cost_without(struct timed *timed, size_t index,
                           struct vertex *copy) {
    struct track whole = *timed->track;
    memcpy(copy, whole.vertices, whole.count * sizeof *copy);
    struct track shorter = {.vertices = copy, .count = whole.count};
    remove_vertex(&shorter, index);
    struct timed trial = *timed;
    trial.track = &shorter;
    trial.cost_s = HUGE_VAL;
    return cost_from(&trial, index - 1, NULL);
}

/* The vertex that is missed least, and the cost without it; 0 where none may
 * be taken out. */
static size_t least_needed(struct timed *timed, struct vertex *copy,
                           double *cost_s) {
    const struct vertex *v = timed->track->vertices;
    size_t least = 0;
    *cost_s = HUGE_VAL;
    for (size_t i = 1; i + 1 < timed->track->count; i++) {
        if (v[i].pinned || !deck_same_rig(v[i].order, v[i - 1].order))
            continue;
        double cost = cost_without(timed, i, copy);
        if (cost < *cost_s) {
            *cost_s = cost;
            least = i;
        }
    }
    return least;
}

double refine_simplify(const struct voyage *voyage, struct track *track,
                       const struct underway *start, double loss_frac,
                       size_t most, struct arena *scratch) {
    struct timed timed = {.voyage = voyage, .track = track};
    timed.at = arena_alloc(scratch, track->count, sizeof *timed.at);
    struct vertex *copy = arena_alloc(scratch, track->count, sizeof *copy);
    time_all(&timed, start);
    double allowed_s = timed.cost_s * (1.0 + loss_frac);
    for (;;) {
        double without_s;
        size_t least = least_needed(&timed, copy, &without_s);
        bool needed = track->count > most;
        if (least == 0 || (without_s > allowed_s && !needed))
            return timed.cost_s;
        remove_vertex(track, least);
        time_all(&timed, start);
    }
}
