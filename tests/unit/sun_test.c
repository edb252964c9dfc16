#include "../support/check.h"

#include "earth/angle.h"
#include "earth/sun.h"

#include <math.h>

#define SECONDS_2024_01_01 1704067200.0 /* date -u -d 2024-01-01 +%s */

static void the_hour_angle_turns_once_a_day(void **state) {
    (void)state;
    struct seed seed = {31};
    for (int i = 0; i < 500; i++) {
        double at = SECONDS_2024_01_01 + seed_between(&seed, 0.0, 3.2e7);
        struct sun now = sun_at(at), later = sun_at(at + 3600.0);
        assert_true(now.greenwich_hour_angle_deg >= 0.0);
        assert_true(now.greenwich_hour_angle_deg < 360.0);
        /* 15 degrees an hour, to what the equation of time drifts */
        assert_angle_near(later.greenwich_hour_angle_deg,
                          now.greenwich_hour_angle_deg + 15.0, 0.006);
        assert_true(fabs(now.declination_deg) < 23.44);
    }
}

/* Altitude against its definition: the angle to the place under the sun. */
static void the_altitude_is_that_of_the_place_below(void **state) {
    (void)state;
    struct seed seed = {32};
    for (int i = 0; i < 500; i++) {
        struct sun sun = {seed_between(&seed, -23.4, 23.4),
                          seed_between(&seed, 0.0, 360.0)};
        struct position below = {
            sun.declination_deg,
            angle_wrap_longitude(-sun.greenwich_hour_angle_deg)};
        struct position opposite = {
            -sun.declination_deg,
            angle_wrap_longitude(180.0 - sun.greenwich_hour_angle_deg)};
        assert_near(sun_altitude_deg(sun, below), 90.0, 2e-6);
        assert_near(sun_altitude_deg(sun, opposite), -90.0, 2e-6);
        struct position pole = {90.0, 17.0};
        assert_near(sun_altitude_deg(sun, pole), sun.declination_deg, 1e-12);
    }
}

static void the_date_line_is_no_border(void **state) {
    (void)state;
    struct seed seed = {33};
    for (int i = 0; i < 200; i++) {
        struct sun sun =
            sun_at(SECONDS_2024_01_01 + seed_between(&seed, 0.0, 3.2e7));
        struct position west = {-17.0, 179.9999}, east = {-17.0, -179.9999};
        assert_near(sun_altitude_deg(sun, west), sun_altitude_deg(sun, east),
                    0.0003);
    }
}

/* The light at an altitude: the sun over the equator, seen from a longitude
 * that far away. */
static enum light light_at(double altitude_deg) {
    struct sun sun = {0.0, 0.0};
    return sun_light(sun, (struct position){0.0, 90.0 - altitude_deg});
}

static void light_changes_at_its_limits(void **state) {
    (void)state;
    assert_int_equal(light_at(80.0), LIGHT_DAY);
    assert_int_equal(light_at(0.0), LIGHT_DAY);
    assert_int_equal(light_at(-0.83), LIGHT_DAY);
    assert_int_equal(light_at(-0.84), LIGHT_TWILIGHT);
    assert_int_equal(light_at(-5.99), LIGHT_TWILIGHT);
    assert_int_equal(light_at(-6.01), LIGHT_NIGHT);
    assert_int_equal(light_at(-80.0), LIGHT_NIGHT);
}

/* A year of hours at all latitudes: always a figure, never "not a number". */
static void every_place_and_hour_has_an_altitude(void **state) {
    (void)state;
    for (int hour = 0; hour < 8784; hour += 5) {
        struct sun sun = sun_at(SECONDS_2024_01_01 + hour * 3600.0);
        for (int lat = -90; lat <= 90; lat += 10) {
            double altitude = sun_altitude_deg(
                sun, (struct position){lat, hour % 360 - 180.0});
            assert_true(altitude >= -90.0 && altitude <= 90.0);
        }
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_hour_angle_turns_once_a_day),
        cmocka_unit_test(the_altitude_is_that_of_the_place_below),
        cmocka_unit_test(the_date_line_is_no_border),
        cmocka_unit_test(light_changes_at_its_limits),
        cmocka_unit_test(every_place_and_hour_has_an_altitude),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
