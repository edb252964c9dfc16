/* The moon against published examples. */
#include "../support/check.h"

#include "base/instant.h"
#include "earth/ellipsoid.h"
#include "earth/moon.h"

#include <math.h>

/* 1992-04-12 at 0 h dynamical time, by way of the 69 s that earth/sky.c takes
 * between it and UTC whatever the year. */
static double example_s(void) {
    struct instant instant;
    bool zone;
    assert_true(instant_parse("1992-04-12T00:00Z", &instant, &zone));
    return (double)instant.unix_s - 69.0;
}

/* Meeus, Astronomical Algorithms, 2nd ed., example 47.a: longitude 133.162655,
 * latitude -3.229126, distance 368409.7 km, parallax 0.991990 degree. The
 * greater terms alone are good to 0.010 and 0.007 degree and 31 km. */
static void the_example_of_the_moons_place(void **state) {
    (void)state;
    struct moon moon = moon_at(example_s());
    assert_near(moon.longitude_deg, 133.162655, 0.010);
    assert_near(moon.latitude_deg, -3.229126, 0.007);
    assert_near(moon.distance_m, 368409.7e3, 31e3);
    double parallax_deg =
        asin(WGS84_EQUATOR_M / moon.distance_m) * 180.0 / acos(-1.0);
    assert_near(parallax_deg, 0.991990, 0.0001);
    /* The same example: apparent declination 13.768368 (from memory). */
    assert_near(moon.declination_deg, 13.768368, 0.010);
}

/* Example 48.a, the same instant: 0.6786 of the disk is lit (phase angle
 * 69.0756 degrees, worked out further 0.678568). */
static void the_example_of_the_lit_fraction(void **state) {
    (void)state;
    double at = example_s();
    assert_near(moon_lit_frac(moon_at(at), sun_at(at)), 0.678568, 0.0002);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_example_of_the_moons_place),
        cmocka_unit_test(the_example_of_the_lit_fraction),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
