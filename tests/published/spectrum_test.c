/* Wave spectra against published figures. */
#include "../support/check.h"

#include "earth/angle.h"
#include "sea/spectrum.h"
#include <math.h>

/* What the worked values below are for. */
#define G 9.81

static const struct spectrum_shape pierson_moskowitz = {
    .gamma = 1.0, .narrow_below = 0.07, .narrow_above = 0.09};

/* Moment of a density, by plain sums up to so many peak frequencies. */
static double moment_to(const struct spectrum *spectrum, int order,
                        double highest) {
    const double step = 2e-4;
    double sum = 0.0;
    for (double x = 0.3; x < highest; x *= 1.0 + step) {
        double w = x * (1.0 + 0.5 * step) * spectrum->peak_rad_s;
        sum += spectrum_density_m2s(spectrum, w) * pow(w, order) * step * x *
               spectrum->peak_rad_s;
    }
    return sum;
}

/* Mean periods over the peak period: standard moments of the Bretschneider
 * (ISSC) shape and of JONSWAP with gamma 3.3, sigma 0.07 and 0.09 (Hasselmann
 * et al. 1973, as printed by Stewart, Introduction to Physical Oceanography,
 * 2008, ch. 16). Calculated, up to some tens of peak frequencies: that makes Tz
 * 0.02 % to 0.06 % longer than the whole spectrum's. */
static void mean_periods_are_the_published_parts_of_the_peak(void **state) {
    (void)state;
    static const struct {
        double gamma, highest, t1, tz;
    } rows[] = {{1.0, 60.0, 0.771776, 0.710495},
                {3.3, 30.0, 0.834355, 0.777827}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct spectrum_shape shape = spectrum_shapes[SPECTRUM_WIND_SEA];
        shape.gamma = rows[i].gamma;
        struct spectrum sea = spectrum_make(&shape, 2.0, 9.0);
        double m0 = moment_to(&sea, 0, rows[i].highest);
        double m1 = moment_to(&sea, 1, rows[i].highest);
        double m2 = moment_to(&sea, 2, rows[i].highest);
        assert_near(2.0 * PI * m0 / m1 / 9.0, rows[i].t1, 2e-6);
        assert_near(2.0 * PI * sqrt(m0 / m2) / 9.0, rows[i].tz, 2e-6);
        assert_near(spectrum_mean_period_s(&sea) / 9.0, rows[i].t1, 3e-5);
        assert_near(spectrum_crossing_period_s(&sea) / 9.0, rows[i].tz, 5e-4);
    }
    struct spectrum plain = spectrum_make(&pierson_moskowitz, 2.0, 9.0);
    assert_near(9.0 / spectrum_mean_period_s(&plain), 1.295713, 9e-6);
}

/* The same shape in closed form: m_n = m0 wp^n 1.25^(n/4) Gamma(1 - n/4). */
static void moments_of_the_plain_shape_are_those_in_closed_form(void **state) {
    (void)state;
    double peak = 2.0 * PI / 7.0;
    struct spectrum plain = spectrum_make(&pierson_moskowitz, 3.0, 7.0);
    for (int n = -1; n <= 2; n++) {
        double closed = 9.0 / 16.0 * pow(peak, n) * pow(1.25, 0.25 * n) *
                        tgamma(1.0 - 0.25 * n);
        assert_near(spectrum_moment(&plain, n), closed, 4e-6 * closed);
    }
}

/* The fully developed sea of Pierson and Moskowitz as Stewart prints it (eq.
 * 16.30 ff.): S = 8.1e-3 g^2 / w^5 exp(-0.74 (g / (U w))^4) with the wind U at
 * 19.5 m, 1.026 U10. */
static double printed_density(double u10_mps, double w) {
    double w0 = G / (1.026 * u10_mps);
    return 8.1e-3 * G * G / pow(w, 5.0) * exp(-0.74 * pow(w0 / w, 4.0));
}

/* Height and peak period of that sea, worked from these coefficients. */
static void the_full_sea_is_that_of_pierson_and_moskowitz(void **state) {
    (void)state;
    static const struct {
        double u10_mps, height_m, peak_s;
    } rows[] = {
        {10, 2.2453, 7.4917}, {15, 5.0520, 11.2375}, {20, 8.9814, 14.9833}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct spectrum sea =
            spectrum_make(&pierson_moskowitz, rows[i].height_m, rows[i].peak_s);
        for (double x = 0.6; x < 4.0; x *= 1.1) {
            double w = x * 2.0 * PI / rows[i].peak_s;
            double printed = printed_density(rows[i].u10_mps, w);
            assert_near(spectrum_density_m2s(&sea, w), printed, 1e-3 * printed);
        }
    }
}

/* Its coefficients, in the wind U at 19.5 m: peak 0.877 g / U, variance
 * 2.74e-3 U^4 / g^2, height 0.21 U^2 / g; height 0.22 U10^2 / g. Recomputed:
 * 0.877163, 2.736486e-3, 0.209246, 0.220268. */
static void its_coefficients_follow_from_the_spectrum(void **state) {
    (void)state;
    double u = 1.026 * 10.0, g = G;
    struct spectrum sea = spectrum_make(&pierson_moskowitz, 2.2453, 7.4917);
    double m0 = spectrum_moment(&sea, 0);
    assert_near(sea.peak_rad_s * u / g, 0.877163, 1e-5);
    assert_near(m0 * g * g / (u * u * u * u), 2.736486e-3, 2e-7);
    assert_near(4.0 * sqrt(m0) * g / (u * u), 0.209246, 1e-5);
    assert_near(4.0 * sqrt(m0) * g / 100.0, 0.220268, 1e-5);
    /* Tp = 5 sqrt(Hs), calculated as 4.9996 */
    assert_near(7.4917 / sqrt(4.0 * sqrt(m0)), 4.9996, 1e-4);
}

/* JONSWAP as Stewart prints it (eq. 16.36 ff.): alpha = 0.076 (U^2 / (F
 * g))^0.22, wp = 22 (g^2 / (U F))^(1/3). The height that its integral gives,
 * calculated: 1.45395 m at 10 m/s and 50 km, Tp 4.94654 s; 4.50642 m and
 * 8.98845 s at 15 m/s and 200 km. */
static void the_integral_of_jonswap_gives_its_height(void **state) {
    (void)state;
    static const struct {
        double u10_mps, fetch_m, peak_s, height_m;
    } rows[] = {{10, 50e3, 4.94654, 1.45395}, {15, 200e3, 8.98845, 4.50642}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        double u = rows[i].u10_mps, f = rows[i].fetch_m, g = G;
        double alpha = 0.076 * pow(u * u / (f * g), 0.22);
        double peak = 22.0 * cbrt(g * g / (u * f));
        assert_near(2.0 * PI / peak, rows[i].peak_s, 3e-4 * rows[i].peak_s);
        struct spectrum sea = spectrum_make(&spectrum_shapes[SPECTRUM_WIND_SEA],
                                            rows[i].height_m, rows[i].peak_s);
        /* at the peak: alpha g^2 / wp^5 exp(-1.25) gamma */
        double printed = alpha * g * g / pow(peak, 5.0) * exp(-1.25) * 3.3;
        assert_near(spectrum_density_m2s(&sea, sea.peak_rad_s), printed,
                    2e-3 * printed);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(mean_periods_are_the_published_parts_of_the_peak),
        cmocka_unit_test(moments_of_the_plain_shape_are_those_in_closed_form),
        cmocka_unit_test(the_full_sea_is_that_of_pierson_and_moskowitz),
        cmocka_unit_test(its_coefficients_follow_from_the_spectrum),
        cmocka_unit_test(the_integral_of_jonswap_gives_its_height),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
