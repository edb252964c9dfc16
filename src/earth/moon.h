/* Where the moon stands and how much of her is lit: Meeus, Astronomical
 * Algorithms, 2nd ed., ch. 47 with its greater terms alone, and ch. 48. Against
 * the whole series in the years 2000 to 2049 the longitude is within 0.010
 * degree, the latitude within 0.007, the distance within 31 km; against an
 * ephemeris of another make declination is within 0.007 degree, hour angle
 * within 0.013, the lit fraction within 0.0002 (measured at 20,000 instants,
 * the last three at 2,000).
 */
#ifndef EARTH_MOON_H
#define EARTH_MOON_H

#include "earth/position.h"
#include "earth/sun.h"

/* The moon over the earth at one instant, seen from the earth's centre. */
struct moon {
    double longitude_deg; /* [0, 360), mean equinox of date, no nutation */
    double latitude_deg;
    double distance_m;
    double declination_deg;
    double greenwich_hour_angle_deg; /* [0, 360), west of Greenwich */
};

struct moon moon_at(double unix_s);

/* Altitude of her centre seen from the sea, parallax allowed for (on a sphere,
 * within 0.003 degree), without refraction, [-90, 90]. */
double moon_altitude_deg(struct moon moon, struct position position);

/* That altitude when her upper limb stands on the horizon, refracted by 34
 * minutes of arc: about -0.83. */
double moon_rise_deg(struct moon moon);

/* Illuminated fraction of the disk, 0 new to 1 full. */
double moon_lit_frac(struct moon moon, struct sun sun);

#endif
