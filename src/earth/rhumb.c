#include "earth/rhumb.h"

#include "earth/angle.h"
#include "earth/ellipsoid.h"
#include "earth/mercator.h"

#include <assert.h>
#include <math.h>

#define LATITUDE_STOP_DEG 89.99
#define DEGREES_PER_RADIAN (180.0 / PI)

/* Below this difference of latitude the means are integrated instead of taken
 * from differences of large numbers; at 89 degrees the integral is then good
 * to 1e-11. */
#define NARROW_RAD 1e-3

/* The strip between two latitudes. */
struct strip {
    double arc_m_per_rad;     /* mean meridian arc per radian of latitude */
    double isometric_per_rad; /* mean isometric latitude, the same way */
};

/* Third flattening, in whose powers the arc's series are written. */
#define N (WGS84_FLATTENING / (2.0 - WGS84_FLATTENING))
#define N2 (N * N)
#define N3 (N2 * N)
#define N4 (N2 * N2)
#define N5 (N4 * N)
#define ARC_M_PER_RAD                                                          \
    (WGS84_EQUATOR_M / (1.0 + N) * (1.0 + N2 / 4.0 + N4 / 64.0))

/* Radius of curvature in the meridian at the equator. */
#define EQUATOR_MERIDIAN_M (WGS84_EQUATOR_M * (1.0 - WGS84_ECCENTRICITY2))

enum { TERMS = 5 };

/* angle + c[0] sin 2a + c[1] sin 4a + ... by Clenshaw's recurrence */
static double with_series(double angle_rad, const double c[TERMS]) {
    double twice_cosine = 2.0 * cos(2.0 * angle_rad);
    double sum = 0.0;
    double before = 0.0;
    for (int k = TERMS - 1; k >= 0; k--) {
        double next = c[k] + twice_cosine * sum - before;
        before = sum;
        sum = next;
    }
    return angle_rad + sum * sin(2.0 * angle_rad);
}

/* Meridian arc from the equator: the series of Helmert (1880) in n, here to
 * the fifth power. What is left out is below 1e-9 m. */
static double arc_from_latitude(double lat_rad) {
    static const double c[TERMS] = {-3.0 / 2.0 * N + 9.0 / 16.0 * N3 -
                                        3.0 / 32.0 * N5,
                                    15.0 / 16.0 * N2 - 15.0 / 32.0 * N4,
                                    -35.0 / 48.0 * N3 + 105.0 / 256.0 * N5,
                                    315.0 / 512.0 * N4, -693.0 / 1280.0 * N5};
    return ARC_M_PER_RAD * with_series(lat_rad, c);
}

/* The same turned round (Snyder 1987, Map Projections, USGS 1395, equation
 * 3-26, one power further). */
static double latitude_from_arc(double arc_m) {
    static const double c[TERMS] = {3.0 / 2.0 * N - 27.0 / 32.0 * N3 +
                                        269.0 / 512.0 * N5,
                                    21.0 / 16.0 * N2 - 55.0 / 32.0 * N4,
                                    151.0 / 96.0 * N3 - 417.0 / 128.0 * N5,
                                    1097.0 / 512.0 * N4, 8011.0 / 2560.0 * N5};
    return with_series(arc_m / ARC_M_PER_RAD, c);
}

/* Radius of curvature in the meridian, and the slope of the isometric
 * latitude, at one latitude. */
static struct strip strip_at(double lat_rad) {
    double s = sin(lat_rad);
    double w2 = 1.0 - WGS84_ECCENTRICITY2 * s * s;
    double rest = 1.0 - WGS84_ECCENTRICITY2;
    return (struct strip){.arc_m_per_rad =
                              WGS84_EQUATOR_M * rest / (w2 * sqrt(w2)),
                          .isometric_per_rad = rest / (w2 * cos(lat_rad))};
}

/* Means over a narrow strip by three points of Gauss. */
static struct strip strip_integrated(double a_rad, double b_rad) {
    double middle_rad = 0.5 * (a_rad + b_rad);
    double reach_rad = 0.5 * (b_rad - a_rad) * sqrt(0.6);
    struct strip low = strip_at(middle_rad - reach_rad);
    struct strip middle = strip_at(middle_rad);
    struct strip high = strip_at(middle_rad + reach_rad);
    return (struct strip){
        (5.0 * (low.arc_m_per_rad + high.arc_m_per_rad) +
         8.0 * middle.arc_m_per_rad) /
            18.0,
        (5.0 * (low.isometric_per_rad + high.isometric_per_rad) +
         8.0 * middle.isometric_per_rad) /
            18.0};
}

static struct strip strip_between(double a_rad, double b_rad) {
    double wide_rad = b_rad - a_rad;
    if (fabs(wide_rad) < NARROW_RAD)
        return strip_integrated(a_rad, b_rad);
    return (struct strip){
        (arc_from_latitude(b_rad) - arc_from_latitude(a_rad)) / wide_rad,
        (isometric_latitude(b_rad) - isometric_latitude(a_rad)) / wide_rad};
}

/* No isometric latitude at a pole: the last millimetres stay out. */
static double latitude_rad(double lat_deg) {
    assert(fabs(lat_deg) <= 90.0);
    double limit_deg = 90.0 - 1e-10;
    return fmin(fmax(lat_deg, -limit_deg), limit_deg) * RADIANS_PER_DEGREE;
}

struct rhumb rhumb_between(struct position from, struct position to) {
    double from_rad = latitude_rad(from.lat_deg);
    double to_rad = latitude_rad(to.lat_deg);
    double east_rad = angle_turn(from.lon_deg, to.lon_deg) * RADIANS_PER_DEGREE;
    struct strip strip = strip_between(from_rad, to_rad);
    double north = strip.isometric_per_rad * (to_rad - from_rad);
    /* metres per unit of isometric latitude, and of longitude in radians */
    double m_per_unit = strip.arc_m_per_rad / strip.isometric_per_rad;
    double course_rad = atan2(east_rad, north + 0.0);
    return (struct rhumb){
        .distance_m = m_per_unit * sqrt(east_rad * east_rad + north * north),
        .course_deg = angle_wrap_360(course_rad / RADIANS_PER_DEGREE)};
}

struct position rhumb_ahead(struct position from, double course_deg,
                            double distance_m) {
    double sine, cosine;
    sincos_deg(course_deg, &sine, &cosine);
    double from_rad = latitude_rad(from.lat_deg);
    double from_arc_m = arc_from_latitude(from_rad);
    double to_rad = latitude_from_arc(from_arc_m + distance_m * cosine);
    double stop_rad = LATITUDE_STOP_DEG * RADIANS_PER_DEGREE;
    if (fabs(to_rad) > stop_rad) {
        to_rad = copysign(stop_rad, to_rad);
        double sailed_m = (arc_from_latitude(to_rad) - from_arc_m) / cosine;
        distance_m = fmin(distance_m, fmax(sailed_m, 0.0));
    }
    struct strip strip = strip_between(from_rad, to_rad);
    double east_rad =
        distance_m * sine * strip.isometric_per_rad / strip.arc_m_per_rad;
    double east_deg = east_rad / RADIANS_PER_DEGREE;
    return (struct position){.lat_deg = to_rad / RADIANS_PER_DEGREE,
                             .lon_deg =
                                 angle_wrap_longitude(from.lon_deg + east_deg)};
}

/* The search comes here many million times: one division, one root, and no
 * call but for two pairs of sine and cosine. */
struct position rhumb_step(struct position from, double course_deg,
                           double distance_m) {
    double east_m, north_m, s, c;
    sincos_deg(course_deg, &east_m, &north_m);
    north_m *= distance_m;
    east_m *= distance_m;
    /* The middle latitude by the mean radius of the meridian; what that is
     * wrong by is put right to first order below. */
    double guess_deg = north_m * (DEGREES_PER_RADIAN / ARC_M_PER_RAD);
    sincos_deg(from.lat_deg + 0.5 * guess_deg, &s, &c);
    double w2 = 1.0 - WGS84_ECCENTRICITY2 * s * s;
    double w = sqrt(w2);
    double north_deg =
        north_m * w2 * w * (DEGREES_PER_RADIAN / EQUATOR_MERIDIAN_M);
    c -= s * (0.5 * RADIANS_PER_DEGREE) * (north_deg - guess_deg);
    double secant = 1.0 / c;
    /* mean of the secant over the strip, from its second derivative */
    double bend = north_deg * north_deg * (2.0 * secant * secant - 1.0) *
                  (RADIANS_PER_DEGREE * RADIANS_PER_DEGREE / 24.0);
    double east_deg = east_m * w * secant *
                      (DEGREES_PER_RADIAN / WGS84_EQUATOR_M) * (1.0 + bend);
    double lat_deg = from.lat_deg + north_deg;
    double lon_deg = from.lon_deg + east_deg;
    if (fabs(lat_deg) > LATITUDE_STOP_DEG)
        lat_deg = copysign(LATITUDE_STOP_DEG, lat_deg);
    if (lon_deg < -180.0 || lon_deg >= 180.0)
        lon_deg = angle_wrap_longitude(lon_deg);
    return (struct position){.lat_deg = lat_deg, .lon_deg = lon_deg};
}
