/* A polar: speed through the water for true wind angle and speed, both
 * relative to the water. The file is a delimited table in degrees and knots
 * (docs/files.md); inside all is SI.
 *
 * Bilinear, exact at the nodes, the same on both sides. Below the lowest wind
 * column straight to zero at no wind; above the highest one held, and flagged.
 * Below the first angle row there is no speed; above the last row (under 180)
 * it is held. */
#ifndef BOAT_POLAR_H
#define BOAT_POLAR_H

#include "base/arena.h"
#include "base/error.h"
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum { POLAR_PARTS = 256 };

/* An axis in even parts: the node at or below the start of each, where to start
 * to look. Zeroed, it starts at the first node everywhere. */
struct polar_index {
    double parts_per_unit;
    uint16_t node[POLAR_PARTS];
};

struct polar {
    size_t angles, winds; /* both >= 2 */
    double *angle_deg;    /* [angles] rising, 0..180 */
    double *wind_mps;     /* [winds] rising, > 0 */
    double *speed_mps;    /* [angles * winds], row by angle */
    struct polar_index angle_index, wind_index;
};

/* Limits on a file, tested before memory is asked for. */
enum { POLAR_FILE_BYTES = 1 << 20, POLAR_ANGLES = 361, POLAR_WINDS = 200 };

/* Refuses, with line and column: a gap, unlike rows, an axis that is not
 * strictly rising (a wholly falling angle axis is turned round), one row, one
 * column, an angle outside 0..180, a wind above 100 kn, a speed below 0 or
 * above 60 kn, "1.234,5", both decimal marks in one file, a unit other than
 * knots or degrees in the first row. A first column of no wind is dropped
 * where all its speeds are 0, and refused else. */
bool polar_load(struct polar *polar, const char *path, struct arena *arena,
                struct error *error);

/* Makes both indexes; polar_load() does. Without, a look takes longer. */
void polar_make_index(struct polar *polar);

/* `twa_deg` in (-180, 180], its sign does not matter; `tws_mps` >= 0. */
double polar_speed(const struct polar *polar, double twa_deg, double tws_mps);

/* True if the wind is above the last column, so that speed is held. */
bool polar_is_beyond(const struct polar *polar, double tws_mps);

/* The greatest speed anywhere in the table. */
double polar_top_speed(const struct polar *polar);

/* Best speed made good straight down the wind, and the angle for it (90..180).
 * Angles are searched in steps of 0.1 degree; of equal ones the widest. */
double polar_best_downwind(const struct polar *polar, double tws_mps,
                           double *twa_deg);

#endif
