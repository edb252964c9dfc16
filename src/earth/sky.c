#include "earth/sky.h"

#include "earth/angle.h"

#include <math.h>

#define J2000_UNIX_S 946728000.0 /* 2000-01-01 12:00 UTC, JD 2451545.0 */
#define DAY_S 86400.0
#define CENTURY_DAYS 36525.0
/* Dynamical time minus UTC, 1990 to 2050 to within some ten seconds, in which
 * the sun moves 0.0001 degree along its path, the moon 0.0015. */
#define DYNAMICAL_MINUS_UTC_S 69.0

/* Meeus 12.4, mean sidereal time at Greenwich. */
static double mean_sidereal_deg(double days) {
    double t = days / CENTURY_DAYS;
    return 280.46061837 + 360.98564736629 * days +
           t * t * (0.000387933 - t / 38710000.0);
}

/* Meeus 22.2 */
static double mean_obliquity_deg(double t) {
    double seconds = 21.448 - t * (46.8150 + t * (0.00059 - t * 0.001813));
    return 23.0 + (26.0 + seconds / 60.0) / 60.0;
}

struct sky sky_at(double unix_s) {
    double days = (unix_s - J2000_UNIX_S) / DAY_S;
    double dynamical_days = days + DYNAMICAL_MINUS_UTC_S / DAY_S;
    double t = dynamical_days / CENTURY_DAYS;
    /* Meeus ch. 25, p. 164 */
    double node_sine, node_cosine, unused, tilt_cosine;
    sincos_deg(125.04 - 1934.136 * t, &node_sine, &node_cosine);
    struct sky sky = {.centuries = t,
                      .nutation_deg = -0.00478 * node_sine,
                      .obliquity_deg =
                          mean_obliquity_deg(t) + 0.00256 * node_cosine};
    sincos_deg(sky.obliquity_deg, &unused, &tilt_cosine);
    sky.sidereal_deg = mean_sidereal_deg(days) + sky.nutation_deg * tilt_cosine;
    return sky;
}

double sky_altitude_sine(double declination_deg,
                         double greenwich_hour_angle_deg,
                         struct position position) {
    double lat_sine, lat_cosine, dec_sine, dec_cosine, sine, hour_cosine;
    sincos_deg(position.lat_deg, &lat_sine, &lat_cosine);
    sincos_deg(declination_deg, &dec_sine, &dec_cosine);
    sincos_deg(greenwich_hour_angle_deg + position.lon_deg, &sine,
               &hour_cosine);
    return lat_sine * dec_sine + lat_cosine * dec_cosine * hour_cosine;
}

double sky_arc_deg(double sine) {
    return asin(fmin(fmax(sine, -1.0), 1.0)) / RADIANS_PER_DEGREE;
}
