#include "../support/check.h"

#include "earth/angle.h"
#include "earth/geodesic.h"
#include "earth/rhumb.h"

#include <math.h>

static double apart_m(struct position a, struct position b) {
    return geodesic_between(a, b).distance_m;
}

static struct position seeded_position(struct seed *seed, double lat_high) {
    return (struct position){seed_between(seed, -lat_high, lat_high),
                             seed_between(seed, -180.0, 180.0)};
}

/* North and south a rhumb line is a meridian, and so a geodesic: two ways to
 * the same length, by our series and by PROJ's. */
static void meridians_agree_with_the_geodesic(void **state) {
    (void)state;
    struct seed seed = {7};
    for (int i = 0; i < 500; i++) {
        struct position from = seeded_position(&seed, 89.0);
        struct position to = {seed_between(&seed, -89.0, 89.0), from.lon_deg};
        struct rhumb rhumb = rhumb_between(from, to);
        assert_near(rhumb.distance_m, apart_m(from, to), 1e-6);
        assert_near(rhumb.course_deg, to.lat_deg > from.lat_deg ? 0.0 : 180.0,
                    0.0);
    }
}

/* Along a parallel it is an arc of a circle: radius a cos(lat) / sqrt(1 - e2
 * sin2(lat)). */
static void parallels_are_arcs_of_circles(void **state) {
    (void)state;
    double e2 = 0.0066943799901413165;
    for (int lat = -89; lat <= 89; lat++) {
        double lat_rad = lat * RADIANS_PER_DEGREE;
        double radius_m = 6378137.0 * cos(lat_rad) /
                          sqrt(1.0 - e2 * sin(lat_rad) * sin(lat_rad));
        struct position from = {lat, 100.0}, to = {lat, -160.0};
        struct rhumb rhumb = rhumb_between(from, to);
        assert_near(rhumb.distance_m, radius_m * 100.0 * RADIANS_PER_DEGREE,
                    1e-6);
        assert_near(rhumb.course_deg, 90.0, 0.0);
        assert_near(rhumb_between(to, from).course_deg, 270.0, 0.0);
        struct position ahead = rhumb_ahead(from, 90.0, rhumb.distance_m);
        assert_near(ahead.lat_deg, lat, 1e-12);
        assert_angle_near(ahead.lon_deg, to.lon_deg, 1e-9);
    }
}

/* Direct and inverse undo each other. */
static void ahead_and_between_undo_each_other(void **state) {
    (void)state;
    struct seed seed = {8};
    for (int i = 0; i < 5000; i++) {
        struct position from = seeded_position(&seed, 89.0);
        struct position to = seeded_position(&seed, 89.0);
        if (i % 3 == 0) /* nearly along a parallel, where formulas cancel */
            to.lat_deg = from.lat_deg + pow(10.0, seed_between(&seed, -14, -1));
        struct rhumb rhumb = rhumb_between(from, to);
        struct position back =
            rhumb_ahead(from, rhumb.course_deg, rhumb.distance_m);
        assert_true(rhumb.course_deg >= 0.0 && rhumb.course_deg < 360.0);
        assert_true(apart_m(back, to) < 1e-3);
    }
}

/* The same line in small geodesic steps: their sum comes short of it by the
 * chords only, under 0.3 m in 5,000 km here. */
static void the_length_is_that_of_its_pieces(void **state) {
    (void)state;
    struct seed seed = {9};
    for (int i = 0; i < 20; i++) {
        struct position from = seeded_position(&seed, 50.0);
        double course_deg = seed_between(&seed, 60.0, 120.0);
        struct position last = from;
        double sum_m = 0.0;
        for (int piece = 1; piece <= 2000; piece++) {
            struct position next =
                rhumb_ahead(from, course_deg, piece * 2500.0);
            sum_m += apart_m(last, next);
            last = next;
        }
        assert_near(sum_m, 5e6, 0.3);
        assert_near(rhumb_between(from, last).distance_m, 5e6, 1e-3);
    }
}

/* A step must not jump where the formula changes from the integral over a
 * narrow strip to the difference of the long formulas. */
static void narrow_and_wide_strips_join(void **state) {
    (void)state;
    double edge_deg = 1e-3 / RADIANS_PER_DEGREE;
    for (int lat = -88; lat <= 88; lat++) {
        struct position from = {lat, 0.0};
        struct position below = {lat + edge_deg * (1.0 - 1e-9), 40.0};
        struct position above = {lat + edge_deg * (1.0 + 1e-9), 40.0};
        struct rhumb narrow = rhumb_between(from, below);
        struct rhumb wide = rhumb_between(from, above);
        assert_near(narrow.distance_m, wide.distance_m, 1e-3);
        assert_near(narrow.course_deg, wide.course_deg, 1e-8);
    }
}

static void the_date_line_is_no_border(void **state) {
    (void)state;
    struct rhumb across = rhumb_between((struct position){-17.0, 179.5},
                                        (struct position){-18.0, -179.5});
    struct rhumb same = rhumb_between((struct position){-17.0, -0.5},
                                      (struct position){-18.0, 0.5});
    assert_near(across.distance_m, same.distance_m, 1e-6);
    assert_near(across.course_deg, same.course_deg, 1e-9);
    struct position ahead =
        rhumb_ahead((struct position){-17.0, 179.5}, 90.0, 2e5);
    assert_true(ahead.lon_deg < -178.0 && ahead.lon_deg >= -180.0);
    ahead = rhumb_step((struct position){-17.0, 179.99}, 90.0, 2e4);
    assert_true(ahead.lon_deg < -179.0 && ahead.lon_deg >= -180.0);
}

/* The same place, and places a metre apart: no arc-cosine that rounds past 1
 * and turns into "not a number". */
static void no_distance_at_all_is_zero(void **state) {
    (void)state;
    static const double latitudes[] = {
        40.71199035644531, 0.08, 0.12, 0.31, 0.0, 89.0, -60.0};
    for (size_t i = 0; i < sizeof latitudes / sizeof *latitudes; i++) {
        struct position here = {latitudes[i], -74.0081};
        struct rhumb rhumb = rhumb_between(here, here);
        assert_near(rhumb.distance_m, 0.0, 0.0);
        assert_near(rhumb.course_deg, 0.0, 0.0);
        struct position near = rhumb_ahead(here, 60.0, 1.0);
        assert_near(rhumb_between(here, near).distance_m, 1.0, 1e-8);
        assert_near(rhumb_between(here, near).course_deg, 60.0, 1e-6);
        struct position still = rhumb_ahead(here, 60.0, 0.0);
        assert_near(still.lat_deg, here.lat_deg, 1e-13);
        assert_near(still.lon_deg, here.lon_deg, 1e-13);
    }
}

static void past_a_pole_the_latitude_stops(void **state) {
    (void)state;
    for (int course = 0; course < 360; course += 15) {
        for (int side = -1; side <= 1; side += 2) {
            struct position from = {side * 89.5, 20.0};
            struct position far = rhumb_ahead(from, course, 5e6);
            struct position step = rhumb_step(from, course, 1e5);
            assert_true(fabs(far.lat_deg) <= 89.99 + 1e-12);
            assert_true(fabs(step.lat_deg) <= 89.99 + 1e-12);
            assert_true(far.lon_deg >= -180.0 && far.lon_deg < 180.0);
            assert_true(step.lon_deg >= -180.0 && step.lon_deg < 180.0);
        }
    }
    struct position pole = {90.0, 0.0}, south = {50.0, 0.0};
    assert_near(rhumb_between(pole, south).distance_m, apart_m(pole, south),
                1e-4);
}

/* What rhumb.h promises of the search's step. */
static void a_step_keeps_to_the_line(void **state) {
    (void)state;
    struct seed seed = {10};
    double worst_m = 0.0;
    for (int i = 0; i < 20000; i++) {
        struct position from = seeded_position(&seed, 75.0);
        double course_deg = seed_between(&seed, 0.0, 360.0);
        double distance_m = seed_between(&seed, 0.0, 50e3);
        double wrong_m = apart_m(rhumb_step(from, course_deg, distance_m),
                                 rhumb_ahead(from, course_deg, distance_m));
        worst_m = fmax(worst_m, wrong_m);
    }
    print_message("worst step of 50 km below 75 degrees: %.4f m\n", worst_m);
    assert_true(worst_m < 0.01);
}

/* Many short steps end where one long line does. */
static void steps_add_up_to_the_line(void **state) {
    (void)state;
    struct seed seed = {11};
    double worst_m = 0.0;
    for (int i = 0; i < 50; i++) {
        struct position from = seeded_position(&seed, 50.0);
        double course_deg = seed_between(&seed, 0.0, 360.0);
        struct position at = from;
        for (int step = 0; step < 200; step++)
            at = rhumb_step(at, course_deg, 10e3);
        worst_m =
            fmax(worst_m, apart_m(at, rhumb_ahead(from, course_deg, 2e6)));
    }
    print_message("worst of 200 steps of 10 km: %.4f m\n", worst_m);
    assert_true(worst_m < 0.2);
}

static void the_southern_half_mirrors_the_northern(void **state) {
    (void)state;
    struct seed seed = {12};
    for (int i = 0; i < 1000; i++) {
        struct position from = seeded_position(&seed, 80.0);
        struct position mirrored = {-from.lat_deg, from.lon_deg};
        double course_deg = seed_between(&seed, 0.0, 180.0);
        struct position a = rhumb_step(from, course_deg, 2e4);
        struct position b = rhumb_step(mirrored, 180.0 - course_deg, 2e4);
        assert_near(a.lat_deg, -b.lat_deg, 1e-12);
        assert_near(a.lon_deg, b.lon_deg, 1e-12);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(meridians_agree_with_the_geodesic),
        cmocka_unit_test(parallels_are_arcs_of_circles),
        cmocka_unit_test(ahead_and_between_undo_each_other),
        cmocka_unit_test(the_length_is_that_of_its_pieces),
        cmocka_unit_test(narrow_and_wide_strips_join),
        cmocka_unit_test(the_date_line_is_no_border),
        cmocka_unit_test(no_distance_at_all_is_zero),
        cmocka_unit_test(past_a_pole_the_latitude_stops),
        cmocka_unit_test(a_step_keeps_to_the_line),
        cmocka_unit_test(steps_add_up_to_the_line),
        cmocka_unit_test(the_southern_half_mirrors_the_northern),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
