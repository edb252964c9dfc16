/* A time axis: rising instants, and which two lie round a moment. */
#ifndef FORECAST_AXIS_H
#define FORECAST_AXIS_H

#include "base/arena.h"
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* An instant this near to a step is at it. */
#define AXIS_SLACK_S 1.0

struct axis {
    size_t count; /* >= 1 */
    const double *unix_s;
    double bucket_s; /* the axis in equal parts: where to start to look */
    size_t bucket_count;
    const uint32_t *bucket;
};

/* `unix_s` must rise and live as long as the axis. */
struct axis axis_make(const double *unix_s, size_t count, struct arena *arena);

enum axis_place { AXIS_BETWEEN, AXIS_BEFORE, AXIS_AFTER };

/* The step at or before `unix_s`, and how far to the next, [0, 1). At the last
 * step, `part` is 0. */
enum axis_place axis_find(const struct axis *axis, double unix_s, size_t *step,
                          double *part);

bool axis_same(const struct axis *a, const struct axis *b);

#endif
