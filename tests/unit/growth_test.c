/* The growth law's behaviour; its published values stand in
 * tests/published/growth_laws_test.c. */
#include "../support/check.h"

#include "base/units.h"
#include "sea/growth.h"
#include <math.h>

#define LONG_S (30.0 * 24.0 * 3600.0)

static struct wave_system sea_of(double wind_mps, double fetch_m,
                                 double duration_s) {
    return growth_wind_sea(wind_mps, 0.0, fetch_m, duration_s);
}

static void direction_is_that_of_the_wind(void **state) {
    (void)state;
    struct wave_system sea = growth_wind_sea(8.0, 247.0, 1e5, LONG_S);
    assert_true(sea.known);
    assert_near(sea.from_deg, 247.0, 0.0);
}

static void no_wind_makes_a_known_flat_sea(void **state) {
    (void)state;
    struct wave_system sea = sea_of(0.0, 1e5, LONG_S);
    assert_true(sea.known);
    assert_near(sea.height_m, 0.0, 0.0);
    assert_near(sea.period_s, 0.0, 0.0);
}

static void sea_rises_with_wind_fetch_and_time(void **state) {
    (void)state;
    struct wave_system sea = sea_of(10.0, 5e4, 6.0 * 3600.0);
    struct wave_system windy = sea_of(12.0, 5e4, 6.0 * 3600.0);
    struct wave_system wide = sea_of(10.0, 6e4, LONG_S);
    struct wave_system old = sea_of(10.0, 1e7, 12.0 * 3600.0);
    assert_true(windy.height_m > sea.height_m);
    assert_true(wide.height_m > sea.height_m);
    assert_true(wide.period_s > sea.period_s);
    assert_true(old.height_m > sea_of(10.0, 1e7, 6.0 * 3600.0).height_m);
}

/* Once the fetch limits, more time changes nothing, and the other way round. */
static void the_nearer_limit_counts(void **state) {
    (void)state;
    assert_near(sea_of(10.0, 2e4, 24.0 * 3600.0).height_m,
                sea_of(10.0, 2e4, LONG_S).height_m, 0.0);
    assert_near(sea_of(10.0, 1e6, 3600.0).height_m,
                sea_of(10.0, 1e7, 3600.0).height_m, 0.0);
}

/* t = 68.8 X^(2/3) / (g U)^(1/3): the duration's sea is that of this fetch. */
static void a_duration_is_worth_a_fetch(void **state) {
    (void)state;
    double t = 6.0 * 3600.0;
    double fetch_m = pow(t * cbrt(GRAVITY_MPS2 * 10.0) / 68.8, 1.5);
    struct wave_system by_time = sea_of(10.0, 1e8, t);
    struct wave_system by_fetch = sea_of(10.0, fetch_m, LONG_S);
    assert_near(by_time.height_m, by_fetch.height_m, 1e-9);
    assert_near(by_time.period_s, by_fetch.period_s, 1e-9);
    assert_near(growth_after(10.0, t).fetch_m, fetch_m, 1e-3);
}

/* Both ways the same, from the first minutes to the full sea. */
static void the_law_can_be_turned_round(void **state) {
    (void)state;
    for (double wind_mps = 1.0; wind_mps <= 40.0; wind_mps *= 1.3)
        for (double hours = 0.1; hours <= 12.0; hours += 0.7) {
            double seconds = hours_to_s(hours);
            struct grown grown = growth_after(wind_mps, seconds);
            struct wave_system sea = sea_of(wind_mps, 1e9, seconds);
            assert_near(grown.height_m, sea.height_m, 1e-12);
            assert_near(grown.period_s, sea.period_s, 1e-12);
            double full_m = growth_full_height_m(wind_mps);
            double time_s = growth_time_s(wind_mps, grown.height_m);
            if (grown.height_m < (1.0 - 1e-9) * full_m)
                assert_near(time_s, seconds, 1e-6 * seconds);
            else
                assert_true(time_s <= (1.0 + 1e-9) * seconds);
            assert_near(sea_of(wind_mps, grown.fetch_m, LONG_S).height_m,
                        grown.height_m, 1e-9);
        }
}

static void above_the_full_sea_time_is_that_of_the_full_sea(void **state) {
    (void)state;
    double full_m = growth_full_height_m(9.0);
    double full_s = growth_time_s(9.0, full_m);
    assert_near(growth_time_s(9.0, 3.0 * full_m), full_s, 0.0);
    assert_near(growth_after(9.0, full_s).height_m, full_m, 1e-9);
    assert_true(growth_after(9.0, 0.99 * full_s).height_m < full_m);
}

static void growth_ends_at_the_full_sea(void **state) {
    (void)state;
    struct wave_system full = sea_of(6.0, 1e9, 100.0 * LONG_S);
    struct wave_system beyond = sea_of(6.0, 1e10, 1000.0 * LONG_S);
    assert_near(full.height_m, beyond.height_m, 0.0);
    assert_near(full.period_s, beyond.period_s, 0.0);
    assert_true(full.height_m > 0.0);
}

/* With the assumed hours of wind over open water, the fetch never limits. */
static void the_assumed_sea_is_limited_by_time_only(void **state) {
    (void)state;
    double hours_s = hours_to_s(GROWTH_ASSUMED_HOURS);
    for (double wind_mps = 2.0; wind_mps <= 35.0; wind_mps += 1.0)
        assert_near(
            sea_of(wind_mps, GROWTH_OPEN_WATER_M, hours_s).height_m,
            sea_of(wind_mps, 100.0 * GROWTH_OPEN_WATER_M, hours_s).height_m,
            0.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(direction_is_that_of_the_wind),
        cmocka_unit_test(no_wind_makes_a_known_flat_sea),
        cmocka_unit_test(sea_rises_with_wind_fetch_and_time),
        cmocka_unit_test(the_nearer_limit_counts),
        cmocka_unit_test(a_duration_is_worth_a_fetch),
        cmocka_unit_test(the_law_can_be_turned_round),
        cmocka_unit_test(above_the_full_sea_time_is_that_of_the_full_sea),
        cmocka_unit_test(growth_ends_at_the_full_sea),
        cmocka_unit_test(the_assumed_sea_is_limited_by_time_only),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
