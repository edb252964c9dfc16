/* By what light work is done: kinds of twilight, sun and moon in words. */
#include "../support/check.h"
#include "../support/plan_example.h"
#include "../support/scratch.h"

#include "earth/sun.h"
#include "plan/sky_seen.h"
#include "report/light.h"
#include <stdio.h>
#include <stdlib.h>

static struct plan_example example;

static const struct position pacific = {0.0, -170.0};

static int begin(void **state) {
    scratch_begin(state);
    plan_example_make(&example);
    return 0;
}

static struct instant instant(const char *at) {
    struct instant instant;
    bool zone;
    assert_true(instant_parse(at, &instant, &zone));
    return instant;
}

/* Work then and there, less than a day after the departure. */
static const struct plan_change *work(const char *at,
                                      struct position position) {
    struct plan_change *change = &example.changes[0];
    change->at = instant(at);
    change->position = position;
    change->sky = sky_seen(change->at, position);
    change->light = sun_light(sun_at((double)change->at.unix_s), position);
    example.plan.depart = instant_plus(change->at, -40000.0);
    return change;
}

static const char *told(const char *at, struct position position) {
    return light_at(&arena, &example.plan, work(at, position));
}

static const char *closer(const char *at, struct position position) {
    return light_closer(&arena, &example.plan, work(at, position));
}

/* At the equinox (2024-03-20 03:06 UTC, from memory) the sun goes straight up
 * and down at the equator, a degree in 4 minutes: at noon, 12:07 with 7 minutes
 * and a half of the equation of time, 90 degrees up, on the horizon at 18:07,
 * -6 at 18:31, -12 at 18:55. The moon of that day, 4 days after her first
 * quarter, is up. */
static void each_kind_of_light_has_its_words(void **state) {
    (void)state;
    struct position gulf = {0.0, 0.0};
    assert_string_equal(told("2024-03-20T16:07Z", gulf),
                        "by day, sun 30 deg up");
    assert_string_equal(told("2024-03-20T18:09Z", gulf),
                        "by day, sun 0 deg up"); /* her rim, refracted */
    assert_string_equal(told("2024-03-20T18:25Z", gulf), "in civil twilight");
    assert_contains(told("2024-03-20T18:45Z", gulf),
                    "at night, in nautical twilight, moon ");
    assert_contains(told("2024-03-20T19:00Z", gulf), "at night, dark, moon ");
    assert_string_equal(closer("2024-03-20T16:07Z", gulf), "sun 30 deg up");
    assert_string_equal(closer("2024-03-20T18:25Z", gulf), "civil twilight");
    assert_contains(closer("2024-03-20T18:45Z", gulf),
                    "nautical twilight, moon ");
    assert_contains(closer("2024-03-20T19:00Z", gulf), "dark, moon ");
}

/* 2026-03-03 11:34 UTC: the moon is eclipsed by the earth; 2026-02-17 12:12 UTC
 * she covers the sun (eclipses; from memory). In the Pacific, where it is then
 * the middle of the night: full, high; new, down. */
static void a_full_moon_is_told_and_a_new_one_is_none(void **state) {
    (void)state;
    struct plan_sky sky = work("2026-03-03T11:34Z", pacific)->sky;
    assert_true(sky.moon_up);
    assert_near(sky.moon_lit_frac, 1.0, 0.001);
    assert_near(sky.moon_deg, -sky.sun_deg, 2.0); /* in the earth's shadow */
    assert_contains(told("2026-03-03T11:34Z", pacific),
                    "at night, dark, moon 8");
    assert_contains(told("2026-03-03T11:34Z", pacific), " deg up, 100 % lit");
    sky = work("2026-02-17T12:12Z", pacific)->sky;
    assert_false(sky.moon_up);
    assert_near(sky.moon_lit_frac, 0.0, 0.001);
    assert_string_equal(told("2026-02-17T12:12Z", pacific),
                        "at night, dark, no moon");
}

/* 70 N 20 E on the longest and the shortest day (bug log 42: lowest 3.4
 * degrees above the horizon; dusk at 12:41 UTC), and on both sides of the date
 * line. */
static void high_latitudes_and_the_date_line_are_no_exceptions(void **state) {
    (void)state;
    struct position north = {70.0, 20.0};
    assert_string_equal(told("2024-06-20T22:42Z", north),
                        "by day, sun 3 deg up");
    assert_string_equal(told("2024-12-21T10:38Z", north), "in civil twilight");
    assert_contains(told("2024-12-21T13:00Z", north),
                    "at night, in nautical twilight, ");
    struct plan_sky west =
        work("2026-03-03T11:34Z", (struct position){0.0, -179.999})->sky;
    struct plan_sky east =
        work("2026-03-03T11:34Z", (struct position){0.0, 179.999})->sky;
    assert_near(west.sun_deg, east.sun_deg, 0.01);
    assert_near(west.moon_deg, east.moon_deg, 0.01);
}

/* On the fifth day its hour is not known. */
static void work_that_far_ahead_is_not_told_by_the_hour(void **state) {
    (void)state;
    const struct plan_change *change = work("2026-03-03T11:34Z", pacific);
    example.plan.depart = instant("2026-02-26T00:00Z");
    assert_string_equal(light_at(&arena, &example.plan, change),
                        "at night, moon: see NIGHTS");
    assert_string_equal(light_closer(&arena, &example.plan, change),
                        "moon: see NIGHTS");
    change = work("2026-03-03T23:00Z", pacific);
    example.plan.depart = instant("2026-02-26T00:00Z");
    assert_string_equal(light_at(&arena, &example.plan, change), "by day");
    assert_null(light_closer(&arena, &example.plan, change));
    change = work("2026-03-03T17:20Z", pacific);
    example.plan.depart = instant("2026-02-26T00:00Z");
    assert_string_equal(light_at(&arena, &example.plan, change), "in twilight");
}

/* At the equinox on the equator again: 20 minutes of work from 18:25 and from
 * 18:00 end at -10.5 and -4.3 degrees. The sky is that of the start. */
static void work_that_runs_into_the_dark_is_told_so(void **state) {
    (void)state;
    struct plan_change *change = &example.changes[0];
    work("2024-03-20T18:25Z", (struct position){0.0, 0.0});
    change->light = LIGHT_NIGHT;
    assert_contains(light_at(&arena, &example.plan, change),
                    "night falls before it is done, moon ");
    assert_contains(light_closer(&arena, &example.plan, change),
                    "into the night, moon ");
    work("2024-03-20T18:00Z", (struct position){0.0, 0.0});
    change->light = LIGHT_TWILIGHT;
    assert_string_equal(light_at(&arena, &example.plan, change),
                        "into civil twilight");
}

static char *under_the_legs(void) {
    char *text = NULL;
    size_t size = 0;
    struct waypoints waypoints = waypoints_of(&example.plan, &arena);
    FILE *stream = open_memstream(&text, &size);
    assert_non_null(stream);
    light_write_legs(&example.plan, &waypoints, stream);
    fclose(stream);
    return text;
}

static void legs_are_grouped_by_the_light_they_start_in(void **state) {
    (void)state;
    static const double sun_deg[PLAN_EXAMPLE_LEGS] = {-5.9,  -0.9,  -11.9,
                                                      -12.1, -60.0, 30.0};
    example.plan.change_count = 0;
    for (int i = 0; i < PLAN_EXAMPLE_LEGS; i++) {
        example.legs[i].start = instant_plus(example.plan.depart, i * 3600.0);
        example.legs[i].sky.sun_deg = sun_deg[i];
    }
    char *text = under_the_legs();
    assert_string_equal(text,
                        "light where a leg starts: dark: W004, W005; nautical "
                        "twilight: W003; civil\n  twilight: W001, W002; the "
                        "others: day\n");
    free(text);
    for (int i = 0; i < PLAN_EXAMPLE_LEGS; i++)
        example.legs[i].sky.sun_deg = 20.0;
    text = under_the_legs();
    assert_string_equal(text, "");
    free(text);
    example.legs[5].start = instant_plus(example.plan.depart, 100.0 * 3600.0);
    text = under_the_legs();
    assert_string_equal(text, "light where a leg starts: the hour is not "
                              "known, see NIGHTS: W006; the others:\n  day\n");
    free(text);
    for (int i = 0; i < PLAN_EXAMPLE_LEGS; i++) {
        example.legs[i].start = instant_plus(example.plan.depart, i * 3600.0);
        example.legs[i].sky.sun_deg = -30.0;
    }
    text = under_the_legs(); /* none by day, and nothing after the last */
    assert_string_equal(text, "light where a leg starts: dark: W001 to W006\n");
    free(text);
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(each_kind_of_light_has_its_words),
        TEST(a_full_moon_is_told_and_a_new_one_is_none),
        TEST(high_latitudes_and_the_date_line_are_no_exceptions),
        TEST(work_that_far_ahead_is_not_told_by_the_hour),
        TEST(work_that_runs_into_the_dark_is_told_so),
        TEST(legs_are_grouped_by_the_light_they_start_in),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
