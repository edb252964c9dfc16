/* Where the sun stands: low-accuracy solar position after Meeus, Astronomical
 * Algorithms, 2nd ed., ch. 25 (0.01 degree), without refraction. */
#ifndef EARTH_SUN_H
#define EARTH_SUN_H

#include "earth/position.h"

#define SUN_CIVIL_DEG (-6.0)     /* end of civil twilight: night begins */
#define SUN_NAUTICAL_DEG (-12.0) /* end of nautical twilight: fully dark */
#define SUN_RISE_DEG (-0.8333)   /* upper limb on the horizon, refracted */

enum light { LIGHT_DAY, LIGHT_TWILIGHT, LIGHT_NIGHT };

/* The sun over the earth at one instant; the same for all places. */
struct sun {
    double declination_deg;
    double greenwich_hour_angle_deg; /* [0, 360), west of Greenwich */
};

struct sun sun_at(double unix_s);

/* Geometric altitude of the sun's centre, [-90, 90]. */
double sun_altitude_deg(struct sun sun, struct position position);

/* Day above SUN_RISE_DEG, night below SUN_CIVIL_DEG, twilight between. */
enum light sun_light(struct sun sun, struct position position);

#endif
