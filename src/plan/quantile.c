#include "plan/quantile.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>

/* The place of a quantile is off by no more than rounding. */
static const double SAME_PLACE = 1e-9;

struct figure quantile(const double *sorted, size_t count, double part) {
    double last = (double)count;
    double place = part * (last + 1.0);
    assert(part > 0.0 && part < 1.0);
    if (place < 1.0 - SAME_PLACE || place > last + SAME_PLACE)
        return figure_unknown();
    place = fmin(fmax(place, 1.0), last);
    size_t below = (size_t)place;
    if (below == count)
        return figure_of(sorted[count - 1]);
    double between = place - (double)below;
    return figure_of(sorted[below - 1] +
                     between * (sorted[below] - sorted[below - 1]));
}

static int by_value(const void *left, const void *right) {
    double a = *(const double *)left, b = *(const double *)right;
    return (a > b) - (a < b);
}

struct quantiles quantiles_of(double *values, size_t count) {
    if (count == 0)
        return (struct quantiles){.count = 0};
    qsort(values, count, sizeof *values, by_value);
    return (struct quantiles){.count = count,
                              .earliest_s = values[0],
                              .latest_s = values[count - 1],
                              .tenth_s = quantile(values, count, 0.1),
                              .middle_s = quantile(values, count, 0.5),
                              .ninetieth_s = quantile(values, count, 0.9)};
}

struct figure quantiles_spread_s(const struct quantiles *quantiles) {
    if (quantiles->count < 2)
        return figure_unknown();
    if (quantiles->tenth_s.known && quantiles->ninetieth_s.known)
        return figure_of(quantiles->ninetieth_s.value -
                         quantiles->tenth_s.value);
    return figure_of(quantiles->latest_s - quantiles->earliest_s);
}
