/* Quantiles of a few values. */
#ifndef PLAN_QUANTILE_H
#define PLAN_QUANTILE_H

#include "base/figure.h"
#include <stddef.h>

/* The value below which one more of the kind would be with a chance of
 * `part`, above 0 and below 1: the k-th of n is that of k / (n + 1), straight
 * lines between (E. J. Gumbel, Statistics of Extremes, 1958, section 1.2.7,
 * from memory). Unknown where `part` lies beyond the first or the last: 10 %
 * needs 9 values. `sorted` rises. */
struct figure quantile(const double *sorted, size_t count, double part);

/* What a crew asks of some times, seconds since departure. */
struct quantiles {
    size_t count;
    double earliest_s, latest_s; /* 0 where there is none */
    struct figure tenth_s, middle_s, ninetieth_s;
};

/* From the 10 to the 90 % or, of fewer values, from the first to the last;
 * unknown of fewer than two. */
struct figure quantiles_spread_s(const struct quantiles *quantiles);

/* Sorts `values`. */
struct quantiles quantiles_of(double *values, size_t count);

#endif
