#include "../support/check.h"

#include "earth/geodesic.h"

#include <math.h>

static struct position seeded_position(struct seed *seed) {
    return (struct position){seed_between(seed, -89.9, 89.9),
                             seed_between(seed, -180.0, 180.0)};
}

static void ahead_and_between_undo_each_other(void **state) {
    (void)state;
    struct seed seed = {21};
    for (int i = 0; i < 2000; i++) {
        struct position from = seeded_position(&seed);
        struct position to = seeded_position(&seed);
        struct geodesic line = geodesic_between(from, to);
        struct position end =
            geodesic_ahead(from, line.course_start_deg, line.distance_m);
        assert_true(geodesic_between(end, to).distance_m < 1e-6);
        assert_true(end.lon_deg >= -180.0 && end.lon_deg < 180.0);
    }
}

/* Courses are 0 to 360, never -180 to 180, and right on one meridian. */
static void courses_are_from_0_to_360(void **state) {
    (void)state;
    struct position from = {67.0, 14.0}, to = {66.0, 13.9};
    assert_near(geodesic_between(from, to).course_start_deg, 182.3, 0.05);
    from = (struct position){10.0, 5.0};
    to = (struct position){5.0, 5.0};
    assert_near(geodesic_between(from, to).course_start_deg, 180.0, 0.0);
    assert_near(geodesic_between(to, from).course_start_deg, 0.0, 0.0);
    struct seed seed = {22};
    for (int i = 0; i < 2000; i++) {
        struct geodesic line =
            geodesic_between(seeded_position(&seed), seeded_position(&seed));
        assert_true(line.course_start_deg >= 0.0);
        assert_true(line.course_start_deg < 360.0);
        assert_true(line.course_end_deg >= 0.0);
        assert_true(line.course_end_deg < 360.0);
    }
}

static void the_same_place_is_no_distance(void **state) {
    (void)state;
    static const double latitudes[] = {
        40.71199035644531, 0.08, 0.12, 0.31, 0.0, 90.0};
    for (size_t i = 0; i < sizeof latitudes / sizeof *latitudes; i++) {
        struct position here = {latitudes[i], -74.0081};
        struct geodesic line = geodesic_between(here, here);
        assert_near(line.distance_m, 0.0, 0.0);
        assert_true(isfinite(line.course_start_deg));
        struct position near = geodesic_ahead(here, 60.0, 1.0);
        assert_near(geodesic_between(here, near).distance_m, 1.0, 1e-7);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ahead_and_between_undo_each_other),
        cmocka_unit_test(courses_are_from_0_to_360),
        cmocka_unit_test(the_same_place_is_no_distance),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
