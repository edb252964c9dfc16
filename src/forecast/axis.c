#include "forecast/axis.h"

#include <assert.h>
#include <string.h>

enum { BUCKET_LIMIT = 4096 };

static double shortest_step(const double *unix_s, size_t count) {
    double shortest = unix_s[count - 1] - unix_s[0];
    for (size_t i = 1; i < count; i++) {
        double step = unix_s[i] - unix_s[i - 1];
        assert(step > 0.0);
        if (step < shortest)
            shortest = step;
    }
    return shortest;
}

struct axis axis_make(const double *unix_s, size_t count, struct arena *arena) {
    assert(count >= 1);
    struct axis axis = {.count = count, .unix_s = unix_s};
    double span = unix_s[count - 1] - unix_s[0];
    if (count < 2)
        return axis;
    axis.bucket_s = shortest_step(unix_s, count);
    if (span / axis.bucket_s > BUCKET_LIMIT)
        axis.bucket_s = span / BUCKET_LIMIT;
    axis.bucket_count = (size_t)(span / axis.bucket_s) + 1;
    uint32_t *bucket = arena_alloc(arena, axis.bucket_count, sizeof *bucket);
    uint32_t step = 0;
    for (size_t i = 0; i < axis.bucket_count; i++) {
        double start = unix_s[0] + axis.bucket_s * (double)i;
        while (step + 1 < count && unix_s[step + 1] <= start)
            step++;
        bucket[i] = step;
    }
    axis.bucket = bucket;
    return axis;
}

enum axis_place axis_find(const struct axis *axis, double unix_s, size_t *step,
                          double *part) {
    double from_first = unix_s - axis->unix_s[0];
    double past_last = unix_s - axis->unix_s[axis->count - 1];
    *part = 0.0;
    if (!(from_first >= -AXIS_SLACK_S))
        return AXIS_BEFORE;
    if (past_last > AXIS_SLACK_S)
        return AXIS_AFTER;
    *step = past_last >= 0.0 ? axis->count - 1 : 0;
    if (past_last >= 0.0 || from_first <= 0.0)
        return AXIS_BETWEEN;
    size_t bucket = (size_t)(from_first / axis->bucket_s);
    if (bucket >= axis->bucket_count)
        bucket = axis->bucket_count - 1;
    size_t at = axis->bucket[bucket];
    /* rounding may have put the moment one bucket too far */
    while (at > 0 && axis->unix_s[at] > unix_s)
        at--;
    while (axis->unix_s[at + 1] <= unix_s)
        at++;
    *step = at;
    *part =
        (unix_s - axis->unix_s[at]) / (axis->unix_s[at + 1] - axis->unix_s[at]);
    return AXIS_BETWEEN;
}

bool axis_same(const struct axis *a, const struct axis *b) {
    return a->count == b->count &&
           memcmp(a->unix_s, b->unix_s, a->count * sizeof *a->unix_s) == 0;
}
