/* The growth of a wind sea against published laws and figures. Laws that the
 * program does not use stand here, to hold ours against them, no tighter than
 * they agree with each other: a quarter in height, a third in period. */
#include "../support/check.h"

#include "base/units.h"
#include "sea/growth.h"
#include <math.h>

#define G 9.80665
#define MONTH_S (30.0 * 24.0 * 3600.0)

/* The worked figures below are for g = 9.81; ours is the standard 9.80665. */
#define G_FRAC 3.5e-4

static const double SPREAD_HEIGHT = 0.25, SPREAD_PERIOD = 0.35;

struct sea_of_law {
    double height_m, period_s;
};

static struct wave_system ours(double wind_mps, double fetch_m) {
    return growth_wind_sea(wind_mps, 0.0, fetch_m, MONTH_S);
}

/* --- ours -------------------------------------------------------------------
 */

/* JONSWAP, Hasselmann et al. 1973 as printed by R. H. Stewart, Introduction to
 * Physical Oceanography, 2008, eqs 16.36 ff.: figures calculated from the
 * printed coefficients. */
static void fetch_gives_the_values_of_jonswap(void **state) {
    (void)state;
    struct wave_system near = ours(10.0, 50e3), far = ours(15.0, 200e3);
    assert_near(near.height_m, 1.16699, G_FRAC * 1.16699);
    assert_near(near.period_s, 4.94654, 2.0 * G_FRAC * 4.94654);
    assert_near(far.height_m, 3.50098, G_FRAC * 3.50098);
    assert_near(far.period_s, 8.98845, 2.0 * G_FRAC * 8.98845);
}

/* Pierson-Moskowitz, as printed by Stewart, eqs 16.30 ff.: figures calculated,
 * with one more digit than the printed 0.22 U^2 / g and 0.877 g / U. */
static void growth_ends_at_the_sea_of_pierson_and_moskowitz(void **state) {
    (void)state;
    static const struct {
        double wind_mps, height_m, period_s;
    } rows[] = {
        {10, 2.2453, 7.4917}, {15, 5.0520, 11.2375}, {20, 8.9814, 14.9833}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct wave_system full = ours(rows[i].wind_mps, 1e10);
        assert_near(full.height_m, rows[i].height_m, 0.002 * rows[i].height_m);
        assert_near(full.period_s, rows[i].period_s, 0.002 * rows[i].period_s);
        assert_near(growth_full_height_m(rows[i].wind_mps), full.height_m,
                    1e-9);
    }
}

/* Shore Protection Manual 1984, t = 68.8 F^(2/3) / (g UA)^(1/3), with the wind
 * at 10 m for UA: an eighth at most between both, up to 20 m/s. */
static double least_duration_s(double wind_mps, double fetch_m) {
    return 68.8 * pow(fetch_m, 2.0 / 3.0) / cbrt(G * wind_mps);
}

static double adjusted_mps(double wind_mps) {
    return 0.71 * pow(wind_mps, 1.23);
}

static void durations_are_those_of_the_manual(void **state) {
    (void)state;
    for (double wind_mps = 5.0; wind_mps <= 20.0; wind_mps += 2.5)
        for (double fetch_m = 1e4; fetch_m <= 1e5; fetch_m *= 2.0) {
            double seconds = least_duration_s(wind_mps, fetch_m);
            double theirs = least_duration_s(adjusted_mps(wind_mps), fetch_m);
            double height_m = growth_after(wind_mps, seconds).height_m;
            if (height_m < growth_full_height_m(wind_mps))
                assert_near(
                    growth_time_s(wind_mps, ours(wind_mps, fetch_m).height_m),
                    seconds, 1e-6 * seconds);
            assert_near(seconds, theirs, 0.125 * theirs);
        }
}

/* --- Shore Protection Manual 1984 -------------------------------------------
 * As ported in ACES (WGFL.m, WGFD.m, WGDL.m), UA = 0.71 U^1.23. */

static struct sea_of_law manual_1984(double adjusted, double fetch_m) {
    double fetch = G * fetch_m / (adjusted * adjusted);
    double height = fmin(0.0016 * sqrt(fetch), 0.2433);
    double period = fmin(0.2857 * cbrt(fetch), 8.134);
    return (struct sea_of_law){height * adjusted * adjusted / G,
                               period * adjusted / G};
}

/* With the 10 m wind in place of UA it is JONSWAP, rounded; with UA it is
 * higher by as much as UA is, two fifths at 20 m/s. */
static void jonswap_is_the_1984_manual_of_the_plain_wind(void **state) {
    (void)state;
    for (double wind_mps = 7.5; wind_mps <= 20.0; wind_mps += 2.5) {
        struct sea_of_law plain = manual_1984(wind_mps, 50e3);
        struct sea_of_law adjusted = manual_1984(adjusted_mps(wind_mps), 50e3);
        struct wave_system sea = ours(wind_mps, 50e3);
        assert_near(sea.height_m, plain.height_m, 0.03 * plain.height_m);
        assert_near(sea.period_s, plain.period_s, 0.01 * plain.period_s);
        assert_near(sea.height_m, adjusted.height_m, 0.4 * sea.height_m);
        assert_near(sea.period_s, adjusted.period_s,
                    SPREAD_PERIOD * sea.period_s);
    }
}

/* Its full sea, gH/UA^2 = 0.2433, is half as high again as that of Pierson and
 * Moskowitz at 10 m/s, and higher above. */
static void the_1984_manual_s_full_sea_is_higher(void **state) {
    (void)state;
    double theirs_m = manual_1984(adjusted_mps(10.0), 1e10).height_m;
    double ours_m = growth_full_height_m(10.0);
    assert_near(theirs_m / ours_m, 1.6, 0.05);
}

/* --- Coastal Engineering Manual ---------------------------------------------
 * EM 1110-2-1100 Part II ch. 2, eqs II-2-36 to II-2-38. */

static double friction_mps(double wind_mps) {
    return wind_mps * sqrt(0.001 * (1.1 + 0.035 * wind_mps));
}

static struct sea_of_law coastal_manual(double wind_mps, double fetch_m) {
    double u = friction_mps(wind_mps);
    double fetch = G * fetch_m / (u * u);
    double height = fmin(4.13e-2 * sqrt(fetch), 2.115e2);
    double period = fmin(0.651 * cbrt(fetch), 2.398e2);
    return (struct sea_of_law){height * u * u / G, period * u / G};
}

static const struct {
    double wind_mps, fetch_m, height_m, period_s;
} coastal_rows[] = {{10, 50e3, 1.12275, 3.7933},
                    {15, 200e3, 3.56573, 7.0251},
                    {20, 100e3, 3.53820, 6.2425}};

static void ours_agrees_with_the_coastal_manual(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof coastal_rows / sizeof *coastal_rows; i++) {
        struct wave_system sea =
            ours(coastal_rows[i].wind_mps, coastal_rows[i].fetch_m);
        assert_near(sea.height_m, coastal_rows[i].height_m,
                    SPREAD_HEIGHT * coastal_rows[i].height_m);
        assert_near(sea.period_s, coastal_rows[i].period_s,
                    SPREAD_PERIOD * coastal_rows[i].period_s);
    }
}

/* gX/u*^2 = 5.23e-3 (gt/u*)^(3/2): it gives waves half as long again to grow.
 * Heights go with the time to the power 3/4. */
static void the_coastal_manual_s_sea_is_slower(void **state) {
    (void)state;
    for (double wind_mps = 6.0; wind_mps <= 20.0; wind_mps += 2.0) {
        double u = friction_mps(wind_mps), t = hours_to_s(4.0);
        double fetch_m = 5.23e-3 * pow(G * t / u, 1.5) * u * u / G;
        double theirs_m = coastal_manual(wind_mps, fetch_m).height_m;
        double ours_m = growth_after(wind_mps, t).height_m;
        assert_true(theirs_m < ours_m);
        assert_near(theirs_m, ours_m, 0.35 * ours_m);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(fetch_gives_the_values_of_jonswap),
        cmocka_unit_test(growth_ends_at_the_sea_of_pierson_and_moskowitz),
        cmocka_unit_test(durations_are_those_of_the_manual),
        cmocka_unit_test(jonswap_is_the_1984_manual_of_the_plain_wind),
        cmocka_unit_test(the_1984_manual_s_full_sea_is_higher),
        cmocka_unit_test(ours_agrees_with_the_coastal_manual),
        cmocka_unit_test(the_coastal_manual_s_sea_is_slower),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
