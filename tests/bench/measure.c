#define _DEFAULT_SOURCE /* wait4() */

#include "measure.h"

#include <assert.h>
#include <fcntl.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

static double clock_now(clockid_t clock) {
    struct timespec now;
    clock_gettime(clock, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

double seconds_now(void) {
    return clock_now(CLOCK_MONOTONIC);
}

double cpu_seconds_now(void) {
    return clock_now(CLOCK_PROCESS_CPUTIME_ID);
}

static double seconds_of(struct timeval time) {
    return (double)time.tv_sec + 1e-6 * (double)time.tv_usec;
}

static _Noreturn void give_up(const char *what) {
    fflush(stdout);
    fprintf(stderr, "bench: %s failed\n", what);
    exit(1);
}

bool measure_again(int rounds_done, double start_s) {
    return rounds_done < MEASURE_ROUNDS &&
           seconds_now() - start_s < MEASURE_ENOUGH_S;
}

static pid_t start_child(void) {
    fflush(stdout); /* else both would write what is waiting */
    pid_t child = fork();
    if (child < 0)
        give_up("fork");
    return child;
}

/* In the child. */
static _Noreturn void become(const char *const *words) {
    char *own[16];
    size_t count = 0;
    for (; words[count] && count < 15; count++)
        own[count] = strdup(words[count]);
    own[count] = NULL;
    assert(own[0]);
    int nowhere = open("/dev/null", O_WRONLY | O_CLOEXEC);
    dup2(nowhere, STDOUT_FILENO);
    execv(own[0], own);
    _exit(127);
}

/* Linux counts ru_maxrss in KiB; that of wait4() is the largest of the child
 * and of those that it has waited for, the times are their sums. */
static struct taken run_once(const char *const *words) {
    struct rusage usage;
    int status;
    double start_s = seconds_now();
    pid_t child = start_child();
    if (child == 0)
        become(words);
    if (wait4(child, &status, 0, &usage) != child || !WIFEXITED(status) ||
        WEXITSTATUS(status) != 0)
        give_up(words[0]);
    return (struct taken){.wall_s = seconds_now() - start_s,
                          .cpu_s = seconds_of(usage.ru_utime) +
                                   seconds_of(usage.ru_stime),
                          .peak_mb = (double)usage.ru_maxrss * 1024.0 / 1e6};
}

struct taken measure_program(const char *const *words) {
    double start_s = seconds_now();
    struct taken best = run_once(words);
    for (int round = 1; measure_again(round, start_s); round++) {
        struct taken taken = run_once(words);
        best.wall_s = fmin(best.wall_s, taken.wall_s);
        best.cpu_s = fmin(best.cpu_s, taken.cpu_s);
        best.peak_mb = fmax(best.peak_mb, taken.peak_mb);
    }
    return best;
}

static bool read_all(int from, void *bytes, size_t size) {
    size_t have = 0;
    while (have < size) {
        ssize_t more = read(from, (char *)bytes + have, size - have);
        if (more <= 0)
            return false;
        have += (size_t)more;
    }
    return true;
}

void measure_apart(void (*work)(const void *context, void *result),
                   const void *context, void *result, size_t size) {
    int ends[2], status;
    if (pipe(ends) != 0)
        give_up("pipe");
    pid_t child = start_child();
    if (child == 0) {
        work(context, result);
        /* a pipe takes a small struct at once */
        _exit(write(ends[1], result, size) == (ssize_t)size ? 0 : 1);
    }
    close(ends[1]);
    bool good = read_all(ends[0], result, size);
    close(ends[0]);
    if (waitpid(child, &status, 0) != child || !good)
        give_up("a measurement");
}
