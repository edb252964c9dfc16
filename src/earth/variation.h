/* Variation of the compass: the angle from true to magnetic north, by the
 * World Magnetic Model 2025. The model's own error is 0.5 degree or less where
 * boats sail, growing towards the magnetic poles (its authors' report; from
 * memory); iron below the sea may add as much. The ship's deviation is not in
 * it.
 */
#ifndef EARTH_VARIATION_H
#define EARTH_VARIATION_H

#include "base/figure.h"
#include "base/instant.h"
#include "earth/position.h"
#include <stdbool.h>

/* The years that the model holds for: from the first of January of the one up
 * to that of the other. */
enum { VARIATION_FIRST_YEAR = 2025, VARIATION_END_YEAR = 2030 };

bool variation_covers(struct instant at);

/* At the surface of the ellipsoid, degrees (-180, 180], east positive. Unknown
 * outside the model's years, and round the magnetic poles where the horizontal
 * field is below 2000 nT: no compass can be steered by there (the model's own
 * blackout zone). At a geographic pole, where all directions are south or
 * north, it is told from the meridian of `position`. */
struct figure variation_at(struct position position, struct instant at);

/* A course or heading by a compass without deviation, [0, 360). */
double variation_magnetic(double true_deg, double variation_deg);

/* The field in the local north, east and down. `height_m` above the
 * ellipsoid; the year with its fraction, in the model's years. */
struct magnetic_field {
    double north_nt, east_nt, down_nt;
};
struct magnetic_field variation_field(struct position position, double height_m,
                                      double year);

#endif
