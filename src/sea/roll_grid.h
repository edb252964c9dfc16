/* How the table of sea/roll_table.h lies in memory: for those two files that
 * make it and look into it. */
#ifndef SEA_ROLL_GRID_H
#define SEA_ROLL_GRID_H

#include "sea/roll_table.h"
#include <math.h>
#include <stddef.h>

/* Periods from ROLL_SHORTEST_S to the longest, in even steps of their
 * logarithm up to ROLL_FINE_PERIODS, in twice such steps beyond. */
enum { ROLL_FINE_PERIODS = 44, ROLL_COARSE_PERIODS = 20 };
enum {
    ROLL_PERIODS = ROLL_FINE_PERIODS + ROLL_COARSE_PERIODS,
    ROLL_PERIOD_STEPS = ROLL_FINE_PERIODS - 1 + 2 * ROLL_COARSE_PERIODS
};

/* Where to begin to look for a period: bins of it. */
enum { ROLL_BINS_PER_S = 8, ROLL_BINS = 30 * ROLL_BINS_PER_S + 1 };

/* The height that the table is for. */
#define ROLL_TABLE_HEIGHT_M 4.0

/* One period and kind, [speed][cosine][damping]: the fourth root of
 * roll_mean_sine2() / variance. Straight lines between: evenly in speed, in
 * roll_axis_of() and in the fourth root of damping. */
struct roll_grid {
    const float *answer;
    double per_mps, per_axis;
    ptrdiff_t speeds, cosines;
};

struct roll_table {
    struct roller of;                      /* made of this one */
    double damping_root, per_damping_root; /* the fourth */
    ptrdiff_t dampings;
    double spread[SPECTRUM_KINDS]; /* spectrum_spread_cos2() */
    double period_s[ROLL_PERIODS];
    double per_period_s[ROLL_PERIODS - 1]; /* 1 over the step to the next */
    unsigned char bin[ROLL_BINS]; /* the last period not above its begin */
    struct roll_grid grid[SPECTRUM_KINDS][ROLL_PERIODS];
    size_t bytes;
};

/* The axis of relative directions, 0 to 2: near head and following sea, where
 * the answer changes fast, it is the sine of half the angle. */
static inline double roll_axis_of(double cosine) {
    double rest = 1.0 - fabs(cosine);
    double root = sqrt(rest > 0.0 ? rest : 0.0); /* fmax() would be a call */
    return 1.0 + copysign(1.0 - root, cosine);
}

/* Mean of sin^2 of the relative direction, by the cosine of the main one. */
static inline double roll_mean_sine2(double spread, double cosine) {
    return 0.5 * (1.0 - spread * (2.0 * cosine * cosine - 1.0));
}

#endif
