/* Fits the sails' part of the roll to what was seen: least squares in RMS
 * roll, within the ranges of the boat file's keys. Only what the observations
 * tell is touched. roll_rms_deg() is asked as it is and need not be smooth. */
#ifndef BOAT_ROLL_FIT_H
#define BOAT_ROLL_FIT_H

#include "sea/roll.h"
#include <stdbool.h>
#include <stddef.h>

enum sail_part { SAIL_REACH, SAIL_RUN_LOOSE, SAIL_RUN_SPAR, SAIL_PARTS };

/* The key of the boat file, in [boat], that holds a part. */
const char *sail_part_key(enum sail_part part);

double sail_part_value(const struct roller *roller, enum sail_part part);

/* One observation: the sea, what the boat was doing, and the roll seen. */
struct roll_case {
    struct sea sea;
    struct roll_course course;
    double seen_rms_deg;
};

/* Parts are told to so many decimals, and all rolls "after" are worked out
 * with what is told. */
enum { ROLL_FIT_DECIMALS = 4 };

/* Less change in RMS roll than this is not seen by any eye: half a degree of
 * "at times" would already be hard (common practice, no source). */
#define ROLL_FIT_SEEN_DEG 0.05

/* By how much waves are easily misjudged, "a fifth" in the report (common
 * practice, no source). */
#define ROLL_FIT_WAVE_FRAC 0.2

struct roll_fit_case {
    /* The part that it tells: the one that changes its roll most, raised alone
     * from no sails at all. SAIL_PARTS: none changes it by ROLL_FIT_SEEN_DEG */
    enum sail_part tells;
    double before_deg, after_deg; /* RMS, by the boat file and by the fit */
    double least_deg, most_deg;   /* RMS over the whole range of that part,
                                     the others as fitted */
};

struct roll_fit {
    bool told[SAIL_PARTS];
    struct roller fitted; /* equal to the one given where nothing is told */
    /* The same, had all waves been lower or higher by ROLL_FIT_WAVE_FRAC. */
    struct roller in_lower, in_higher;
};

/* `each` has `count` places, one for each case. The order of the cases does not
 * matter. */
void roll_fit(struct roll_fit *fit, struct roll_fit_case *each,
              const struct roller *roller, const struct roll_case *cases,
              size_t count);

#endif
