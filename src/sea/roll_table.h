/* The roll integral of sea/roll.h laid out for many courses: a table made once
 * for a boat, and the look-up in it, within 2 % of the integral in RMS roll at
 * the speeds that it was made for: tried in tests/property/roll_test.c for
 * natural periods of 1 to 12 s, dampings of 0.01 to 0.5, any damping by the
 * sails that a boat file may give, and speeds up to 7 m/s.
 *
 * Axes: cosine of the relative direction, boat speed, damping (which is how
 * deck state, TWA and apparent wind enter), peak period, kind of spectrum; a
 * sea of height 1. Where the axes end: a longer period than
 * ROLL_TABLE_LONGEST_S counts as that long in the hull's answer, though not in
 * the slope of the waves; a speed above the fastest that the table was made for
 * counts as that fast. */
#ifndef SEA_ROLL_TABLE_H
#define SEA_ROLL_TABLE_H

#include "base/arena.h"
#include "sea/roll.h"

#define ROLL_TABLE_LONGEST_S 30.0

struct roll_table;

/* For speeds through the water up to `fastest_mps` > 0. Its fields but `table`
 * make the table; where they change it has to be made anew (until then the
 * look-up is right, but slow: it sees that the table is of another boat, and
 * takes the integral). The result lives in the arena that you pass; some
 * fifteen milliseconds, and more for a boat that rolls slowly, sails fast and
 * is hardly damped. */
const struct roll_table *roll_table_make(const struct roller *roller,
                                         double fastest_mps,
                                         struct arena *arena);

size_t roll_table_bytes(const struct roll_table *table);

/* roll_rms_deg() in two halves, for many courses in one sea: what does not
 * depend on the course is worked out once. By the table of the roller; by the
 * integral where it has none. */
struct roll_sea {
    int count;
    const struct roll_table *table; /* NULL: by the integral */
    struct roll_wave {
        double towards_sine, towards_cosine;
        double height2;               /* in heights of the table */
        double spread;                /* spectrum_spread_cos2() */
        const struct roll_grid *grid; /* of the period below; next: above */
        float part;                   /* of the way to it */
        enum spectrum_kind kind;
        double height_m, period_s;
    } wave[SEA_SYSTEMS];
};

struct roll_sea roll_sea_of(const struct roller *roller, const struct sea *sea);
double roll_rms_in_sea_deg(const struct roller *roller,
                           const struct roll_sea *sea,
                           const struct roll_course *course);
/* For a heading whose sine and cosine are known; course->heading_deg does not
 * count. */
double roll_rms_heading_deg(const struct roller *roller,
                            const struct roll_sea *sea,
                            const struct roll_course *course, double sine,
                            double cosine);

#endif
