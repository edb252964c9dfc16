#include "earth/mercator.h"

#include "earth/angle.h"
#include "earth/ellipsoid.h"

#include <math.h>

static const double LATITUDE_STOP_DEG = 89.99;

/* Rounds of the inverse: each gains more than two digits. */
enum { INVERSE_ROUNDS = 8 };

/* Snyder's equation 3-7 in another dress. */
double isometric_latitude(double lat_rad) {
    double e = sqrt(WGS84_ECCENTRICITY2);
    return asinh(tan(lat_rad)) - e * atanh(e * sin(lat_rad));
}

struct mercator mercator_of(struct position position) {
    double lat_deg =
        fmin(fmax(position.lat_deg, -LATITUDE_STOP_DEG), LATITUDE_STOP_DEG);
    return (struct mercator){
        .x = angle_wrap_longitude(position.lon_deg) * RADIANS_PER_DEGREE,
        .y = isometric_latitude(lat_deg * RADIANS_PER_DEGREE)};
}

struct mercator mercator_near(struct position position, struct mercator near) {
    struct mercator point = mercator_of(position);
    if (point.x - near.x > PI)
        point.x -= 2.0 * PI;
    else if (point.x - near.x < -PI)
        point.x += 2.0 * PI;
    return point;
}

struct position mercator_position(struct mercator point) {
    double e = sqrt(WGS84_ECCENTRICITY2);
    double lat_rad = atan(sinh(point.y));
    for (int i = 0; i < INVERSE_ROUNDS; i++)
        lat_rad = atan(sinh(point.y + e * atanh(e * sin(lat_rad))));
    return (struct position){
        .lat_deg = lat_rad / RADIANS_PER_DEGREE,
        .lon_deg = angle_wrap_longitude(point.x / RADIANS_PER_DEGREE)};
}

double mercator_scale_m(double lat_deg) {
    double s, c;
    sincos_deg(lat_deg, &s, &c);
    return WGS84_EQUATOR_M * c / sqrt(1.0 - WGS84_ECCENTRICITY2 * s * s);
}

/* From the conformal latitude, whose tangent is sinh(y), to the geodetic one:
 * Snyder 1987, Map Projections, USGS Professional Paper 1395, equation 3-5.
 * Two terms of it are good to 1e-7 of the scale. */
double mercator_scale_at_m(double y) {
    double e2 = WGS84_ECCENTRICITY2;
    double sine = tanh(y), cosine = 1.0 / cosh(y);
    double sine2 = 2.0 * sine * cosine, cosine2 = 1.0 - 2.0 * sine * sine;
    double turn = (e2 / 2.0 + 5.0 * e2 * e2 / 24.0) * sine2 +
                  7.0 * e2 * e2 / 48.0 * 2.0 * sine2 * cosine2;
    double s = sine + cosine * turn - 0.5 * sine * turn * turn;
    double c = cosine - sine * turn - 0.5 * cosine * turn * turn;
    return WGS84_EQUATOR_M * c / sqrt(1.0 - e2 * s * s);
}
