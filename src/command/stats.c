#include "command/stats.h"

#include <stdio.h>
#include <sys/resource.h>

static double seconds(struct timeval time) {
    return (double)time.tv_sec + (double)time.tv_usec / 1e6;
}

/* Linux counts ru_maxrss in KiB. */
static void print_usage(const char *who, int whose) {
    struct rusage usage;
    if (getrusage(whose, &usage) == 0)
        fprintf(stderr, "sparwise: %s: %.2f s of processor time, %.1f MiB\n",
                who, seconds(usage.ru_utime) + seconds(usage.ru_stime),
                (double)usage.ru_maxrss / 1024.0);
}

void stats_print(const struct arena *arena) {
    fprintf(stderr, "sparwise: plan and forecast: %.1f MiB\n",
            (double)arena->used_bytes / (1024.0 * 1024.0));
    print_usage("this process, at most", RUSAGE_SELF);
    print_usage("its decoding children, at most", RUSAGE_CHILDREN);
}
