#include "search/team.h"

#include <omp.h>

static void run_anew(void (*work)(void *context), void *context) {
    /* the end of the region waits for all tasks, and whoever waits there takes
     * any of them; whoever waits for a group takes its own only */
#pragma omp parallel
#pragma omp single
    work(context);
}

void team_run(void (*work)(void *context), void *context) {
    if (!omp_in_parallel()) {
        run_anew(work, context);
        return;
    }
#pragma omp taskgroup
    work(context);
}

void team_join(void (*work)(void *context), void *context) {
    if (omp_in_parallel())
        work(context);
    else
        run_anew(work, context);
}
