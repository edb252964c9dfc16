#include "../support/check.h"

#include "forecast/turn.h"
#include <math.h>

/* Directions of a grid's north, calculated by hand:
 *   Lambert cut at 38.5 N: sin 38.5 = 0.62251, 20 degrees east of the meridian
 *   12.450; at 33 and 45 N the constant is 0.630477 (Snyder, Map Projections,
 *   1987, p. 295, from memory: n = 0.6304965 for 33 and 45 N on the ellipsoid);
 *   polar stereographic: the difference of longitudes, south of the equator
 *   the other way. */
static void a_cone_turns_by_its_constant(void **state) {
    (void)state;
    assert_near(turn_cone(38.5, 38.5), 0.622515, 1e-6);
    assert_near(turn_cone(-38.5, -38.5), -0.622515, 1e-6);
    assert_near(turn_cone(33.0, 45.0), 0.6304965, 2e-4);
    assert_near(turn_cone(45.0, 33.0), turn_cone(33.0, 45.0), 1e-12);
    static const struct {
        double cone, meridian, lon, turn;
    } cases[] = {
        {0.622515, 262.5, -77.5, 12.4503}, {0.622515, 262.5, -117.5, -12.4503},
        {0.622515, -97.5, 262.5, 0.0},     {1.0, 170.0, -170.0, 20.0},
        {1.0, -170.0, 170.0, -20.0},       {-1.0, 0.0, 30.0, -30.0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct turn turn = {.kind = TURN_CONE,
                            .cone = cases[i].cone,
                            .meridian_deg = cases[i].meridian};
        struct position position = {38.5, cases[i].lon};
        assert_near(turn_deg(&turn, position), cases[i].turn, 1e-3);
    }
}

/* At a place 90 degrees of longitude from the shifted pole, on the equator, the
 * course to it is 90 degrees less its latitude, east or west of north; south of
 * it, along its meridian, it is north; beyond it, south. */
static void a_shifted_pole_is_north(void **state) {
    (void)state;
    struct turn turn = {.kind = TURN_POLE, .north_pole = {40.0, 180.0}};
    static const struct {
        double lat, lon, turn;
    } cases[] = {{0.0, 90.0, 50.0},
                 {0.0, -90.0, -50.0},
                 {0.0, 180.0, 0.0},
                 {60.0, 180.0, 180.0},
                 {50.0, 0.0, 0.0}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct position position = {cases[i].lat, cases[i].lon};
        assert_angle_near(turn_deg(&turn, position), cases[i].turn, 1e-9);
    }
}

/* The north component of a grid whose north is 12.45 degrees true blows from
 * 192.45; its east component from 282.45. */
static void components_turn_clockwise(void **state) {
    (void)state;
    struct turn turn = {.kind = TURN_CONE,
                        .cone = turn_cone(38.5, 38.5),
                        .meridian_deg = 262.5};
    struct position position = {38.5, -77.5};
    struct vector_mps up =
        turn_vector(&turn, position, (struct vector_mps){0.0, 10.0});
    struct vector_mps right =
        turn_vector(&turn, position, (struct vector_mps){10.0, 0.0});
    assert_near(vector_direction_from(up), 192.45, 0.001);
    assert_near(vector_direction_from(right), 282.45, 0.001);
    assert_near(vector_length(up), 10.0, 1e-12);
    turn.kind = TURN_NONE;
    up = turn_vector(&turn, position, (struct vector_mps){0.0, 10.0});
    assert_near(vector_direction_from(up), 180.0, 1e-12);
}

static void turns_are_the_same_within_the_rounding_of_files(void **state) {
    (void)state;
    struct turn a = {TURN_CONE, 0.6, 262.5, {0.0, 0.0}}, b = a;
    b.meridian_deg = -97.5 + 0.001;
    assert_true(turn_same(&a, &b));
    b.meridian_deg = -97.0;
    assert_false(turn_same(&a, &b));
    b = a;
    b.kind = TURN_NONE;
    assert_false(turn_same(&a, &b));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_cone_turns_by_its_constant),
        cmocka_unit_test(a_shifted_pole_is_north),
        cmocka_unit_test(components_turn_clockwise),
        cmocka_unit_test(turns_are_the_same_within_the_rounding_of_files),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
