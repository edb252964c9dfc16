/* Rising and setting against published examples and times worked out apart
 * from this program. */
#include "../support/check.h"

#include "base/instant.h"
#include "earth/almanac.h"
#include "earth/moon.h"
#include "earth/sun.h"

static double seconds(const char *text) {
    struct instant instant;
    bool zone;
    if (!instant_parse(text, &instant, &zone))
        fail_msg("'%s' was refused", text);
    return (double)instant.unix_s;
}

#define DAY_S 86400.0

static void comes(enum almanac_event event, struct position place,
                  const char *from, const char *expected, double tolerance_s) {
    struct observer observer = observer_at(&place);
    double from_s = seconds(from);
    struct figure at = almanac_next(event, &observer, from_s, from_s + DAY_S);
    assert_true(at.known);
    assert_near(at.value, seconds(expected), tolerance_s);
}

static void stays_away(enum almanac_event event, struct position place,
                       const char *from) {
    struct observer observer = observer_at(&place);
    double from_s = seconds(from);
    assert_false(almanac_next(event, &observer, from_s, from_s + DAY_S).known);
}

/* Reda and Andreas, Solar Position Algorithm, NREL/TP-560-34302, rev. 2008,
 * table A5.1 and the tester's output: 2003-10-17, sunrise 06:12:43, sunset
 * 17:20:19 at UTC-7. The sunset is that of the UTC day, the evening before, a
 * minute and a half later than that of the 17th. */
static void the_example_of_the_solar_position_algorithm(void **state) {
    (void)state;
    struct position golden = {39.742476, -105.1786};
    comes(ALMANAC_SUNRISE, golden, "2003-10-17T00:00-07:00",
          "2003-10-17T06:12:43-07:00", 10.0);
    comes(ALMANAC_SUNSET, golden, "2003-10-16T12:00-07:00",
          "2003-10-16T17:20:19-07:00", 10.0);
}

/* The same place and day, by an ephemeris of another make (run once): moonrise
 * and moonset, civil and nautical twilight. */
static void the_moon_and_the_twilights_of_that_day(void **state) {
    (void)state;
    struct position golden = {39.742476, -105.1786};
    static const char midnight[] = "2003-10-17T00:00-07:00";
    comes(ALMANAC_MOONRISE, golden, midnight, "2003-10-18T05:12:48Z", 20.0);
    comes(ALMANAC_MOONSET, golden, midnight, "2003-10-17T20:08:37Z", 20.0);
    comes(ALMANAC_CIVIL_DAWN, golden, midnight, "2003-10-17T12:45:29Z", 20.0);
    comes(ALMANAC_CIVIL_DUSK, golden, midnight, "2003-10-18T00:46:04Z", 20.0);
    comes(ALMANAC_NAUTICAL_DAWN, golden, midnight, "2003-10-17T12:14:08Z",
          20.0);
    comes(ALMANAC_NAUTICAL_DUSK, golden, midnight, "2003-10-18T01:17:22Z",
          20.0);
}

/* At high latitudes there may be no sunrise, no sunset, no full darkness. The
 * times were worked out with another plain formula, good to two minutes. */
static void at_high_latitudes_there_may_be_none(void **state) {
    (void)state;
    struct position north = {70.0, 20.0};
    static const char summer[] = "2024-06-21", winter[] = "2024-12-21";
    stays_away(ALMANAC_SUNSET, north, summer);
    stays_away(ALMANAC_SUNRISE, north, summer);
    stays_away(ALMANAC_CIVIL_DUSK, north, summer);
    stays_away(ALMANAC_SUNRISE, north, winter);
    stays_away(ALMANAC_SUNSET, north, winter);
    comes(ALMANAC_CIVIL_DAWN, north, winter, "2024-12-21T08:34Z", 120.0);
    comes(ALMANAC_CIVIL_DUSK, north, winter, "2024-12-21T12:41Z", 120.0);
    struct position middle = {58.0, 0.0};
    stays_away(ALMANAC_NAUTICAL_DUSK, middle, summer);
    stays_away(ALMANAC_NAUTICAL_DAWN, middle, summer);
    comes(ALMANAC_SUNRISE, middle, summer, "2024-06-21T02:56Z", 120.0);
    comes(ALMANAC_SUNSET, middle, summer, "2024-06-21T21:07Z", 120.0);
}

/* Either side of 180 degrees the sun sets and rises within a minute. Times
 * worked out as above. */
static void the_date_line_moves_no_day(void **state) {
    (void)state;
    struct position west = {-17.0, 179.9}, east = {-17.0, -179.9};
    static const char day[] = "2024-06-01";
    comes(ALMANAC_SUNSET, west, day, "2024-06-01T05:33Z", 60.0);
    comes(ALMANAC_SUNSET, east, day, "2024-06-01T05:32Z", 60.0);
    comes(ALMANAC_SUNRISE, west, day, "2024-06-01T18:23Z", 60.0);
    comes(ALMANAC_SUNRISE, east, day, "2024-06-01T18:22Z", 60.0);
    struct position chatham = {-44.0, -176.58};
    comes(ALMANAC_SUNSET, chatham, "2024-06-12", "2024-06-12T04:14Z", 60.0);
    comes(ALMANAC_SUNRISE, chatham, "2024-06-12", "2024-06-12T19:18Z", 60.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_example_of_the_solar_position_algorithm),
        cmocka_unit_test(the_moon_and_the_twilights_of_that_day),
        cmocka_unit_test(at_high_latitudes_there_may_be_none),
        cmocka_unit_test(the_date_line_moves_no_day),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
