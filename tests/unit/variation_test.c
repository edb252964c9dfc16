#include "../support/check.h"

#include "earth/angle.h"
#include "earth/variation.h"

#include <math.h>

static struct instant at(const char *text) {
    struct instant instant;
    bool zone;
    assert_true(instant_parse(text, &instant, &zone));
    return instant;
}

static void the_model_holds_for_five_years(void **state) {
    (void)state;
    static const struct {
        const char *text;
        bool covered;
    } cases[] = {
        {"2024-12-31T23:59:59Z", false}, {"2025-01-01T00:00:00Z", true},
        {"2027-07-01T12:00:00Z", true},  {"2029-12-31T23:59:59Z", true},
        {"2030-01-01T00:00:00Z", false}, {"1970-01-01T00:00:00Z", false},
    };
    struct position place = {16.0, -25.0};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        assert_int_equal(variation_covers(at(cases[i].text)), cases[i].covered);
        assert_int_equal(variation_at(place, at(cases[i].text)).known,
                         cases[i].covered);
    }
}

/* The field goes straight from year to year, leap years or not: 2028 is one,
 * and its middle is the start of 2 July, 183 days after its own. */
static void a_day_counts_by_its_own_year(void **state) {
    (void)state;
    struct position place = {16.0, -25.0};
    struct magnetic_field field = variation_field(place, 0.0, 2028.5);
    double expected = atan2(field.east_nt, field.north_nt) / RADIANS_PER_DEGREE;
    struct figure told = variation_at(place, at("2028-07-02T00:00:00Z"));
    assert_near(told.value, expected, 1e-9);
    field = variation_field(place, 0.0, 2027.0);
    expected = atan2(field.east_nt, field.north_nt) / RADIANS_PER_DEGREE;
    told = variation_at(place, at("2027-01-01T00:00:00Z"));
    assert_near(told.value, expected, 1e-9);
}

/* The magnetic poles of 2025 are near 86 N 139 E and 64 S 136 E (the model's
 * authors; from memory). */
static void round_the_magnetic_poles_it_is_unknown(void **state) {
    (void)state;
    struct instant then = at("2025-06-01");
    assert_false(variation_at((struct position){85.8, 139.0}, then).known);
    assert_false(variation_at((struct position){-63.9, 135.6}, then).known);
    assert_true(variation_at((struct position){70.0, 20.0}, then).known);
    assert_true(variation_at((struct position){-55.0, 135.6}, then).known);
}

/* At the geographic pole the field is one and the same; each meridian measures
 * it from its own north. */
static void at_the_geographic_poles_it_goes_by_the_meridian(void **state) {
    (void)state;
    for (double lat_deg = -90.0; lat_deg <= 90.0; lat_deg += 180.0) {
        struct magnetic_field zero =
            variation_field((struct position){lat_deg, 0.0}, 0.0, 2026.0);
        double size = hypot(zero.north_nt, zero.east_nt);
        double first = atan2(zero.east_nt, zero.north_nt) / RADIANS_PER_DEGREE;
        for (double lon_deg = -180.0; lon_deg < 180.0; lon_deg += 45.0) {
            struct magnetic_field field = variation_field(
                (struct position){lat_deg, lon_deg}, 0.0, 2026.0);
            assert_near(hypot(field.north_nt, field.east_nt), size, 0.01);
            double turned = lat_deg > 0.0 ? first + lon_deg : first - lon_deg;
            assert_angle_near(atan2(field.east_nt, field.north_nt) /
                                  RADIANS_PER_DEGREE,
                              turned, 0.001);
            assert_near(field.down_nt, zero.down_nt, 0.01);
        }
    }
}

static void the_date_line_is_no_border(void **state) {
    (void)state;
    struct instant then = at("2026-03-10T06:00Z");
    for (double lat_deg = -50.0; lat_deg <= 60.0; lat_deg += 10.0) {
        struct figure west =
            variation_at((struct position){lat_deg, -180.0}, then);
        struct figure east = variation_at(
            (struct position){lat_deg, nextafter(180.0, 0.0)}, then);
        assert_near(west.value, east.value, 1e-9);
    }
}

/* "Variation east, compass least" (common practice, no source). */
static void east_is_taken_off_for_the_compass(void **state) {
    (void)state;
    assert_near(variation_magnetic(262.0, -13.0), 275.0, 0.0);
    assert_near(variation_magnetic(262.0, 13.0), 249.0, 0.0);
    assert_near(variation_magnetic(5.0, 13.0), 352.0, 1e-12);
    assert_near(variation_magnetic(355.0, -13.0), 8.0, 1e-12);
    assert_near(variation_magnetic(10.0, 10.0), 0.0, 0.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_model_holds_for_five_years),
        cmocka_unit_test(a_day_counts_by_its_own_year),
        cmocka_unit_test(round_the_magnetic_poles_it_is_unknown),
        cmocka_unit_test(at_the_geographic_poles_it_goes_by_the_meridian),
        cmocka_unit_test(the_date_line_is_no_border),
        cmocka_unit_test(east_is_taken_off_for_the_compass),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
