/* Synthesis of the field out of spherical harmonics: Chulliat and others, The
 * US/UK World Magnetic Model for 2020-2025: technical report, NOAA, 2020,
 * section 1.2 (the formulas are the same for 2025; from memory). */
#include "earth/variation.h"

#include "earth/angle.h"
#include "earth/ellipsoid.h"
#include "earth/wmm2025.h"

#include <math.h>
#include <stddef.h>

/* Nearer to a pole than this the meridian is taken from here: 0.1 mm. */
static const double POLE_DEG = 90.0 - 1e-9;

/* The model's blackout zone (its technical report; from memory). */
static const double LEAST_HORIZONTAL_NT = 2000.0;

enum { SIDE = WMM2025_DEGREE + 1 };

/* Legendre functions of the sine of the latitude, Schmidt semi-normalised, and
 * how they change with the colatitude, per radian. */
struct legendre {
    double p[SIDE][SIDE], slope[SIDE][SIDE];
};

static void put_sector(struct legendre *to, int m, double sine, double cosine) {
    double scale = m == 1 ? 1.0 : sqrt((2.0 * m - 1.0) / (2.0 * m));
    double last = to->p[m - 1][m - 1], last_slope = to->slope[m - 1][m - 1];
    to->p[m][m] = scale * cosine * last;
    to->slope[m][m] = scale * (cosine * last_slope + sine * last);
}

/* `sine` and `cosine` of the latitude. */
static void put_degree(struct legendre *to, int n, double sine, double cosine) {
    for (int m = 0; m < n; m++) {
        double before = m < n - 1 ? to->p[n - 2][m] : 0.0;
        double before_slope = m < n - 1 ? to->slope[n - 2][m] : 0.0;
        double last = to->p[n - 1][m], last_slope = to->slope[n - 1][m];
        double step = 2.0 * n - 1.0;
        double back = sqrt((n - 1.0) * (n - 1.0) - (double)m * m);
        double norm = sqrt((double)n * n - (double)m * m);
        to->p[n][m] = (step * sine * last - back * before) / norm;
        to->slope[n][m] =
            (step * (sine * last_slope - cosine * last) - back * before_slope) /
            norm;
    }
}

static struct legendre legendre_at(double sine, double cosine) {
    struct legendre made = {.p[0][0] = 1.0};
    for (int n = 1; n < SIDE; n++) {
        put_sector(&made, n, sine, cosine);
        put_degree(&made, n, sine, cosine);
    }
    return made;
}

/* A place by its distance from the earth's centre and geocentric latitude. */
struct geocentric {
    double radius_m, sine, cosine;
    double tilt_sine, tilt_cosine; /* of geodetic less geocentric latitude */
};

static struct geocentric geocentric_of(double lat_deg, double height_m) {
    double sine, cosine;
    sincos_deg(lat_deg, &sine, &cosine);
    double normal_m =
        WGS84_EQUATOR_M / sqrt(1.0 - WGS84_ECCENTRICITY2 * sine * sine);
    double out_m = (normal_m + height_m) * cosine;
    double up_m = (normal_m * (1.0 - WGS84_ECCENTRICITY2) + height_m) * sine;
    struct geocentric at = {.radius_m = hypot(out_m, up_m)};
    at.sine = up_m / at.radius_m;
    at.cosine = out_m / at.radius_m;
    at.tilt_sine = sine * at.cosine - cosine * at.sine;
    at.tilt_cosine = cosine * at.cosine + sine * at.sine;
    return at;
}

/* In the geocentric north, east and down. */
static struct magnetic_field summed(const struct geocentric *at, double lon_deg,
                                    double years) {
    struct legendre legendre = legendre_at(at->sine, at->cosine);
    struct magnetic_field sum = {0.0, 0.0, 0.0};
    for (size_t i = 0; i < WMM2025_TERMS; i++) {
        const struct wmm_term *term = &wmm2025_terms[i];
        int n = term->degree, m = term->order;
        double sine, cosine;
        sincos_deg(m * lon_deg, &sine, &cosine);
        double g = term->g_nt + years * term->g_change_nt;
        double h = term->h_nt + years * term->h_change_nt;
        double fall = pow(WMM2025_RADIUS_M / at->radius_m, n + 2.0);
        double along = g * cosine + h * sine;
        sum.north_nt += fall * along * legendre.slope[n][m];
        sum.east_nt +=
            fall * m * (g * sine - h * cosine) * legendre.p[n][m] / at->cosine;
        sum.down_nt -= fall * (n + 1.0) * along * legendre.p[n][m];
    }
    return sum;
}

struct magnetic_field variation_field(struct position position, double height_m,
                                      double year) {
    double lat_deg = fmin(fmax(position.lat_deg, -POLE_DEG), POLE_DEG);
    struct geocentric at = geocentric_of(lat_deg, height_m);
    struct magnetic_field there =
        summed(&at, position.lon_deg, year - WMM2025_EPOCH);
    return (struct magnetic_field){.north_nt = there.north_nt * at.tilt_cosine +
                                               there.down_nt * at.tilt_sine,
                                   .east_nt = there.east_nt,
                                   .down_nt = there.down_nt * at.tilt_cosine -
                                              there.north_nt * at.tilt_sine};
}

/* --- for a compass -------------------------------------------------------- */

static double year_start_s(int year) {
    struct civil first = {year, 1, 1, 0, 0, 0};
    struct instant instant = {0};
    instant_from_civil(first, &instant);
    return (double)instant.unix_s;
}

static double year_of(struct instant at) {
    int year = instant_to_civil(at).year;
    double start_s = year_start_s(year);
    return year +
           ((double)at.unix_s - start_s) / (year_start_s(year + 1) - start_s);
}

bool variation_covers(struct instant at) {
    int year = instant_to_civil(at).year;
    return year >= VARIATION_FIRST_YEAR && year < VARIATION_END_YEAR;
}

struct figure variation_at(struct position position, struct instant at) {
    if (!variation_covers(at))
        return figure_unknown();
    struct magnetic_field field = variation_field(position, 0.0, year_of(at));
    if (hypot(field.north_nt, field.east_nt) < LEAST_HORIZONTAL_NT)
        return figure_unknown();
    return figure_of(atan2(field.east_nt, field.north_nt) / RADIANS_PER_DEGREE);
}

double variation_magnetic(double true_deg, double variation_deg) {
    return angle_wrap_360(true_deg - variation_deg);
}
