#include "../support/check.h"

#include "earth/angle.h"
#include "earth/moon.h"

#include <math.h>

#define SECONDS_2025_01_01 1735689600.0 /* date -u -d 2025-01-01 +%s */
#define YEAR_S (365.0 * 86400.0)

static struct moon any_moon(struct seed *seed) {
    return moon_at(SECONDS_2025_01_01 + seed_between(seed, 0.0, 5.0 * YEAR_S));
}

static struct position below(struct moon moon) {
    return (struct position){
        moon.declination_deg,
        angle_wrap_longitude(-moon.greenwich_hour_angle_deg)};
}

/* Distance 356 400 to 406 700 km, declination to 28.7 degrees (both from
 * memory), latitude to 5.3. */
static void the_moon_keeps_to_her_bounds(void **state) {
    (void)state;
    struct seed seed = {71};
    for (int i = 0; i < 2000; i++) {
        struct moon moon = any_moon(&seed);
        assert_true(moon.distance_m > 356.3e6 && moon.distance_m < 406.8e6);
        assert_true(fabs(moon.declination_deg) < 28.75);
        assert_true(fabs(moon.latitude_deg) < 5.35);
        assert_true(moon.longitude_deg >= 0.0 && moon.longitude_deg < 360.0);
        assert_true(moon.greenwich_hour_angle_deg >= 0.0);
        assert_true(moon.greenwich_hour_angle_deg < 360.0);
    }
}

/* Nothing in the zenith; a quarter of the way round the whole horizontal
 * parallax, whose sine is the earth's radius by the distance. */
static void parallax_lowers_what_stands_low(void **state) {
    (void)state;
    struct seed seed = {72};
    for (int i = 0; i < 200; i++) {
        struct moon moon = any_moon(&seed);
        struct position under = below(moon);
        /* the arc of a sine near 1 */
        assert_near(moon_altitude_deg(moon, under), 90.0, 3e-6);
        moon.declination_deg = 0.0;
        struct position aside = {
            0.0, angle_wrap_longitude(90.0 - moon.greenwich_hour_angle_deg)};
        double parallax_deg = -moon_altitude_deg(moon, aside);
        /* 53.9 to 61.5 minutes of arc (calculated from the distances) */
        assert_true(parallax_deg > 0.897 && parallax_deg < 1.027);
        assert_near(tan(parallax_deg * RADIANS_PER_DEGREE) * moon.distance_m,
                    6378137.0, 1.0);
    }
}

/* Her semidiameter is 14.7 to 16.8 minutes of arc (from memory), refraction
 * 34. */
static void she_rises_with_her_upper_limb(void **state) {
    (void)state;
    struct seed seed = {73};
    for (int i = 0; i < 500; i++) {
        double limit_deg = moon_rise_deg(any_moon(&seed));
        assert_true(limit_deg < -(34.0 + 14.6) / 60.0);
        assert_true(limit_deg > -(34.0 + 16.8) / 60.0);
    }
}

static void the_lit_fraction_goes_from_new_to_full(void **state) {
    (void)state;
    struct moon moon = {0.0, 0.0, 384.4e6, 12.0, 40.0};
    assert_near(moon_lit_frac(moon, (struct sun){12.0, 40.0}), 0.0, 1e-6);
    assert_near(moon_lit_frac(moon, (struct sun){-12.0, 220.0}), 1.0, 1e-6);
    /* a quarter of the way from the sun a little less than half is dark: the
     * sun is 389 times as far away, the phase angle 90 - 0.147 degrees */
    moon.declination_deg = 0.0;
    assert_near(moon_lit_frac(moon, (struct sun){0.0, 130.0}),
                0.5 + 0.5 * 384.4e6 / 1.495978707e11, 1e-6);
    assert_near(moon_lit_frac(moon, (struct sun){0.0, 310.0}),
                0.5 + 0.5 * 384.4e6 / 1.495978707e11, 1e-6);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_moon_keeps_to_her_bounds),
        cmocka_unit_test(parallax_lowers_what_stands_low),
        cmocka_unit_test(she_rises_with_her_upper_limb),
        cmocka_unit_test(the_lit_fraction_goes_from_new_to_full),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
