/* Times the coast: loading, steps far from land and near it. One line each:
 * set, what, figure, unit. The figures are the fastest of five runs. */
#include "earth/coast.h"
#include "earth/rhumb.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

enum { RUNS = 5, STEPS = 50000 };

/* The North Atlantic. */
static const struct coast_box box = {0.0, 50.0, -80.0, 0.0};

static double seconds(void) {
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static uint64_t state = 1;

static double between(double low, double high) {
    state = state * 6364136223846793005ULL + 1442695040888963407ULL;
    return low + (high - low) * (double)(state >> 11) / 9007199254740992.0;
}

struct step {
    struct position from, to;
};

/* Steps of some miles whose start is between these distances from a shore. */
static struct step *make_steps(const struct coast *coast, double least_m,
                               double most_m, double length_m) {
    struct step *steps = malloc(STEPS * sizeof *steps);
    if (!steps)
        abort();
    for (size_t i = 0; i < STEPS;) {
        struct position from = {between(2.0, 48.0), between(-78.0, -2.0)};
        double away_m = coast_distance_m(coast, from, 222000.0, NULL);
        if (away_m < least_m || away_m > most_m ||
            coast_level_at(coast, from) != COAST_SEA)
            continue;
        double course_deg = between(0.0, 360.0);
        steps[i].from = from;
        steps[i++].to = rhumb_ahead(from, course_deg, length_m);
    }
    return steps;
}

enum question { NEARER, MEETS, DISTANCE, SEGMENT };

static double ask(const struct coast *coast, enum question question,
                  const struct step *step) {
    switch (question) {
    case NEARER:
        return coast_nearer(coast, step->from, step->to, 3704.0);
    case MEETS:
        return coast_meets(coast, step->from, step->to);
    case DISTANCE:
        return coast_distance_m(coast, step->from, 222000.0, NULL);
    case SEGMENT:
        return coast_segment_distance_m(coast, step->from, step->to, 40000.0);
    }
    return 0.0;
}

static void time_steps(const struct coast *coast, const char *what,
                       enum question question, const struct step *steps) {
    double best_s = HUGE_VAL, sum = 0.0;
    for (int run = 0; run < RUNS; run++) {
        double start_s = seconds();
        for (size_t i = 0; i < STEPS; i++)
            sum += ask(coast, question, &steps[i]);
        best_s = fmin(best_s, seconds() - start_s);
    }
    printf("%c\t%s\t%.1f\tns (mean answer %.3g)\n", coast_resolution(coast),
           what, 1e9 * best_s / STEPS, sum / STEPS / RUNS);
}

static void time_all(const char *path) {
    struct arena arena;
    struct error error;
    struct coast *coast = NULL;
    double best_s = HUGE_VAL;
    arena_init(&arena);
    for (int run = 0; run < RUNS; run++) {
        arena_free(&arena);
        double start_s = seconds();
        if (!coast_load(&coast, path, &box, &arena, &error)) {
            printf("%s\n", error.text);
            return;
        }
        best_s = fmin(best_s, seconds() - start_s);
    }
    printf("%c\tload\t%.0f\tms, %.1f MB\n", coast_resolution(coast),
           1e3 * best_s, 1e-6 * (double)arena.used_bytes);
    struct step *far = make_steps(coast, 60000.0, 1e9, 11000.0);
    struct step *near = make_steps(coast, 3704.0, 30000.0, 11000.0);
    time_steps(coast, "nearer than 2 nmi, far", NEARER, far);
    time_steps(coast, "meets, far", MEETS, far);
    time_steps(coast, "nearer than 2 nmi, near", NEARER, near);
    time_steps(coast, "meets, near", MEETS, near);
    time_steps(coast, "distance of a place, near", DISTANCE, near);
    time_steps(coast, "distance of a place, far", DISTANCE, far);
    time_steps(coast, "distance of a leg, near", SEGMENT, near);
    free(far);
    free(near);
    arena_free(&arena);
}

int main(int argc, char **argv) {
    for (int i = 1; i < argc; i++)
        time_all(argv[i]);
    return 0;
}
