/* Before the search: what the forecast can't answer is told with the area and
 * the hours to ask for. */
#include "../support/check.h"
#include "../support/scene.h"
#include "../support/scratch.h"

#include "plan/preflight.h"
#include <stdio.h>
#include <string.h>

static struct error error;

static struct scene square(double south, double north, double west,
                           double east) {
    return (struct scene){.name = "preflight",
                          .weather = {.wind_from_deg = 90.0,
                                      .wind_mps = 8.0,
                                      .wave_m = 1.0,
                                      .wave_period_s = 6.0,
                                      .gust_frac = figure_of(1.3)},
                          .south_deg = south,
                          .north_deg = north,
                          .west_deg = west,
                          .east_deg = east,
                          .step_deg = 1.0,
                          .hours = 48,
                          .every = 6,
                          .sea = SCENE_COMBINED};
}

static bool check(const struct scene *scene, const char *from, const char *to,
                  const char *depart) {
    struct world world = scene_world(scene, "wanderer-12", &arena);
    struct request request = scene_request(from, to, depart, &arena);
    return preflight_check(&world, &request, &error);
}

static void refused(const char *part) {
    assert_int_equal(error.status, STATUS_OUTSIDE);
    assert_contains(error.text, part);
}

static void a_passage_inside_is_good(void **state) {
    (void)state;
    struct scene scene = square(10.0, 20.0, -50.0, -40.0);
    assert_true(check(&scene, "15N 42W", "14N 45W", "2026-06-01T00:00Z"));
    assert_true(check(&scene, "15N 42W", "14N 45W", "2026-06-02T23:59Z"));
}

static void a_departure_outside_the_steps_is_refused(void **state) {
    (void)state;
    struct scene scene = square(10.0, 20.0, -50.0, -40.0);
    assert_false(check(&scene, "15N 42W", "14N 45W", "2026-05-31T23:59Z"));
    refused("before the first step of the wind, 2026-06-01T00:00:00Z");
    assert_false(check(&scene, "15N 42W", "14N 45W", "2026-06-03T00:00Z"));
    refused("not before the last step of the wind, 2026-06-03T00:00:00Z; ");
    refused("ask for 11N to 18N, 49W to 38W, from 2026-06-03T00:00:00Z for ");
}

/* Outside the model's years, whatever the forecast holds. */
static void magnetic_courses_keep_to_their_years(void **state) {
    (void)state;
    struct scene scene = square(10.0, 20.0, -50.0, -40.0);
    struct world world = scene_world(&scene, "wanderer-12", &arena);
    struct request request =
        scene_request("15N 42W", "14N 45W", "2026-06-01T00:00Z", &arena);
    request.magnetic = 1;
    assert_true(preflight_check(&world, &request, &error));
    request = scene_request("15N 42W", "14N 45W", "2024-12-31T23:59Z", &arena);
    request.magnetic = 1;
    assert_false(preflight_check(&world, &request, &error));
    assert_int_equal(error.status, STATUS_INPUT);
    assert_contains(
        error.text,
        "the departure 2024-12-31T23:59:00Z is outside the years "
        "of the magnetic model, 2025 to 2029; leave out 'magnetic'");
}

static void start_finish_and_places_to_pass_are_named(void **state) {
    (void)state;
    struct scene scene = square(10.0, 20.0, -50.0, -40.0);
    assert_false(check(&scene, "21N 42W", "14N 45W", "2026-06-01T00:00Z"));
    refused("no wind in the forecast at the start, 21 00.00 N 042 00.00 W");
    assert_false(check(&scene, "15N 42W", "9N 45W", "2026-06-01T00:00Z"));
    refused("at the finish, 09 00.00 N 045 00.00 W");
    refused("ask for 6N to 18N, 49W to 38W");

    struct world world = scene_world(&scene, "wanderer-12", &arena);
    struct request request =
        scene_request("15N 42W", "14N 45W", "2026-06-01T00:00Z", &arena);
    struct position away = {15.0, -30.0};
    request.via = &away;
    request.via_count = 1;
    assert_false(preflight_check(&world, &request, &error));
    refused("at the place to pass, 15 00.00 N 030 00.00 W");
    /* the great circle between is above 15 N by some miles */
    refused("ask for 11N to 19N, 49W to 26W");
}

/* In the south the numbers of latitude grow downwards, and across 180 the west
 * of the area is E and its east is W. */
static void the_area_is_right_in_the_south_and_across_180(void **state) {
    (void)state;
    struct scene scene = square(-30.0, -20.0, 170.0, 190.0);
    assert_true(check(&scene, "25S 178E", "26S 178W", "2026-06-01T00:00Z"));
    assert_false(check(&scene, "25S 178E", "35.5S 175W", "2026-06-01T00:00Z"));
    refused("ask for 39S to 22S, 174E to 171W");
    assert_false(check(&scene, "25S 175W", "35.5S 178E", "2026-06-01T00:00Z"));
    refused("ask for 39S to 22S, 174E to 171W");
}

static void the_area_is_right_over_greenwich_and_the_line(void **state) {
    (void)state;
    struct scene scene = square(-5.0, 5.0, -5.0, 5.0);
    assert_false(check(&scene, "1S 2W", "1N 6.5E", "2026-06-01T00:00Z"));
    refused("ask for 4S to 4N, 6W to 10E");
}

static void a_near_pole_is_the_end(void **state) {
    (void)state;
    struct scene scene = square(80.0, 88.0, 0.0, 20.0);
    assert_false(check(&scene, "85N 5E", "89N 10E", "2026-06-01T00:00Z"));
    refused("ask for 82N to 90N");
}

/* 60 nmi at 0.4 of the boat's top speed, rounded up to 6 h. */
static void the_hours_are_those_of_a_slow_boat(void **state) {
    (void)state;
    struct scene scene = square(10.0, 20.0, -50.0, -40.0);
    struct world world = scene_world(&scene, "wanderer-12", &arena);
    struct request request =
        scene_request("15N 42W", "14N 42W", "2026-06-04T00:00Z", &arena);
    assert_false(preflight_check(&world, &request, &error));
    /* a minute of latitude is a mile: 59.7 nmi at 14.5 N, WGS 84 */
    double hours =
        59.7 * 1852.0 / (0.4 * polar_top_speed(&world.boat.stowed)) / 3600.0;
    int number;
    assert_int_equal(
        sscanf(strstr(error.text, "00Z for ") + 8, "%d h", &number), 1);
    assert_int_equal(number % 6, 0);
    assert_true(number >= hours && number < hours + 6.0);
}

static void a_limit_without_its_field_is_refused(void **state) {
    (void)state;
    struct scene scene = square(10.0, 20.0, -50.0, -40.0);
    struct request request =
        scene_request("15N 42W", "14N 45W", "2026-06-01T00:00Z", &arena);
    request.max_gust_mps = figure_of(15.0);
    request.max_wave_m = figure_of(3.0);
    struct world world = scene_world(&scene, "wanderer-12", &arena);
    assert_true(preflight_check(&world, &request, &error));
    scene.no_gust = true;
    world = scene_world(&scene, "wanderer-12", &arena);
    assert_false(preflight_check(&world, &request, &error));
    refused("max_gust is set but no file holds gusts");
    request.max_gust_mps = figure_unknown();
    scene.sea = SCENE_NO_SEA;
    world = scene_world(&scene, "wanderer-12", &arena);
    assert_false(preflight_check(&world, &request, &error));
    refused("max_wave is set but no file holds waves");
}

static void a_hole_in_time_is_told_as_such(void **state) {
    (void)state;
    struct scene scene = square(10.0, 20.0, -50.0, -40.0);
    scene.skip_from_h = 12;
    scene.skip_to_h = 36;
    assert_false(check(&scene, "15N 42W", "14N 45W", "2026-06-02T00:00Z"));
    refused("hole in time");
}

/* --- what was likely meant ------------------------------------------------ */

/* The area is that of a coastal file, 3 degrees high and 5 wide. */
static struct scene coastal(void) {
    return square(36.0, 39.0, -12.0, -7.0);
}

static void a_wrong_letter_is_named(void **state) {
    (void)state;
    struct scene scene = coastal();
    assert_true(check(&scene, "38N 9W", "37N 10W", "2026-06-01T00:00Z"));
    assert_false(check(&scene, "38N 9E", "37N 10W", "2026-06-01T00:00Z"));
    refused("at the start, 38 00.00 N 009 00.00 E; with W for E it would lie "
            "inside: correct it, or ask for ");
    assert_false(check(&scene, "38N 9W", "37S 10W", "2026-06-01T00:00Z"));
    refused("at the finish, 37 00.00 S 010 00.00 W; with N for S it would lie "
            "inside: correct it, or ask for ");
    assert_false(check(&scene, "-38,9", "37N 10W", "2026-06-01T00:00Z"));
    refused("with both letters, or both signs, exchanged it would lie inside");
    scene = square(-39.0, -36.0, 170.0, 178.0);
    assert_false(check(&scene, "38S 175W", "37S 177E", "2026-06-01T00:00Z"));
    refused("with E for W it would lie inside");
    assert_false(check(&scene, "38N 175E", "37S 177E", "2026-06-01T00:00Z"));
    refused("with S for N it would lie inside");
}

static void latitude_and_longitude_exchanged_are_named(void **state) {
    (void)state;
    struct scene scene = coastal();
    assert_false(check(&scene, "-9,38", "37N 10W", "2026-06-01T00:00Z"));
    refused("at the start, 09 00.00 S 038 00.00 E; with latitude and longitude "
            "exchanged it would lie inside: correct it, or ask for ");
    assert_false(check(&scene, "9,38", "37N 10W", "2026-06-01T00:00Z"));
    refused("with latitude and longitude exchanged, and E for W it would lie "
            "inside");
}

static void a_file_of_another_ocean_is_named(void **state) {
    (void)state;
    struct scene scene = coastal();
    assert_false(check(&scene, "15N 42W", "14N 45W", "2026-06-01T00:00Z"));
    refused("at the start, 15 00.00 N 042 00.00 W; the wind covers 36N to 39N, "
            "12W to 7W: take the file of these waters, or ask for 11N to 18N");
    scene = square(-39.0, -36.0, 170.0, 190.0);
    assert_false(check(&scene, "15N 42W", "14N 45W", "2026-06-01T00:00Z"));
    refused("the wind covers 39S to 36S, 170E to 170W: take");
}

/* The steps are those of 1 to 3 June 2026. */
static void a_wrong_time_is_named(void **state) {
    (void)state;
    struct scene scene = coastal();
    assert_false(check(&scene, "38N 9W", "37N 10W", "2025-06-02T00:00Z"));
    refused("before the first step of the wind, 2026-06-01T00:00:00Z; in the "
            "year 2026 it would lie inside: correct it, or ask for ");
    assert_false(check(&scene, "38N 9W", "37N 10W", "2027-06-02T00:00Z"));
    refused("in the year 2026 it would lie inside");
    assert_false(check(&scene, "38N 9W", "37N 10W", "2026-05-31T00:00Z"));
    refused("2026-06-01T00:00:00Z; look at the day, take the newest file, or "
            "ask for ");
}

/* Without a zone it may be one of up to 14 hours off; further, it is a day. */
static void a_zone_left_out_is_named(void **state) {
    (void)state;
    struct scene scene = coastal();
    struct world world = scene_world(&scene, "wanderer-12", &arena);
    static const struct {
        const char *depart, *expected;
    } cases[] = {
        {"2026-05-31T10:01Z", "it has no zone and was taken as UTC: if it is "
                              "local time, add its zone, as +02:00, or ask"},
        {"2026-05-31T09:59Z", "look at the day"},
        {"2026-06-03T13:59Z", "it has no zone and was taken as UTC"},
        {"2026-06-03T14:00Z", "look at the day"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct request request =
            scene_request("38N 9W", "37N 10W", cases[i].depart, &arena);
        request.depart_zone_given = false;
        assert_false(preflight_check(&world, &request, &error));
        refused(cases[i].expected);
    }
}

#define TEST(f) cmocka_unit_test_setup_teardown(f, scratch_begin, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(a_passage_inside_is_good),
        TEST(a_departure_outside_the_steps_is_refused),
        TEST(magnetic_courses_keep_to_their_years),
        TEST(start_finish_and_places_to_pass_are_named),
        TEST(the_area_is_right_in_the_south_and_across_180),
        TEST(the_area_is_right_over_greenwich_and_the_line),
        TEST(a_near_pole_is_the_end),
        TEST(the_hours_are_those_of_a_slow_boat),
        TEST(a_limit_without_its_field_is_refused),
        TEST(a_hole_in_time_is_told_as_such),
        TEST(a_wrong_letter_is_named),
        TEST(latitude_and_longitude_exchanged_are_named),
        TEST(a_file_of_another_ocean_is_named),
        TEST(a_wrong_time_is_named),
        TEST(a_zone_left_out_is_named),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
