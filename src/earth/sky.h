/* What the places of sun and moon share: the ecliptic, how the earth stands to
 * it and how far she has turned. Formulas of Meeus, Astronomical Algorithms,
 * 2nd ed.; nutation by its greatest term alone, which is wrong by 0.0006
 * degree at most (calculated from the sizes of the terms left out, table 22.A).
 */
#ifndef EARTH_SKY_H
#define EARTH_SKY_H

#include "earth/position.h"

struct sky {
    double centuries;     /* dynamical time since 2000-01-01 12:00 */
    double nutation_deg;  /* in longitude */
    double obliquity_deg; /* with nutation */
    double sidereal_deg;  /* apparent, at Greenwich, not wrapped */
};

struct sky sky_at(double unix_s);

/* Sine of the geocentric altitude of a body, -1 to 1 but for rounding. */
double sky_altitude_sine(double declination_deg,
                         double greenwich_hour_angle_deg,
                         struct position position);

/* Its arc, [-90, 90]; rounding may carry the sine a little past 1. */
double sky_arc_deg(double sine);

#endif
