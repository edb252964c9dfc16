/* How long a plan takes beside the reading of its forecast, and what the land
 * check adds to it; best of three. Run from the top of the project. Ratios come
 * first: they move less from machine to machine than seconds. */
#include "plan/passage.h"

#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <time.h>

enum { ROUNDS = 3 };

static double seconds_now(void) {
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static void stop(const struct error *error) {
    fprintf(stderr, "%s\n", error->text);
    exit(error->status);
}

struct times {
    double load_s, plan_s;
    size_t arena_bytes;
};

static struct times run_once(const char *path, const char *coast) {
    struct arena arena;
    struct error error;
    struct request request;
    struct world world;
    struct plan *plan;
    arena_init(&arena);
    if (!request_load(&request, path, &arena, &error) ||
        !request_option(&request, "coast", coast, &arena, &error) ||
        !request_resolve(&request, false, &arena, &error))
        stop(&error);
    double start = seconds_now();
    if (!world_load(&world, &request, &arena, &error))
        stop(&error);
    double loaded = seconds_now();
    if (!plan_passage(&world, &request, NULL, &arena, &plan, &error))
        stop(&error);
    struct times times = {.load_s = loaded - start,
                          .plan_s = seconds_now() - loaded,
                          .arena_bytes = arena.used_bytes};
    arena_free(&arena);
    return times;
}

static struct times best_of(const char *path, const char *coast) {
    struct times best = run_once(path, coast);
    for (int round = 1; round < ROUNDS; round++) {
        struct times times = run_once(path, coast);
        if (times.load_s < best.load_s)
            best.load_s = times.load_s;
        if (times.plan_s < best.plan_s)
            best.plan_s = times.plan_s;
    }
    return best;
}

int main(void) {
    static const char *const passages[] = {"grib-samples/trade-crossing.ini",
                                           "grib-samples/coastal-hop.ini",
                                           "grib-samples/dateline-hop.ini"};
    printf("%-34s %10s %8s %8s %8s %12s %12s\n", "passage", "plan/load",
           "load s", "plan s", "arena MB", "land adds %", "to load ms");
    for (size_t i = 0; i < sizeof passages / sizeof *passages; i++) {
        struct times open = best_of(passages[i], "none");
        struct times best = best_of(passages[i], "auto");
        printf("%-34s %10.1f %8.3f %8.3f %8.1f %12.1f %12.1f\n", passages[i],
               best.plan_s / best.load_s, best.load_s, best.plan_s,
               (double)best.arena_bytes / 1e6,
               100.0 * (best.plan_s / open.plan_s - 1.0),
               1000.0 * (best.load_s - open.load_s));
    }
    struct rusage usage;
    getrusage(RUSAGE_SELF, &usage);
    printf("largest resident set %.0f MB\n", (double)usage.ru_maxrss / 1024.0);
    return 0;
}
