#include "../support/check.h"
#include "../support/plan_example.h"
#include "../support/scratch.h"
#include "../support/side_words.h"

#include "exchange/gpx.h"
#include "report/route_gpx.h"
#include <stdio.h>
#include <string.h>

static struct plan_example example;

static int begin(void **state) {
    plan_example_make(&example);
    return scratch_begin(state);
}

/* Written and read back. */
static struct gpx route(void) {
    struct gpx gpx;
    struct error error;
    const char *path = check_write("route.gpx", "");
    FILE *stream = fopen(path, "wb");
    assert_non_null(stream);
    assert_true(route_gpx_write(&example.plan, stream, &error));
    fclose(stream);
    if (!gpx_load(&gpx, path, &arena, &error))
        fail_msg("%s", error.text);
    return gpx;
}

static void one_route_and_one_track_carry_the_plan(void **state) {
    (void)state;
    struct gpx gpx = route();
    assert_string_equal(gpx.creator, "sparwise 0.1.0");
    assert_int_equal(gpx.route_count, 1);
    assert_int_equal(gpx.track_count, 1);
    assert_int_equal(gpx.routes[0].count, PLAN_EXAMPLE_LEGS + 1);
    assert_int_equal(gpx.tracks[0].count, PLAN_EXAMPLE_POINTS);
    assert_string_equal(gpx.routes[0].name, example.plan.name);
    assert_contains(gpx.description, "Not for navigation");
    assert_false(gpx.zone_missing);
}

static void points_are_the_ends_of_the_legs_in_time(void **state) {
    (void)state;
    struct gpx_line line = route().routes[0];
    for (int i = 0; i <= PLAN_EXAMPLE_LEGS; i++) {
        const struct plan_leg *leg = &example.legs[i < 6 ? i : 5];
        struct position at = i < 6 ? leg->from : leg->to;
        assert_near(line.points[i].position.lat_deg, at.lat_deg, 5e-8);
        assert_near(line.points[i].position.lon_deg, at.lon_deg, 5e-8);
        assert_true(line.points[i].timed);
        assert_int_equal(line.points[i].time.unix_s,
                         i < 6 ? leg->start.unix_s : leg->end.unix_s);
    }
}

static void a_point_says_what_to_do_there(void **state) {
    (void)state;
    static const struct {
        int point;
        const char *symbol, *type, *description;
    } cases[] = {
        {0, "Waypoint", "start",
         "steer 231 deg true, spar stowed, wind on the starboard side"},
        {1, "Flag", "set",
         "set the spar to starboard, wind on the starboard side, 17 kn; then "
         "steer 262 deg true, spar starboard, wing-and-wing, wind on the "
         "starboard side"},
        {2, "Flag", "gybe",
         "gybe: spar to port, boom to starboard, wind on the port side, 16 kn; "
         "then steer 256 deg true, spar port, wing-and-wing, wind on the port "
         "side"},
        {3, "Waypoint", "leg",
         "roll the headsail away; steer 251 deg true, spar port, sail rolled, "
         "wind on the port side"},
        {4, "Waypoint", "leg",
         "unroll the headsail; gybe the mainsail, boom to port; steer 246 deg "
         "true, spar port, poled reach, wind on the starboard side"},
        {5, "Flag", "stow",
         "stow the spar, wind on the starboard side, 12 kn, outside the work "
         "limits; then steer 000 deg true, spar stowed, wind on the starboard "
         "side"},
        {6, "Waypoint", "finish", "finish"},
    };
    struct gpx_line line = route().routes[0];
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        const struct gpx_point *point = &line.points[cases[i].point];
        assert_string_equal(point->symbol, cases[i].symbol);
        assert_string_equal(point->type, cases[i].type);
        assert_string_equal(point->description, cases[i].description);
        check_side_words(point->description);
    }
}

static void the_dark_is_named_where_it_alone_is_the_cause(void **state) {
    (void)state;
    example.plan.daylight_only = true;
    example.changes[5].light = LIGHT_NIGHT;
    example.changes[5].wave_m = figure_of(1.0);
    assert_contains(route().routes[0].points[5].description,
                    "12 kn, in the dark, against daylight-only: the last stow; "
                    "then steer");
    example.changes[5].wave_m = figure_of(3.0);
    assert_contains(route().routes[0].points[5].description,
                    "12 kn, outside the work limits; then steer");
}

/* 2026: within the years of the model. Variation at 16.89 N 25.01 W on
 * 2026-03-15: -8.56 (another program with the same model). */
static void a_magnetic_route_has_both_courses(void **state) {
    (void)state;
    plan_example_later(&example, 730);
    struct gpx_line line = route().routes[0];
    assert_string_equal(line.points[0].description,
                        "steer 231 deg true, spar stowed, wind on the "
                        "starboard side");
    example.plan.display.magnetic = true;
    line = route().routes[0];
    assert_string_equal(line.points[0].description,
                        "steer 231 deg true, 240 deg magnetic, spar stowed, "
                        "wind on the starboard side");
    check_side_words(line.points[0].description);
    char text[400];
    snprintf(text, sizeof text, "grep -c magvar '%s/route.gpx'",
             check_folder());
    assert_string_equal(check_shell(text).out, "7\n"); /* not the track */
}

static void work_on_the_way_says_only_what_to_do(void **state) {
    (void)state;
    example.changes[0].at.unix_s += 3600;
    struct gpx_line line = route().routes[0];
    assert_string_equal(line.points[2].name, "SET1");
    assert_string_equal(
        line.points[2].description,
        "set the spar to starboard, wind on the starboard side, 17 kn");
}

static void a_plan_that_ends_on_the_way_says_so(void **state) {
    (void)state;
    example.plan.summary.reached = false;
    struct gpx_line line = route().routes[0];
    assert_contains(line.points[line.count - 1].description,
                    "the forecast ends here");
}

static void a_plan_without_samples_has_no_track(void **state) {
    (void)state;
    example.plan.track_count = 0;
    assert_int_equal(route().track_count, 0);
}

static void a_plotter_that_takes_points_only_gets_no_track(void **state) {
    (void)state;
    example.plan.display.points_only = true;
    struct gpx gpx = route();
    assert_int_equal(gpx.track_count, 0);
    assert_int_equal(gpx.routes[0].count, PLAN_EXAMPLE_LEGS + 1);
}

/* "Pon\u00e7a" is cut before the letter that takes two bytes, not in it. */
static void a_name_is_cut_between_letters(void **state) {
    (void)state;
    example.plan.name = "To Pon\xC3\xA7"
                        "a";
    example.plan.display.name_length = 7;
    assert_string_equal(route().routes[0].name, "To Pon");
    example.plan.display.name_length = 8;
    assert_string_equal(route().routes[0].name, "To Pon\xC3\xA7");
    example.plan.display.name_length = 0;
    assert_string_equal(route().routes[0].name, "To Pon\xC3\xA7"
                                                "a");
}

static void ascii_means_every_byte(void **state) {
    (void)state;
    example.plan.name = "To Pon\xC3\xA7"
                        "a";
    example.plan.display.ascii = true;
    struct gpx gpx = route();
    assert_string_equal(gpx.name, "To Pon?a");
    assert_string_equal(gpx.routes[0].name, "To Pon?a");
    char line[400];
    snprintf(line, sizeof line, "LC_ALL=C grep -c '[^ -~]' '%s/route.gpx'",
             check_folder());
    assert_string_equal(check_shell(line).out, "0\n");
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(one_route_and_one_track_carry_the_plan),
        TEST(points_are_the_ends_of_the_legs_in_time),
        TEST(a_point_says_what_to_do_there),
        TEST(the_dark_is_named_where_it_alone_is_the_cause),
        TEST(a_magnetic_route_has_both_courses),
        TEST(work_on_the_way_says_only_what_to_do),
        TEST(a_plan_that_ends_on_the_way_says_so),
        TEST(a_plan_without_samples_has_no_track),
        TEST(a_plotter_that_takes_points_only_gets_no_track),
        TEST(a_name_is_cut_between_letters),
        TEST(ascii_means_every_byte),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
