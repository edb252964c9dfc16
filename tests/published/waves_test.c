/* Waves against published figures. */
#include "../support/check.h"

#include "base/units.h"
#include "sea/growth.h"
#include "sea/wave.h"
#include <math.h>

#define MONTH_S (30.0 * 24.0 * 3600.0)

/* The worked values below are for g = 9.81; ours is the standard 9.80665. */
#define G_FRAC 3.5e-4

/* R. H. Stewart, Introduction to Physical Oceanography, 2008, ch. 16:
 * L = g T^2 / (2 pi), 1.56 T^2. Figures computed for g = 9.80665. */
static void deep_water_waves_are_as_long_as_their_period_says(void **state) {
    (void)state;
    assert_near(wave_length_m(1.0), 1.560777, 5e-7);
    assert_near(wave_length_m(8.0), 99.890, 5e-4);
    /* phase speed L / T: 12.486 m/s = 24.271 kn */
    assert_near(mps_to_kn(wave_length_m(8.0) / 8.0), 24.271, 5e-4);
}

/* Encounter period by T. I. Fossen's we = |w - w^2 U cos(b) / g| (MSS toolbox,
 * 2001), and by the rounded form of IMO MSC.1/Circ.1228, 11 Jan 2007,
 * TE = 3 TW^2 / (3 TW + V cos(alpha)), alpha 0 = head sea (the formula from
 * memory): its 3 stands for g / (2 pi) = 3.0349 kn/s. */
static void encounter_periods_agree_with_the_imo_form(void **state) {
    (void)state;
    static const struct {
        double period_s, speed_kn, alpha_deg, imo_s, exact_s;
    } rows[] = {{8, 6, 180, 10.6667, 10.6259},
                {8, 6, 135, 9.7179, 9.6939},
                {8, 6, 90, 8.0000, 8.0000},
                {8, 6, 0, 6.4000, 6.4148},
                {10, 10, 180, 15.0000, 14.9141}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        double encounter =
            wave_encounter_rad_s(rows[i].period_s, kn_to_mps(rows[i].speed_kn),
                                 180.0 - rows[i].alpha_deg);
        double period_s = 2.0 * 3.14159265358979323846 / encounter;
        assert_near(period_s, rows[i].exact_s, G_FRAC * rows[i].exact_s);
        assert_near(period_s, rows[i].imo_s, 0.006 * rows[i].imo_s);
    }
}

/* Coastal Engineering Manual, EM 1110-2-1100 Part II ch. 2, eqs II-2-36 to
 * II-2-38: worked by hand from the printed coefficients. */
static void growth_law_gives_the_manuals_worked_values(void **state) {
    (void)state;
    static const struct {
        double wind_mps, fetch_m, height_m, period_s;
    } rows[] = {{10, 50e3, 1.12275, 3.7933},
                {15, 200e3, 3.56573, 7.0251},
                {20, 100e3, 3.53820, 6.2425}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct wave_system sea =
            growth_wind_sea(rows[i].wind_mps, 0.0, rows[i].fetch_m, MONTH_S);
        assert_near(sea.height_m, rows[i].height_m, G_FRAC * rows[i].height_m);
        assert_near(sea.period_s, rows[i].period_s, G_FRAC * rows[i].period_s);
    }
}

/* The same source, II-2-37: gH/u*^2 = 211.5, gT/u* = 239.8. */
static void growth_ends_at_the_manuals_full_sea(void **state) {
    (void)state;
    double u = 10.0 * sqrt(0.00145); /* 0.380789 m/s */
    assert_near(u, 0.380789, 5e-7);
    struct wave_system sea = growth_wind_sea(10.0, 0.0, 1e10, 100.0 * MONTH_S);
    assert_near(GRAVITY_MPS2 * sea.height_m / (u * u), 211.5, 1e-6);
    assert_near(GRAVITY_MPS2 * sea.period_s / u, 239.8, 1e-6);
}

/* Other published laws differ in height by up to a quarter: JONSWAP (Hasselmann
 * et al. 1973, as printed by Stewart, eqs 16.36 ff.), variance
 * 1.67e-7 U^2 F / g: 1.16699 m at 10 m/s and 50 km, 3.50098 m at 15 m/s and
 * 200 km. */
static void growth_agrees_with_jonswap_within_a_quarter(void **state) {
    (void)state;
    double near_m = growth_wind_sea(10.0, 0.0, 50e3, MONTH_S).height_m;
    double far_m = growth_wind_sea(15.0, 0.0, 200e3, MONTH_S).height_m;
    assert_near(near_m, 1.16699, 0.25 * 1.16699);
    assert_near(far_m, 3.50098, 0.25 * 3.50098);
}

/* Pierson-Moskowitz: H = 0.22 U^2 / g fully developed, 2.2453 m at 10 m/s
 * (Stewart, ch. 16). The manual's full sea is higher; a day of that wind
 * comes within a quarter of it. */
static void a_day_of_wind_comes_near_the_full_sea(void **state) {
    (void)state;
    struct wave_system sea = growth_wind_sea(10.0, 0.0, GROWTH_OPEN_WATER_M,
                                             hours_to_s(GROWTH_ASSUMED_HOURS));
    assert_near(sea.height_m, 2.2453, 0.25 * 2.2453);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(deep_water_waves_are_as_long_as_their_period_says),
        cmocka_unit_test(encounter_periods_agree_with_the_imo_form),
        cmocka_unit_test(growth_law_gives_the_manuals_worked_values),
        cmocka_unit_test(growth_ends_at_the_manuals_full_sea),
        cmocka_unit_test(growth_agrees_with_jonswap_within_a_quarter),
        cmocka_unit_test(a_day_of_wind_comes_near_the_full_sea),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
