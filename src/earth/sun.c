#include "earth/sun.h"

#include "earth/angle.h"
#include "earth/sky.h"

#include <math.h>

/* Apparent longitude: Meeus, Astronomical Algorithms, 2nd ed., ch. 25, pp.
 * 163-165. */
static double longitude_deg(const struct sky *sky) {
    double t = sky->centuries;
    double mean_deg = 280.46646 + t * (36000.76983 + t * 0.0003032);
    double anomaly_deg = 357.52911 + t * (35999.05029 - t * 0.0001537);
    double s1, s2, s3, unused;
    sincos_deg(anomaly_deg, &s1, &unused);
    sincos_deg(2.0 * anomaly_deg, &s2, &unused);
    sincos_deg(3.0 * anomaly_deg, &s3, &unused);
    double centre_deg = (1.914602 - t * (0.004817 + t * 0.000014)) * s1 +
                        (0.019993 - t * 0.000101) * s2 + 0.000289 * s3;
    return mean_deg + centre_deg - 0.00569 + sky->nutation_deg;
}

struct sun sun_at(double unix_s) {
    struct sky sky = sky_at(unix_s);
    double lon_sine, lon_cosine, tilt_sine, tilt_cosine;
    sincos_deg(longitude_deg(&sky), &lon_sine, &lon_cosine);
    sincos_deg(sky.obliquity_deg, &tilt_sine, &tilt_cosine);
    double right_ascension_rad = atan2(tilt_cosine * lon_sine, lon_cosine);
    return (struct sun){
        .declination_deg = asin(tilt_sine * lon_sine) / RADIANS_PER_DEGREE,
        .greenwich_hour_angle_deg = angle_wrap_360(
            sky.sidereal_deg - right_ascension_rad / RADIANS_PER_DEGREE)};
}

static double altitude_sine(struct sun sun, struct position position) {
    return sky_altitude_sine(sun.declination_deg, sun.greenwich_hour_angle_deg,
                             position);
}

double sun_altitude_deg(struct sun sun, struct position position) {
    return sky_arc_deg(altitude_sine(sun, position));
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
