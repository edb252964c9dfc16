/* Clocks, and work done in processes of its own, so that the memory of one
 * measurement is not that of the next. */
#ifndef BENCH_MEASURE_H
#define BENCH_MEASURE_H

#include <stdbool.h>
#include <stddef.h>

/* Every measurement is the best of so many, fewer where they take long: no
 * more are begun after so much time. */
enum { MEASURE_ROUNDS = 5 };
#define MEASURE_ENOUGH_S 3.0

double seconds_now(void);

/* Processor time of this process, all its threads. */
double cpu_seconds_now(void);

/* What a program took, with all that it started. */
struct taken {
    double wall_s, cpu_s;
    double peak_mb; /* resident, of its largest process */
};

/* Runs a program, `words` ended by NULL, the path first, its standard output
 * thrown away. The best times and the greatest memory. Ends the bench where
 * its status is not 0. */
struct taken measure_program(const char *const *words);

/* Runs work(context, result) in a child, which alone keeps what it loads, and
 * brings back `size` bytes of `result`. Ends the bench where that fails. */
void measure_apart(void (*work)(const void *context, void *result),
                   const void *context, void *result, size_t size);

/* For loops over rounds that began at `start_s`. */
bool measure_again(int rounds_done, double start_s);

#endif
