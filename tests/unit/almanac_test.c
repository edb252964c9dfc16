#include "../support/check.h"

#include "earth/almanac.h"
#include "earth/angle.h"

#define EQUINOX_S 1710892800.0 /* date -u -d 2024-03-20 +%s */
#define HOUR_S 3600.0
#define DAY_S 86400.0

static const struct position gulf = {0.0, 0.0};

/* At the equator on the day of the equinox, worked out by hand: noon at
 * 12:07:26 (the equation of time of that day), the sun 15 degrees further every
 * hour, her rim on the horizon at -0.833 degrees, 3 min 20 s before 06:07:26.
 */
static void the_next_one_is_found_to_the_second(void **state) {
    (void)state;
    struct observer observer = observer_at(&gulf);
    struct figure rise =
        almanac_next(ALMANAC_SUNRISE, &observer, EQUINOX_S, EQUINOX_S + DAY_S);
    assert_true(rise.known);
    assert_near(rise.value, EQUINOX_S + 6.0 * HOUR_S + 4.0 * 60.0 + 6.0, 6.0);
    double before =
        almanac_height_deg(ALMANAC_SUNRISE, &observer, rise.value - 1.0);
    assert_true(before <= 0.0);
    assert_true(almanac_height_deg(ALMANAC_SUNRISE, &observer, rise.value) >
                0.0);
    struct figure dusk = almanac_next(ALMANAC_CIVIL_DUSK, &observer, EQUINOX_S,
                                      EQUINOX_S + DAY_S);
    struct figure dark = almanac_next(ALMANAC_NAUTICAL_DUSK, &observer,
                                      EQUINOX_S, EQUINOX_S + DAY_S);
    assert_near(dark.value - dusk.value, 6.0 / 15.0 * HOUR_S, 6.0);
}

/* After its start and up to its end. */
static void only_what_lies_in_the_time_counts(void **state) {
    (void)state;
    struct observer observer = observer_at(&gulf);
    double rise_s =
        almanac_next(ALMANAC_SUNRISE, &observer, EQUINOX_S, EQUINOX_S + DAY_S)
            .value;
    assert_true(
        almanac_next(ALMANAC_SUNRISE, &observer, rise_s - 2.0, rise_s).known);
    assert_false(
        almanac_next(ALMANAC_SUNRISE, &observer, EQUINOX_S, rise_s - 2.0)
            .known);
    assert_false(
        almanac_next(ALMANAC_SUNRISE, &observer, rise_s, rise_s).known);
    struct figure next =
        almanac_next(ALMANAC_SUNRISE, &observer, rise_s, rise_s + 2.0 * DAY_S);
    assert_near(next.value, rise_s + DAY_S, 60.0);
}

/* Due west at 900 knots at the equator the sun stands still. */
static struct position with_the_sun(const void *context, double unix_s) {
    (void)context;
    double lon_deg = -(unix_s - EQUINOX_S) * 360.0 / DAY_S;
    return (struct position){0.0, angle_wrap_longitude(lon_deg)};
}

static void who_goes_with_the_sun_stays_in_the_light_he_has(void **state) {
    (void)state;
    struct observer observer = {with_the_sun, NULL};
    for (enum almanac_event event = 0; event < ALMANAC_MOONRISE; event++)
        assert_false(
            almanac_next(event, &observer, EQUINOX_S, EQUINOX_S + 3.0 * DAY_S)
                .known);
}

/* Noon at 12:07:26 at Greenwich (as above): midnight half a day from it, four
 * minutes earlier for every degree of longitude east. */
static void the_middle_of_the_night_goes_by_the_place(void **state) {
    (void)state;
    struct position places[] = {{0.0, 0.0}, {50.0, 30.0}, {-20.0, -179.9}};
    const double expected_s[] = {446.0, 22.0 * HOUR_S + 446.0,
                                 12.0 * HOUR_S + 422.0};
    for (size_t i = 0; i < 3; i++) {
        struct observer observer = observer_at(&places[i]);
        assert_near(almanac_midnight(&observer, EQUINOX_S) - EQUINOX_S,
                    expected_s[i], 20.0);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_next_one_is_found_to_the_second),
        cmocka_unit_test(only_what_lies_in_the_time_counts),
        cmocka_unit_test(who_goes_with_the_sun_stays_in_the_light_he_has),
        cmocka_unit_test(the_middle_of_the_night_goes_by_the_place),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
