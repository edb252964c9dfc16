#include "search/team.h"

#include <omp.h>

void team_run(void (*work)(void *context), void *context) {
    if (omp_in_parallel()) {
#pragma omp taskgroup
        work(context);
        return;
    }
    /* the end of the region waits for all tasks, and whoever waits there takes
     * any of them; whoever waits for a group takes its own only */
#pragma omp parallel
#pragma omp single
    work(context);
}
