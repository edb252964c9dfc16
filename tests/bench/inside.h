/* The parts of a plan timed one by one, through the library. */
#ifndef BENCH_INSIDE_H
#define BENCH_INSIDE_H

#include <stddef.h>

struct inside_task {
    const char *passage; /* its file */
    const char *coast;   /* NULL: as the file has it */
    int threads;         /* 0: as many as there are cores */
    double effort;       /* of a search; 1 is the program's own */
};

/* Best of the rounds, each on its own. */
struct inside_plan {
    double load_s; /* forecast, boat and coast */
    double plan_s; /* all the rest but the reports: both searches, the legs */
    double arena_mb;
};
struct inside_plan inside_plan(const struct inside_task *task);

/* One search with the spar allowed over open water, before legs. */
struct inside_search {
    double seconds, cost_s;
    size_t labels, expansions;
};
struct inside_search inside_search(const struct inside_task *task);

#endif
