/* The sun against published examples. */
#include "../support/check.h"

#include "base/instant.h"
#include "earth/angle.h"
#include "earth/sun.h"

#include <math.h>

static double seconds(const char *text) {
    struct instant instant;
    bool zone;
    if (!instant_parse(text, &instant, &zone))
        fail_msg("'%s' was refused", text);
    return (double)instant.unix_s;
}

static double altitude_at(double unix_s, struct position position) {
    return sun_altitude_deg(sun_at(unix_s), position);
}

/* Meeus, Astronomical Algorithms, 2nd ed., example 25.a: 1992-10-13 at 0 h
 * dynamical time (59 s before 0 h UTC, from memory), declination -7 47 06;
 * worked out further -7.785070. Example 28.b: equation of time 13 m 42.7 s at
 * that instant. */
static void examples_of_meeus(void **state) {
    (void)state;
    struct sun sun = sun_at(seconds("1992-10-13T00:00Z") - 59.0);
    assert_near(sun.declination_deg, -7.785070, 0.0003);
    double equation_min =
        (sun.greenwich_hour_angle_deg - 180.0) * 4.0 + 59.0 / 60.0;
    assert_near(equation_min, 13.0 + 42.7 / 60.0, 0.04);
}

/* From north, out of declination and hour angle (Meeus 13.5). */
static double azimuth(struct sun sun, struct position position) {
    double hour_rad =
        (sun.greenwich_hour_angle_deg + position.lon_deg) * RADIANS_PER_DEGREE;
    double lat_rad = position.lat_deg * RADIANS_PER_DEGREE;
    double dec_rad = sun.declination_deg * RADIANS_PER_DEGREE;
    double south_rad = atan2(sin(hour_rad), cos(hour_rad) * sin(lat_rad) -
                                                tan(dec_rad) * cos(lat_rad));
    return angle_wrap_360(180.0 + south_rad / RADIANS_PER_DEGREE);
}

/* Reda and Andreas, Solar Position Algorithm, NREL/TP-560-34302, rev. 2008,
 * table A5.1: 2003-10-17 12:30:30 at UTC-7; the method is good to 0.01 degree.
 */
static void the_example_of_the_solar_position_algorithm(void **state) {
    (void)state;
    struct position golden = {39.742476, -105.1786};
    double at = seconds("2003-10-17T12:30:30-07:00");
    struct sun sun = sun_at(at);
    assert_near(sun.declination_deg, -9.31434, 0.01);
    /* local hour angle 11.105902 */
    assert_angle_near(sun.greenwich_hour_angle_deg + golden.lon_deg, 11.105902,
                      0.01);
    /* elevation without refraction */
    assert_near(altitude_at(at, golden), 39.872046, 0.01);
    assert_near(azimuth(sun, golden), 194.340241, 0.01);
    /* sunrise 06:12:43, sunset 17:20:19 local: centre at -50' (USNO definition)
     */
    at = seconds("2003-10-17T06:12:43-07:00");
    assert_near(altitude_at(at, golden), SUN_RISE_DEG, 0.01);
    /* the sunset within that UTC day, which is the evening before */
    at = seconds("2003-10-16T17:20:19-07:00");
    assert_near(altitude_at(at, golden), SUN_RISE_DEG, 0.01);
}

/* U.S. Naval Observatory, Rise, Set, and Twilight Definitions: the centre at
 * 90 degrees 50 minutes from the zenith; civil twilight ends at 96 degrees,
 * nautical at 102. */
static void limits_are_those_of_the_naval_observatory(void **state) {
    (void)state;
    assert_near(SUN_RISE_DEG, 90.0 - (90.0 + 50.0 / 60.0), 0.00005);
    assert_near(SUN_CIVIL_DEG, 90.0 - 96.0, 0.0);
    assert_near(SUN_NAUTICAL_DEG, 90.0 - 102.0, 0.0);
}

/* The instant when the sun passes an altitude between two others. */
static double passing(struct position position, double altitude_deg,
                      const char *from, const char *to) {
    double low = seconds(from), high = seconds(to);
    bool below = altitude_at(low, position) < altitude_deg;
    assert_true(below != (altitude_at(high, position) < altitude_deg));
    while (high - low > 1.0) {
        double middle = 0.5 * (low + high);
        if ((altitude_at(middle, position) < altitude_deg) == below)
            low = middle;
        else
            high = middle;
    }
    return low;
}

static double lowest(struct position position, const char *day) {
    double least = 90.0, start = seconds(day);
    for (int minute = 0; minute < 1440; minute++)
        least = fmin(least, altitude_at(start + minute * 60.0, position));
    return least;
}

static double highest(struct position position, const char *day) {
    double most = -90.0, start = seconds(day);
    for (int minute = 0; minute < 1440; minute++)
        most = fmax(most, altitude_at(start + minute * 60.0, position));
    return most;
}

/* At high latitudes there may be no sunrise, no sunset, no night. The times
 * were computed apart from this program with another plain formula, good to
 * two minutes. By hand: at midnight on midsummer the sun stands at latitude
 * + 23.44 - 90 degrees: 3.4 at 70 N, -8.6 at 58 N. */
static void high_latitudes_have_light_all_day_or_none(void **state) {
    (void)state;
    struct position north = {70.0, 20.0};
    assert_near(lowest(north, "2024-06-21"), 70.0 + 23.44 - 90.0, 0.02);
    assert_int_equal(sun_light(sun_at(seconds("2024-06-21T22:41Z")), north),
                     LIGHT_DAY);
    assert_true(highest(north, "2024-12-21") < SUN_RISE_DEG);
    assert_near(
        passing(north, SUN_CIVIL_DEG, "2024-12-21T06:00Z", "2024-12-21T10:38Z"),
        seconds("2024-12-21T08:34Z"), 120.0);
    assert_near(
        passing(north, SUN_CIVIL_DEG, "2024-12-21T10:38Z", "2024-12-21T15:00Z"),
        seconds("2024-12-21T12:41Z"), 120.0);
    struct position middle = {58.0, 0.0};
    assert_near(lowest(middle, "2024-06-21"), 58.0 + 23.44 - 90.0, 0.02);
    assert_near(
        passing(middle, SUN_RISE_DEG, "2024-06-21T01:00Z", "2024-06-21T06:00Z"),
        seconds("2024-06-21T02:56Z"), 90.0);
    assert_near(
        passing(middle, SUN_RISE_DEG, "2024-06-21T18:00Z", "2024-06-21T23:00Z"),
        seconds("2024-06-21T21:07Z"), 90.0);
}

/* Either side of 180 degrees the sun sets and rises within a minute, with no
 * jump of a day. Times computed as above. */
static void the_date_line_moves_no_day(void **state) {
    (void)state;
    struct position west = {-17.0, 179.9}, east = {-17.0, -179.9};
    static const char *const day[] = {"2024-06-01T03:00Z", "2024-06-01T09:00Z",
                                      "2024-06-01T21:00Z"};
    assert_near(passing(west, SUN_RISE_DEG, day[0], day[1]),
                seconds("2024-06-01T05:33Z"), 60.0);
    assert_near(passing(east, SUN_RISE_DEG, day[0], day[1]),
                seconds("2024-06-01T05:32Z"), 60.0);
    assert_near(passing(west, SUN_RISE_DEG, day[1], day[2]),
                seconds("2024-06-01T18:23Z"), 60.0);
    assert_near(passing(east, SUN_RISE_DEG, day[1], day[2]),
                seconds("2024-06-01T18:22Z"), 60.0);
    struct position chatham = {-44.0, -176.58};
    assert_near(passing(chatham, SUN_RISE_DEG, "2024-06-12T02:00Z",
                        "2024-06-12T08:00Z"),
                seconds("2024-06-12T04:14Z"), 60.0);
    assert_near(passing(chatham, SUN_RISE_DEG, "2024-06-12T14:00Z",
                        "2024-06-12T22:00Z"),
                seconds("2024-06-12T19:18Z"), 60.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(examples_of_meeus),
        cmocka_unit_test(the_example_of_the_solar_position_algorithm),
        cmocka_unit_test(limits_are_those_of_the_naval_observatory),
        cmocka_unit_test(high_latitudes_have_light_all_day_or_none),
        cmocka_unit_test(the_date_line_moves_no_day),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
