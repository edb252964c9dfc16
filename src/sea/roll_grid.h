/* How the table of sea/roll_table.h lies in memory: for those two files that
 * make it and look into it. */
#ifndef SEA_ROLL_GRID_H
#define SEA_ROLL_GRID_H

#include "sea/roll_table.h"
#include <math.h>
#include <stddef.h>

/* Periods from ROLL_SHORTEST_S to the longest: on even steps of their
 * logarithm, on every second of them about her own period, on fewer away from
 * it. */
enum { ROLL_PERIOD_STEPS = 273, ROLL_MOST_PERIODS = 128 };

/* Where to begin to look for a period: bins of it. */
enum { ROLL_BINS_PER_S = 8, ROLL_BINS = 30 * ROLL_BINS_PER_S + 1 };

/* The height that the table is for. */
#define ROLL_TABLE_HEIGHT_M 4.0

/* One period and kind, [speed][cosine][damping]: the fourth root of
 * roll_mean_sine2() / variance. Straight lines between: evenly in
 * roll_speed_axis_of(), in roll_axis_of() and in the fourth root of damping. */
struct roll_grid {
    const float *answer;
    double per_speed_axis, per_axis;
    ptrdiff_t speeds, cosines;
};

struct roll_table {
    struct roller of;                      /* made of this one */
    double damping_root, per_damping_root; /* the fourth */
    ptrdiff_t dampings;
    double critical_mps, per_width, stretch_mps; /* roll_speed_axis_of() */
    double speed_axis_begin;                     /* at rest */
    double spread[SPECTRUM_KINDS];               /* spectrum_spread_cos2() */
    int periods;
    int steps[ROLL_MOST_PERIODS]; /* from the shortest to each */
    double period_s[ROLL_MOST_PERIODS];
    double
        per_period_s[ROLL_MOST_PERIODS - 1]; /* 1 over the step to the next */
    unsigned char bin[ROLL_BINS]; /* the last period not above its begin */
    struct roll_grid grid[SPECTRUM_KINDS][ROLL_MOST_PERIODS];
    size_t bytes;
};

static inline double roll_period_step(void) {
    return log(ROLL_TABLE_LONGEST_S / ROLL_SHORTEST_S) / ROLL_PERIOD_STEPS;
}

/* The axis of relative directions, 0 to 2: near head and following sea, where
 * the answer changes fast, it is the sine of half the angle. */
static inline double roll_axis_of(double cosine) {
    double rest = 1.0 - fabs(cosine);
    double root = sqrt(rest > 0.0 ? rest : 0.0); /* fmax() would be a call */
    return 1.0 + copysign(1.0 - root, cosine);
}

/* The axis of speeds, from 0 on. Running with the waves at g T / (8 pi), T her
 * own period, she meets none of them faster than in that period, and many
 * nearly so: the answer peaks there, as sharply as she is damped little, and
 * the axis is stretched. */
static inline double roll_speed_axis_of(const struct roll_table *table,
                                        double speed_mps) {
    double off = (speed_mps - table->critical_mps) * table->per_width;
    return speed_mps + table->stretch_mps * off / (1.0 + fabs(off)) -
           table->speed_axis_begin;
}

/* Mean of sin^2 of the relative direction, by the cosine of the main one. */
static inline double roll_mean_sine2(double spread, double cosine) {
    return 0.5 * (1.0 - spread * (2.0 * cosine * cosine - 1.0));
}

#endif
