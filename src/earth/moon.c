#include "earth/moon.h"

#include "earth/angle.h"
#include "earth/ellipsoid.h"
#include "earth/sky.h"

#include <math.h>
#include <stddef.h>

#define COUNT(list) (sizeof(list) / sizeof *(list))

/* --- the series ----------------------------------------------------------- */

/* Multiples of D, M, M' and F, and the sizes of the terms in longitude
 * (0.000001 degree, sine) and distance (m, cosine): Meeus table 47.A, what is
 * 0.002 degree or more. */
static const struct {
    int d, m, m1, f, longitude, distance;
} along[] = {
    {0, 0, 1, 0, 6288774, -20905355}, {2, 0, -1, 0, 1274027, -3699111},
    {2, 0, 0, 0, 658314, -2955968},   {0, 0, 2, 0, 213618, -569925},
    {0, 1, 0, 0, -185116, 48888},     {0, 0, 0, 2, -114332, -3149},
    {2, 0, -2, 0, 58793, 246158},     {2, -1, -1, 0, 57066, -152138},
    {2, 0, 1, 0, 53322, -170733},     {2, -1, 0, 0, 45758, -204586},
    {0, 1, -1, 0, -40923, -129620},   {1, 0, 0, 0, -34720, 108743},
    {0, 1, 1, 0, -30383, 104755},     {2, 0, 0, -2, 15327, 10321},
    {0, 0, 1, 2, -12528, 0},          {0, 0, 1, -2, 10980, 79661},
    {4, 0, -1, 0, 10675, -34782},     {0, 0, 3, 0, 10034, -23210},
    {4, 0, -2, 0, 8548, -21636},      {2, 1, -1, 0, -7888, 24208},
    {2, 1, 0, 0, -6766, 30824},       {1, 0, -1, 0, -5163, -8379},
    {1, 1, 0, 0, 4987, -16675},       {2, -1, 1, 0, 4036, -12831},
    {2, 0, 2, 0, 3994, -10445},       {4, 0, 0, 0, 3861, -11650},
    {2, 0, -3, 0, 3665, 14403},       {0, 1, -2, 0, -2689, -7003},
    {2, 0, -1, 2, -2602, 0},          {2, -1, -2, 0, 2390, 10056},
    {1, 0, 1, 0, -2348, 6322},        {2, -2, 0, 0, 2236, -9884},
    {0, 1, 2, 0, -2120, 5751},        {0, 2, 0, 0, -2069, 0},
    {2, -2, -1, 0, 2048, -4950},
};

/* The same of the latitude (sine): table 47.B, 0.001 degree or more. */
static const struct {
    int d, m, m1, f, latitude;
} across[] = {
    {0, 0, 0, 1, 5128122}, {0, 0, 1, 1, 280602},  {0, 0, 1, -1, 277693},
    {2, 0, 0, -1, 173237}, {2, 0, -1, 1, 55413},  {2, 0, -1, -1, 46271},
    {2, 0, 0, 1, 32573},   {0, 0, 2, 1, 17198},   {2, 0, 1, -1, 9266},
    {0, 0, 2, -1, 8822},   {2, -1, 0, -1, 8216},  {2, 0, -2, -1, 4324},
    {2, 0, 1, 1, 4200},    {2, 1, 0, -1, -3359},  {2, -1, -1, 1, 2463},
    {2, -1, 0, 1, 2211},   {2, -1, -1, -1, 2065}, {0, 1, -1, -1, -1870},
    {4, 0, -1, -1, 1828},  {0, 1, 0, 1, -1794},   {0, 0, 0, 3, -1749},
    {0, 1, -1, 1, -1565},  {1, 0, 0, 1, -1491},   {0, 1, 1, 1, -1475},
    {0, 1, 1, -1, -1410},  {0, 1, 0, -1, -1344},  {1, 0, 0, -1, -1335},
    {0, 0, 3, 1, 1107},    {4, 0, 0, -1, 1021},
};

#define MICRO 1e-6
#define MEAN_DISTANCE_M 385000560.0

/* Meeus 47.1 to 47.6. */
struct arguments {
    double longitude_deg;       /* L', mean, of the moon */
    double d, m, m1, f;         /* degrees */
    double eccentricity;        /* of the earth's orbit, E */
    double venus_deg, flat_deg; /* A1; L' - F, of the earth's flattening */
};

static double power_series(double t, double a, double b, double c, double d) {
    return a + t * (b + t * (c + t * d));
}

static struct arguments arguments_at(double t) {
    struct arguments at = {.longitude_deg =
                               power_series(t, 218.3164477, 481267.88123421,
                                            -0.0015786, 1.0 / 538841.0),
                           .d = power_series(t, 297.8501921, 445267.1114034,
                                             -0.0018819, 1.0 / 545868.0),
                           .m = power_series(t, 357.5291092, 35999.0502909,
                                             -0.0001536, 1.0 / 24490000.0),
                           .m1 = power_series(t, 134.9633964, 477198.8675055,
                                              0.0087414, 1.0 / 69699.0),
                           .f = power_series(t, 93.2720950, 483202.0175233,
                                             -0.0036539, -1.0 / 3526000.0),
                           .eccentricity = 1.0 - t * (0.002516 + t * 0.0000074),
                           .venus_deg = 119.75 + 131.849 * t};
    at.flat_deg = at.longitude_deg - at.f;
    return at;
}

static void term(const struct arguments *at, const int multiples[4],
                 double *sine, double *cosine) {
    double shrink = 1.0;
    for (int i = multiples[1] < 0 ? -multiples[1] : multiples[1]; i > 0; i--)
        shrink *= at->eccentricity;
    sincos_deg(multiples[0] * at->d + multiples[1] * at->m +
                   multiples[2] * at->m1 + multiples[3] * at->f,
               sine, cosine);
    *sine *= shrink;
    *cosine *= shrink;
}

static void put_ecliptic(struct moon *moon, double t) {
    struct arguments at = arguments_at(t);
    double sine, cosine, sum = 0.0, far = 0.0;
    for (size_t i = 0; i < COUNT(along); i++) {
        const int multiples[] = {along[i].d, along[i].m, along[i].m1,
                                 along[i].f};
        term(&at, multiples, &sine, &cosine);
        sum += along[i].longitude * sine;
        far += along[i].distance * cosine;
    }
    sincos_deg(at.venus_deg, &sine, &cosine);
    sum += 3958.0 * sine; /* p. 338 */
    sincos_deg(at.flat_deg, &sine, &cosine);
    sum += 1962.0 * sine;
    moon->longitude_deg = angle_wrap_360(at.longitude_deg + MICRO * sum);
    moon->distance_m = MEAN_DISTANCE_M + far;
    sincos_deg(at.longitude_deg, &sine, &cosine);
    sum = -2235.0 * sine;
    for (size_t i = 0; i < COUNT(across); i++) {
        const int multiples[] = {across[i].d, across[i].m, across[i].m1,
                                 across[i].f};
        term(&at, multiples, &sine, &cosine);
        sum += across[i].latitude * sine;
    }
    moon->latitude_deg = MICRO * sum;
}

/* Meeus 13.3 and 13.4. */
struct moon moon_at(double unix_s) {
    struct sky sky = sky_at(unix_s);
    struct moon moon;
    put_ecliptic(&moon, sky.centuries);
    double lon_sine, lon_cosine, lat_sine, lat_cosine, tilt_sine, tilt_cosine;
    sincos_deg(moon.longitude_deg + sky.nutation_deg, &lon_sine, &lon_cosine);
    sincos_deg(moon.latitude_deg, &lat_sine, &lat_cosine);
    sincos_deg(sky.obliquity_deg, &tilt_sine, &tilt_cosine);
    double east = lat_cosine * lon_sine * tilt_cosine - lat_sine * tilt_sine;
    double right_ascension_rad = atan2(east, lat_cosine * lon_cosine);
    moon.declination_deg =
        sky_arc_deg(lat_sine * tilt_cosine + lat_cosine * tilt_sine * lon_sine);
    moon.greenwich_hour_angle_deg = angle_wrap_360(
        sky.sidereal_deg - right_ascension_rad / RADIANS_PER_DEGREE);
    return moon;
}

/* --- as she is seen ------------------------------------------------------- */

/* Sine of the horizontal parallax. */
static double parallax_sine(struct moon moon) {
    return WGS84_EQUATOR_M / moon.distance_m;
}

/* From the earth's centre to her surface, towards the zenith. */
double moon_altitude_deg(struct moon moon, struct position position) {
    double sine = sky_altitude_sine(moon.declination_deg,
                                    moon.greenwich_hour_angle_deg, position);
    double cosine = sqrt(fmax(1.0 - sine * sine, 0.0));
    return atan2(sine - parallax_sine(moon), cosine) / RADIANS_PER_DEGREE;
}

/* Refraction: U.S. Naval Observatory, Rise, Set, and Twilight Definitions. The
 * moon's radius in those of the earth: Meeus ch. 55, p. 390. */
static const double REFRACTION_DEG = 34.0 / 60.0;
static const double RADIUS = 0.272481;

double moon_rise_deg(struct moon moon) {
    return -REFRACTION_DEG - sky_arc_deg(RADIUS * parallax_sine(moon));
}

/* IAU 2012 resolution B2. The sun's distance changes by 1.7 %, which turns the
 * phase angle by 0.003 degree at most. */
static const double SUN_DISTANCE_M = 1.495978707e11;

/* Meeus 48.1 to 48.3. */
double moon_lit_frac(struct moon moon, struct sun sun) {
    double sine, cosine, sun_sine, sun_cosine, unused, turn_cosine;
    sincos_deg(moon.declination_deg, &sine, &cosine);
    sincos_deg(sun.declination_deg, &sun_sine, &sun_cosine);
    sincos_deg(moon.greenwich_hour_angle_deg - sun.greenwich_hour_angle_deg,
               &unused, &turn_cosine);
    double apart = sun_sine * sine + sun_cosine * cosine * turn_cosine;
    double apart_sine = sqrt(fmax(1.0 - apart * apart, 0.0));
    double phase_rad = atan2(SUN_DISTANCE_M * apart_sine,
                             moon.distance_m - SUN_DISTANCE_M * apart);
    return 0.5 * (1.0 + cos(phase_rad));
}
