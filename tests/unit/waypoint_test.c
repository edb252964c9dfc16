#include "../support/check.h"
#include "../support/plan_example.h"
#include "../support/scratch.h"

#include "report/waypoint.h"
#include <string.h>

static struct plan_example example;

static int begin(void **state) {
    plan_example_make(&example);
    return scratch_begin(state);
}

static void names_are(const struct waypoints *points, const char *const *names,
                      size_t count) {
    assert_int_equal(points->count, count);
    for (size_t i = 0; i < count; i++)
        assert_string_equal(points->items[i].name, names[i]);
}

static void legs_and_deck_work_are_points_with_names(void **state) {
    (void)state;
    static const char *const names[] = {"W001", "SET1",  "GYBE2", "W004",
                                        "W005", "STOW3", "W007"};
    struct waypoints points = waypoints_of(&example.plan, &arena);
    names_are(&points, names, 7);
    assert_string_equal(waypoint_name(&points, &example.changes[1]), "GYBE2");
    assert_null(waypoint_name(&points, &example.changes[2]));
    assert_ptr_equal(points.items[1].work, &example.changes[0]);
    assert_ptr_equal(points.items[1].leg, &example.legs[1]);
    assert_null(points.items[6].leg);
    assert_int_equal(points.items[6].at.unix_s, example.legs[5].end.unix_s);
}

static void work_on_the_way_has_a_point_of_its_own(void **state) {
    (void)state;
    static const char *const names[] = {"W001", "W002", "SET1",  "GYBE2",
                                        "W005", "W006", "STOW3", "W008"};
    struct plan_change *set = &example.changes[0];
    set->at.unix_s += 3600;
    set->position = (struct position){16.5, -25.9};
    struct waypoints points = waypoints_of(&example.plan, &arena);
    names_are(&points, names, 8);
    assert_true(points.items[1].starts_leg);
    assert_false(points.items[2].starts_leg);
    assert_near(points.items[2].position.lon_deg, -25.9, 0.0);
    assert_int_equal(points.items[2].at.unix_s, set->at.unix_s);
}

static void two_works_at_one_place_are_two_points(void **state) {
    (void)state;
    static const char *const names[] = {"W001", "SET1",  "GYBE2", "W004",
                                        "W005", "MAIN3", "STOW4", "W008"};
    example.changes[4].deck_work = true;
    example.changes[4].leg = 5;
    example.changes[4].at = example.legs[5].start;
    struct waypoints points = waypoints_of(&example.plan, &arena);
    names_are(&points, names, 8);
    assert_true(points.items[5].starts_leg);
    assert_false(points.items[6].starts_leg);
}

static void names_are_short_unique_and_plain(void **state) {
    (void)state;
    struct waypoints points = waypoints_of(&example.plan, &arena);
    for (size_t i = 0; i < points.count; i++) {
        const char *name = points.items[i].name;
        assert_true(strlen(name) <= 6);
        assert_int_equal(strspn(name, "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789"),
                         strlen(name));
        for (size_t j = 0; j < i; j++)
            assert_string_not_equal(name, points.items[j].name);
    }
}

/* Old plotters keep five or six signs: the word gives way, not the number. */
static void names_are_cut_to_the_length_asked_for(void **state) {
    (void)state;
    static struct plan_change many[12];
    for (size_t i = 0; i < 12; i++) {
        many[i] = example.changes[1]; /* a gybe */
        many[i].at.unix_s += (int64_t)i * 60;
    }
    example.plan.changes = many;
    example.plan.change_count = 12;
    example.plan.display.name_length = PLAN_NAME_LENGTH;
    struct waypoints points = waypoints_of(&example.plan, &arena);
    assert_string_equal(waypoint_name(&points, &many[8]), "GYBE9");
    assert_string_equal(waypoint_name(&points, &many[9]), "GYB10");
    assert_string_equal(waypoint_name(&points, &many[11]), "GYB12");
    for (size_t i = 0; i < points.count; i++)
        assert_true(strlen(points.items[i].name) <= PLAN_NAME_LENGTH);
}

static void one_leg_without_a_change_has_two_points(void **state) {
    (void)state;
    static const char *const names[] = {"W001", "W002"};
    example.plan.leg_count = 1;
    example.plan.change_count = 0;
    struct waypoints points = waypoints_of(&example.plan, &arena);
    names_are(&points, names, 2);
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(legs_and_deck_work_are_points_with_names),
        TEST(work_on_the_way_has_a_point_of_its_own),
        TEST(two_works_at_one_place_are_two_points),
        TEST(names_are_short_unique_and_plain),
        TEST(names_are_cut_to_the_length_asked_for),
        TEST(one_leg_without_a_change_has_two_points),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
