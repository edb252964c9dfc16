/* The floor: what it takes to decode a forecast file at all. */
#ifndef BENCH_FLOOR_H
#define BENCH_FLOOR_H

#include <stddef.h>

struct floor_taken {
    double seconds, cpu_s; /* best of the rounds */
    size_t messages, values, bytes;
};

/* Every value of every message through the GRIB library, on one thread, and
 * nothing else, in a process of its own. */
struct floor_taken floor_measure(const char *path);

#endif
