#include "../support/check.h"

#include "earth/angle.h"

#include <math.h>

static void angles_wrap_into_their_ranges(void **state) {
    (void)state;
    static const struct {
        double angle, in_360, in_180, as_longitude;
    } cases[] = {
        {0, 0, 0, 0},
        {-0.0, 0, 0, 0},
        {180, 180, 180, -180},
        {-180, 180, 180, -180},
        {179.5, 179.5, 179.5, 179.5},
        {180.5, 180.5, -179.5, -179.5},
        {-180.5, 179.5, 179.5, 179.5},
        {359.5, 359.5, -0.5, -0.5},
        {360, 0, 0, 0},
        {-360, 0, 0, 0},
        {540, 180, 180, -180},
        {-90, 270, -90, -90},
        {3600.25, 0.25, 0.25, 0.25},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        double angle = cases[i].angle;
        assert_near(angle_wrap_360(angle), cases[i].in_360, 0.0);
        assert_near(angle_wrap_180(angle), cases[i].in_180, 0.0);
        assert_near(angle_wrap_longitude(angle), cases[i].as_longitude, 0.0);
        assert_false(signbit(angle_wrap_360(angle)));
    }
}

/* A course is printed as 000 to 359: 360 never comes out, however small the
 * negative angle. */
static void a_hair_below_zero_is_not_360(void **state) {
    (void)state;
    for (double hair = 1.0; hair > 1e-320; hair /= 3.0) {
        assert_true(angle_wrap_360(-hair) < 360.0);
        assert_true(angle_wrap_360(-hair) >= 0.0);
        assert_true(angle_wrap_longitude(180.0 - hair) < 180.0);
        assert_true(angle_wrap_longitude(-180.0 - hair) < 180.0);
        assert_true(angle_wrap_180(-180.0 - hair) > -180.0);
    }
}

static void seeded_angles_stay_the_same_direction(void **state) {
    (void)state;
    struct seed seed = {1};
    for (int i = 0; i < 5000; i++) {
        double angle = seed_between(&seed, -5000.0, 5000.0);
        double a = angle_wrap_360(angle), b = angle_wrap_180(angle),
               c = angle_wrap_longitude(angle);
        assert_true(a >= 0.0 && a < 360.0);
        assert_true(b > -180.0 && b <= 180.0);
        assert_true(c >= -180.0 && c < 180.0);
        assert_angle_near(a, angle, 1e-11);
        assert_angle_near(b, angle, 1e-11);
        assert_angle_near(c, angle, 1e-11);
    }
}

static void a_longitude_inside_keeps_its_bits(void **state) {
    (void)state;
    struct seed seed = {2};
    for (int i = 0; i < 1000; i++) {
        double lon = seed_between(&seed, -180.0, 180.0);
        assert_near(angle_wrap_longitude(lon), lon, 0.0);
    }
}

static void turns_take_the_shorter_way(void **state) {
    (void)state;
    static const struct {
        double from, to, turn;
    } cases[] = {{350, 10, 20},  {10, 350, -20},      {0, 180, 180},
                 {180, 0, 180},  {90, 271, -179},     {90, 269, 179},
                 {179, -179, 2}, {-179.5, 179, -1.5}, {42, 42, 0}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_near(angle_turn(cases[i].from, cases[i].to), cases[i].turn, 0.0);
}

static void quadrants_are_exact(void **state) {
    (void)state;
    static const double sines[] = {0, 1, 0, -1}, cosines[] = {1, 0, -1, 0};
    for (int i = -8; i <= 8; i++) {
        double s, c;
        sincos_deg(90.0 * i, &s, &c);
        assert_near(s, sines[(i + 8) % 4], 0.0);
        assert_near(c, cosines[(i + 8) % 4], 0.0);
        assert_false(signbit(s) && s > -0.5); /* no minus zero */
        assert_false(signbit(c) && c > -0.5);
    }
    double s, c;
    sincos_deg(30.0, &s, &c);
    assert_near(s, 0.5, 1.2e-16);
    sincos_deg(-240.0, &s, &c);
    assert_near(c, -0.5, 1.2e-16);
}

/* Against the sin() and cos() of the C library. */
static void sine_and_cosine_agree_with_the_library(void **state) {
    (void)state;
    for (int i = -72000; i <= 72000; i++) {
        double angle = i * 0.005, s, c;
        sincos_deg(angle, &s, &c);
        /* the library's angle in radians is itself rounded */
        double slack = 1.2e-16 + fabs(angle * RADIANS_PER_DEGREE) * 2e-16;
        assert_near(s, sin(angle * RADIANS_PER_DEGREE), slack);
        assert_near(c, cos(angle * RADIANS_PER_DEGREE), slack);
    }
    for (int i = -4500; i <= 4500; i++) {
        double angle = i * 0.01, s, c;
        sincos_deg(angle, &s, &c);
        assert_near(s, sin(angle * RADIANS_PER_DEGREE), 1.2e-16);
        assert_near(c, cos(angle * RADIANS_PER_DEGREE), 1.2e-16);
        assert_near(s * s + c * c, 1.0, 4e-16);
    }
}

static void huge_angles_still_have_a_sine(void **state) {
    (void)state;
    double s, c;
    sincos_deg(360e12 + 30.0, &s, &c);
    assert_near(s, 0.5, 1e-15);
    sincos_deg(-360e12 - 90.0, &s, &c);
    assert_near(s, -1.0, 0.0);
    sincos_deg(1e300, &s, &c);
    assert_near(s * s + c * c, 1.0, 1e-15);
}

/* u eastward, v northward; wind is named for where it comes from: u = 10,
 * v = 0 is wind from 270; 20 kn from 045 is u = v = -7.2753 m/s (published
 * conventions of wind barbs; the second by u = -S sin D, v = -S cos D). */
static void winds_come_from_and_currents_go_to(void **state) {
    (void)state;
    struct vector_mps west = {10.0, 0.0};
    assert_near(vector_direction_from(west), 270.0, 0.0);
    assert_near(vector_direction_towards(west), 90.0, 0.0);
    struct vector_mps wind = vector_from(45.0, 20.0 * 1852.0 / 3600.0);
    assert_near(wind.east, -7.2753, 5e-5);
    assert_near(wind.north, -7.2753, 5e-5);
    struct vector_mps current = vector_towards(45.0, 20.0 * 1852.0 / 3600.0);
    assert_near(current.east, 7.2753, 5e-5);
    struct vector_mps south = vector_from(0.0, 3.0); /* from the north */
    assert_near(south.north, -3.0, 0.0);
    assert_near(south.east, 0.0, 0.0);
}

static void vectors_keep_length_and_direction(void **state) {
    (void)state;
    struct seed seed = {3};
    for (int i = 0; i < 2000; i++) {
        double direction = seed_between(&seed, 0.0, 360.0);
        double speed = seed_between(&seed, 0.01, 40.0);
        struct vector_mps vector = vector_from(direction, speed);
        assert_near(vector_length(vector), speed, 1e-13);
        assert_angle_near(vector_direction_from(vector), direction, 1e-12);
        assert_angle_near(vector_direction_towards(vector), direction + 180.0,
                          1e-12);
    }
    for (int i = 0; i < 4; i++) {
        struct vector_mps vector = vector_from(90.0 * i, 7.0);
        assert_near(vector_direction_from(vector), 90.0 * i, 0.0);
    }
}

static void calm_has_a_direction_of_zero(void **state) {
    (void)state;
    struct vector_mps calms[] = {{0, 0}, {-0.0, 0}, {0, -0.0}, {-0.0, -0.0}};
    for (int i = 0; i < 4; i++) {
        assert_near(vector_direction_from(calms[i]), 0.0, 0.0);
        assert_near(vector_direction_towards(calms[i]), 0.0, 0.0);
        assert_near(vector_length(calms[i]), 0.0, 0.0);
    }
}

/* The series against the library's arc tangent, over all eight octants and
 * close to their edges. */
static void directions_are_those_of_the_arc_tangent(void **state) {
    (void)state;
    struct seed seed = {109};
    for (int i = 0; i < 200000; i++) {
        double east = seed_between(&seed, -20.0, 20.0);
        double north = seed_between(&seed, -20.0, 20.0);
        if (i % 5 == 0)
            east *= 1e-7;
        if (i % 7 == 0)
            north = (i % 2 ? east : -east) * (1.0 + 1e-10 * (i % 100));
        double expected_deg = atan2(east, north) * (180.0 / PI);
        if (expected_deg < 0.0)
            expected_deg += 360.0;
        double direction_deg =
            vector_direction_towards((struct vector_mps){east, north});
        assert_true(direction_deg >= 0.0 && direction_deg < 360.0);
        assert_near(remainder(direction_deg - expected_deg, 360.0), 0.0, 2e-13);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(angles_wrap_into_their_ranges),
        cmocka_unit_test(a_hair_below_zero_is_not_360),
        cmocka_unit_test(seeded_angles_stay_the_same_direction),
        cmocka_unit_test(a_longitude_inside_keeps_its_bits),
        cmocka_unit_test(turns_take_the_shorter_way),
        cmocka_unit_test(quadrants_are_exact),
        cmocka_unit_test(sine_and_cosine_agree_with_the_library),
        cmocka_unit_test(huge_angles_still_have_a_sine),
        cmocka_unit_test(winds_come_from_and_currents_go_to),
        cmocka_unit_test(vectors_keep_length_and_direction),
        cmocka_unit_test(calm_has_a_direction_of_zero),
        cmocka_unit_test(directions_are_those_of_the_arc_tangent),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
