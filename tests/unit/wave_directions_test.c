/* Directions of waves out of a forecast: from where, between points and times,
 * and weighed by the waves' energy. */
#include "../support/check.h"

#include "../support/load.h"
#include "base/units.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

static void wind_at(struct grib_bytes *bytes, int lead, double east) {
    struct grib_spec spec = {.edition = 2};
    spec.lead = lead;
    grib_add_wind(bytes, &spec, east, 0.0);
}

enum { SEA_DIRECTION = 10, SEA_PERIOD = 11, WIND_SEA_DIRECTION = 4 };

static void add_wave(struct grib_bytes *bytes, int number, int lead,
                     const double values[4]) {
    struct grib_spec spec = {.edition = 2,
                             .discipline = 10,
                             .category = 0,
                             .number = number,
                             .level_type = 1,
                             .lead = lead,
                             .values = values};
    grib_add(bytes, &spec);
}

/* Combined sea of height 3 m, 9 s, with these directions at the corners: file
 * order, north row first. */
static void add_sea(struct grib_bytes *bytes, int lead,
                    const double directions[4]) {
    static const double heights[4] = {3.0, 3.0, 3.0, 3.0};
    static const double periods[4] = {9.0, 9.0, 9.0, 9.0};
    add_wave(bytes, 3, lead, heights);
    add_wave(bytes, SEA_PERIOD, lead, periods);
    add_wave(bytes, SEA_DIRECTION, lead, directions);
}

static void waves_come_from_their_direction(void **state) {
    (void)state;
    static const double west[4] = {270.0, 270.0, 270.0, 270.0};
    static const double east[4] = {90.0, 90.0, 90.0, 90.0};
    struct grib_bytes from = {0}, towards = {0};
    struct forecast_options turned = forecast_defaults();
    turned.waves_towards = true;
    wind_at(&from, 0, 5.0);
    add_sea(&from, 0, west);
    wind_at(&towards, 0, 5.0);
    add_sea(&towards, 0, east);
    struct loaded one = load_bytes(&from, NULL);
    struct loaded two = load_bytes(&towards, &turned);
    struct wave_system sea = weather_at(&one, 49.5, -9.5, 0.0).sea;
    assert_true(sea.known);
    assert_near(sea.height_m, 3.0, 1e-3);
    assert_near(sea.period_s, 9.0, 1e-3);
    assert_angle_near(sea.from_deg, 270.0, 1e-3);
    /* heading 090: from dead astern; heading 000: on the port beam */
    assert_angle_near(angle_turn(90.0, sea.from_deg), 180.0, 1e-3);
    assert_angle_near(angle_turn(0.0, sea.from_deg), -90.0, 1e-3);
    assert_angle_near(weather_at(&two, 49.5, -9.5, 0.0).sea.from_deg, 270.0,
                      1e-3);
    loaded_free(&one);
    loaded_free(&two);
}

static void directions_turn_the_short_way(void **state) {
    (void)state;
    static const struct {
        double corners[4]; /* NW, NE, SW, SE */
        double lon_deg, expected;
    } cases[] = {
        {{350.0, 10.0, 350.0, 10.0}, -9.5, 0.0},
        {{170.0, 190.0, 170.0, 190.0}, -9.5, 180.0},
        /* weight on the east side only */
        {{0.0, 170.0, 0.0, 190.0}, -9.0, 180.0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct grib_bytes bytes = {0};
        wind_at(&bytes, 0, 5.0);
        add_sea(&bytes, 0, cases[i].corners);
        struct loaded loaded = load_bytes(&bytes, NULL);
        assert_angle_near(
            weather_at(&loaded, 49.5, cases[i].lon_deg, 0.0).sea.from_deg,
            cases[i].expected, 0.01);
        loaded_free(&loaded);
    }
}

static void directions_turn_the_short_way_in_time(void **state) {
    (void)state;
    static const double before[4] = {359.0, 359.0, 359.0, 359.0};
    static const double after[4] = {1.0, 1.0, 1.0, 1.0};
    struct grib_bytes bytes = {0};
    wind_at(&bytes, 0, 5.0);
    wind_at(&bytes, 6, 5.0);
    add_sea(&bytes, 0, before);
    add_sea(&bytes, 6, after);
    struct loaded loaded = load_bytes(&bytes, NULL);
    assert_angle_near(weather_at(&loaded, 49.5, -9.5, 3.0).sea.from_deg, 0.0,
                      0.01);
    loaded_free(&loaded);
}

static void opposed_directions_give_that_of_the_nearest_corner(void **state) {
    (void)state;
    static const double corners[4] = {90.0, 270.0, 90.0, 270.0};
    struct grib_bytes bytes = {0};
    wind_at(&bytes, 0, 5.0);
    add_sea(&bytes, 0, corners);
    struct loaded loaded = load_bytes(&bytes, NULL);
    double middle = weather_at(&loaded, 49.5, -9.5, 0.0).sea.from_deg;
    assert_true(isfinite(middle));
    assert_near(fabs(sin(middle * RADIANS_PER_DEGREE)), 1.0, 1e-3);
    loaded_free(&loaded);
}

static void high_waves_outweigh_low_ones_in_the_direction(void **state) {
    (void)state;
    static const double heights[4] = {3.0, 1.0, 3.0, 1.0};
    static const double directions[4] = {0.0, 90.0, 0.0, 90.0};
    static const double periods[4] = {9.0, 9.0, 9.0, 9.0};
    struct grib_bytes bytes = {0};
    wind_at(&bytes, 0, 5.0);
    add_wave(&bytes, 3, 0, heights);
    add_wave(&bytes, SEA_PERIOD, 0, periods);
    add_wave(&bytes, SEA_DIRECTION, 0, directions);
    struct loaded loaded = load_bytes(&bytes, NULL);
    /* energies 9 and 1: atan(1/9) */
    assert_angle_near(weather_at(&loaded, 49.5, -9.5, 0.0).sea.from_deg,
                      atan2(1.0, 9.0) / RADIANS_PER_DEGREE, 0.01);
    loaded_free(&loaded);
}

static void wind_sea_against_the_wind_is_a_likely_flip(void **state) {
    (void)state;
    static const double heights[4] = {2.0, 2.0, 2.0, 2.0};
    static const double periods[4] = {6.0, 6.0, 6.0, 6.0};
    for (int flipped = 0; flipped < 2; flipped++) {
        struct grib_bytes bytes = {0};
        double towards = flipped ? 90.0 : 270.0;
        const double directions[4] = {towards, towards, towards, towards};
        wind_at(&bytes, 0, 10.0); /* a westerly: from 270 */
        add_wave(&bytes, 5, 0, heights);
        add_wave(&bytes, 6, 0, periods);
        add_wave(&bytes, WIND_SEA_DIRECTION, 0, directions);
        struct loaded loaded = load_bytes(&bytes, NULL);
        char *warnings = warnings_text(&loaded);
        assert_int_equal(strstr(warnings, "opposed") != NULL, flipped);
        free(warnings);
        loaded_free(&loaded);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(waves_come_from_their_direction),
        cmocka_unit_test(directions_turn_the_short_way),
        cmocka_unit_test(directions_turn_the_short_way_in_time),
        cmocka_unit_test(opposed_directions_give_that_of_the_nearest_corner),
        cmocka_unit_test(high_waves_outweigh_low_ones_in_the_direction),
        cmocka_unit_test(wind_sea_against_the_wind_is_a_likely_flip),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
