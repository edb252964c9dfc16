#include "report/abreast.h"

#include "earth/geodesic.h"

#include <math.h>

/* A line across the way that is no further on than this is no new one. */
static const double SAME_LINE_M = 0.1 * METRES_PER_NMI;

/* A track, and how far each of its points is from the finish. */
struct run {
    const struct plan *plan;
    double *left_m;
    double from_s; /* since departure, when the last line was passed */
};

static struct run run_of(const struct plan *plan, struct position finish,
                         struct arena *arena) {
    struct run run = {.plan = plan};
    run.left_m = arena_alloc(arena, plan->track_count, sizeof *run.left_m);
    for (size_t i = 0; i < plan->track_count; i++)
        run.left_m[i] =
            geodesic_between(plan->track[i].position, finish).distance_m;
    return run;
}

/* When she is nearer than that for good. */
static double passes_s(const struct run *run, double left_m) {
    const struct plan *plan = run->plan;
    size_t i = plan->track_count - 1;
    while (i > 0 && run->left_m[i - 1] < left_m)
        i--;
    double at_s = instant_minus(plan->track[i].at, plan->depart);
    if (i == 0 || run->left_m[i] >= left_m)
        return at_s;
    double before_s = instant_minus(plan->track[i - 1].at, plan->depart);
    double done_frac =
        (run->left_m[i - 1] - left_m) / (run->left_m[i - 1] - run->left_m[i]);
    return before_s + done_frac * (at_s - before_s);
}

/* How long a leg was under way between two times since departure. */
static double shared_s(const struct plan *plan, const struct plan_leg *leg,
                       double from_s, double to_s) {
    double start_s = instant_minus(leg->start, plan->depart);
    double end_s = instant_minus(leg->end, plan->depart);
    return fmax(0.0, fmin(end_s, to_s) - fmax(start_s, from_s));
}

static struct abreast_side side_until(struct run *run, double to_s) {
    enum { MODES = MODE_ROLLED + 1 };
    const struct plan *plan = run->plan;
    double mode_s[MODES] = {0}, roll2_s = 0.0, sum_s = 0.0;
    struct abreast_side side = {.seconds = to_s - run->from_s};
    for (size_t i = 0; i < plan->leg_count; i++) {
        const struct plan_leg *leg = &plan->legs[i];
        double seconds = shared_s(plan, leg, run->from_s, to_s);
        mode_s[leg->mode] += seconds;
        roll2_s += seconds * leg->roll_deg * leg->roll_deg;
        sum_s += seconds;
    }
    for (int mode = 0; mode < MODES; mode++)
        if (mode_s[mode] > mode_s[side.mode])
            side.mode = (enum sail_mode)mode;
    side.roll_deg = sum_s > 0.0 ? sqrt(roll2_s / sum_s) : 0.0;
    run->from_s = to_s;
    return side;
}

static bool are_near(struct position a, struct position b) {
    return geodesic_between(a, b).distance_m <= ABREAST_SAME_M;
}

static bool fit(const struct plan *first, const struct plan *second) {
    return first->summary.reached && second->summary.reached &&
           are_near(first->from, second->from) &&
           are_near(first->to, second->to);
}

struct abreast_row *abreast_rows(const struct plan *first,
                                 const struct plan *second, struct arena *arena,
                                 size_t *count) {
    *count = 0;
    if (!fit(first, second))
        return NULL;
    struct run runs[2] = {run_of(first, first->to, arena),
                          run_of(second, second->to, arena)};
    struct abreast_row *rows =
        arena_alloc(arena, first->leg_count, sizeof *rows);
    double last_m = HUGE_VAL;
    for (size_t i = 0; i < first->leg_count; i++) {
        bool end = i + 1 == first->leg_count;
        double left_m =
            end ? 0.0
                : geodesic_between(first->legs[i].to, first->to).distance_m;
        if (!end && (left_m > last_m - SAME_LINE_M || left_m < SAME_LINE_M ||
                     left_m >= runs[0].left_m[0]))
            continue;
        struct abreast_row *row = &rows[(*count)++];
        *row = (struct abreast_row){.leg = i, .left_m = left_m};
        for (int k = 0; k < 2; k++)
            row->side[k] =
                side_until(&runs[k], end ? runs[k].plan->summary.elapsed_s
                                         : passes_s(&runs[k], left_m));
        row->so_far_s = runs[1].from_s - runs[0].from_s;
        last_m = left_m;
    }
    return rows;
}
