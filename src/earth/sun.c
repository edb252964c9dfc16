#include "earth/sun.h"

#include "earth/angle.h"

#include <math.h>

#define J2000_UNIX_S 946728000.0 /* 2000-01-01 12:00 UTC, JD 2451545.0 */
#define DAY_S 86400.0
#define CENTURY_DAYS 36525.0
/* Dynamical time minus UTC, 1990 to 2050 to within some ten seconds, in which
 * the sun moves 0.0001 degree along its path. */
#define DYNAMICAL_MINUS_UTC_S 69.0

/* Along the ecliptic, and what turns it into the sky of the earth. */
struct ecliptic_sun {
    double longitude_deg; /* apparent */
    double obliquity_deg; /* with nutation */
    double nutation_deg;  /* in longitude, its greatest term */
};

/* Meeus, Astronomical Algorithms, 2nd ed., ch. 25, pp. 163-165. */
static struct ecliptic_sun ecliptic_at(double t) {
    double mean_deg = 280.46646 + t * (36000.76983 + t * 0.0003032);
    double anomaly_deg = 357.52911 + t * (35999.05029 - t * 0.0001537);
    double s1, c1, s2, s3, unused;
    sincos_deg(anomaly_deg, &s1, &c1);
    sincos_deg(2.0 * anomaly_deg, &s2, &unused);
    sincos_deg(3.0 * anomaly_deg, &s3, &unused);
    double centre_deg = (1.914602 - t * (0.004817 + t * 0.000014)) * s1 +
                        (0.019993 - t * 0.000101) * s2 + 0.000289 * s3;
    double node_sine, node_cosine;
    sincos_deg(125.04 - 1934.136 * t, &node_sine, &node_cosine);
    double nutation_deg = -0.00478 * node_sine;
    /* 22.2 */
    double mean_obliquity_deg =
        23.0 + (26.0 + (21.448 - t * (46.8150 + t * (0.00059 - t * 0.001813))) /
                           60.0) /
                   60.0;
    return (struct ecliptic_sun){
        .longitude_deg = mean_deg + centre_deg - 0.00569 + nutation_deg,
        .obliquity_deg = mean_obliquity_deg + 0.00256 * node_cosine,
        .nutation_deg = nutation_deg};
}

/* Meeus 12.4, mean sidereal time at Greenwich. */
static double sidereal_deg(double days) {
    double t = days / CENTURY_DAYS;
    return 280.46061837 + 360.98564736629 * days +
           t * t * (0.000387933 - t / 38710000.0);
}

struct sun sun_at(double unix_s) {
    double days = (unix_s - J2000_UNIX_S) / DAY_S;
    double dynamical_days = days + DYNAMICAL_MINUS_UTC_S / DAY_S;
    struct ecliptic_sun sun = ecliptic_at(dynamical_days / CENTURY_DAYS);
    double lon_sine, lon_cosine, tilt_sine, tilt_cosine;
    sincos_deg(sun.longitude_deg, &lon_sine, &lon_cosine);
    sincos_deg(sun.obliquity_deg, &tilt_sine, &tilt_cosine);
    double right_ascension_rad = atan2(tilt_cosine * lon_sine, lon_cosine);
    double apparent_sidereal_deg =
        sidereal_deg(days) + sun.nutation_deg * tilt_cosine;
    return (struct sun){
        .declination_deg = asin(tilt_sine * lon_sine) / RADIANS_PER_DEGREE,
        .greenwich_hour_angle_deg = angle_wrap_360(
            apparent_sidereal_deg - right_ascension_rad / RADIANS_PER_DEGREE)};
}

static double altitude_sine(struct sun sun, struct position position) {
    double lat_sine, lat_cosine, dec_sine, dec_cosine, sine, hour_cosine;
    sincos_deg(position.lat_deg, &lat_sine, &lat_cosine);
    sincos_deg(sun.declination_deg, &dec_sine, &dec_cosine);
    sincos_deg(sun.greenwich_hour_angle_deg + position.lon_deg, &sine,
               &hour_cosine);
    return lat_sine * dec_sine + lat_cosine * dec_cosine * hour_cosine;
}

double sun_altitude_deg(struct sun sun, struct position position) {
    /* rounding may carry it a little past 1, where asin() has no answer */
    double sine = fmin(fmax(altitude_sine(sun, position), -1.0), 1.0);
    return asin(sine) / RADIANS_PER_DEGREE;
}

/* Sines of SUN_RISE_DEG and SUN_CIVIL_DEG (calculated): light is asked for at
 * every step of a search, the altitude itself is not. */
static const double RISE_SINE = -0.014543315936696236;
static const double CIVIL_SINE = -0.10452846326765347;

enum light sun_light(struct sun sun, struct position position) {
    double sine = altitude_sine(sun, position);
    if (sine > RISE_SINE)
        return LIGHT_DAY;
    return sine < CIVIL_SINE ? LIGHT_NIGHT : LIGHT_TWILIGHT;
}
