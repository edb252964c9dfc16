/* What the skipper is told about the figures of a plan. */
#include "../support/check.h"
#include "../support/plan_example.h"
#include "../support/scene.h"

#include "base/units.h"
#include "plan/warnings.h"
#include "report/marked.h"
#include <stdio.h>
#include <string.h>

/* A sound plan, its world and its request: nothing to warn of. */
struct case_of {
    struct arena arena;
    struct plan_example example;
    struct world world;
    struct request request;
    struct water water;
    char text[4000]; /* all warnings, one a line */
};

static struct case_of it;

static void world_with(enum scene_sea sea) {
    struct scene scene = {.name = "warnings",
                          .weather = {.wind_from_deg = 90.0,
                                      .wind_mps = 8.0,
                                      .gust_frac = figure_of(1.3)},
                          .south_deg = 12.0,
                          .north_deg = 18.0,
                          .west_deg = -30.0,
                          .east_deg = -24.0,
                          .step_deg = 1.0,
                          .hours = 24,
                          .every = 6,
                          .sea = sea};
    scene.weather.wave_m = 1.5;
    scene.weather.wave_period_s = 6.0;
    scene.weather.swell = (struct wave_system){true, 1.0, 10.0, 20.0};
    it.world = scene_world(&scene, "wanderer-12", &it.arena);
}

static int set_up(void **state) {
    (void)state;
    arena_init(&it.arena);
    plan_example_make(&it.example);
    /* its band of 24 h has a warning of its own */
    it.example.plan.arrival.dark_before = it.example.plan.arrival.dark_after =
        false;
    world_with(SCENE_APART);
    it.request =
        scene_request("15N 26W", "14N 28W", "2026-06-01T00:00Z", &it.arena);
    it.example.plan.forecast_run = it.example.plan.depart;
    it.example.plan.summary.beyond_forecast_s = 0.0;
    for (int i = 0; i < PLAN_EXAMPLE_LEGS; i++) {
        struct plan_leg *leg = &it.example.legs[i];
        leg->wave_estimated = leg->gust_estimated = leg->polar_beyond =
            leg->unchecked = leg->beyond_forecast = false;
    }
    return 0;
}

static int tear_down(void **state) {
    (void)state;
    arena_free(&it.arena);
    return 0;
}

static const char *warned(void) {
    struct plan *plan = &it.example.plan;
    plan->warnings = NULL;
    plan->warning_count = 0;
    struct warned from = {&it.world, &it.request, &it.water};
    warnings_give(plan, &from, &it.arena);
    it.text[0] = '\0';
    for (size_t i = 0; i < plan->warning_count; i++) {
        size_t used = strlen(it.text);
        snprintf(it.text + used, sizeof it.text - used, "%s\n",
                 marked_in_utc(&it.arena, plan, plan->warnings[i]));
    }
    return it.text;
}

static void a_sound_plan_has_none(void **state) {
    (void)state;
    assert_string_equal(warned(), "");
}

static void a_missing_or_coarse_coast_is_told(void **state) {
    (void)state;
    struct plan_coast *coast = &it.example.plan.coast;
    coast->name = "GSHHG 2.3.7, low resolution";
    coast->coarse = true;
    assert_contains(warned(), "the shorelines are GSHHG 2.3.7, low resolution: "
                              "small islands are missing");
    coast->name = NULL;
    assert_contains(warned(), "NO LAND CHECK: no shorelines are installed");
    coast->switched_off = true; /* the crew know it */
    assert_string_equal(warned(), "");
}

static void a_departure_without_a_zone_was_taken_as_utc(void **state) {
    (void)state;
    it.request.depart_zone_given = false;
    assert_string_equal(warned(),
                        "the departure has no time zone: UTC was taken; write "
                        "Z, or a zone as +02:00\n");
    it.request.zone_hours = -3.5;
    assert_string_equal(warned(),
                        "the departure has no time zone: UTC was taken, and "
                        "ship's time is UTC-3.5; if that was meant, add it\n");
}

static void wave_directions_turned_round_are_told(void **state) {
    (void)state;
    it.request.wave_towards = 1;
    assert_string_equal(warned(), "the files' wave directions are taken as "
                                  "towards, not as from, as wave_direction "
                                  "says\n");
}

/* 72 h are three days. */
static void
a_forecast_of_more_than_three_days_is_a_likely_mistake(void **state) {
    (void)state;
    it.example.plan.forecast_run =
        instant_plus(it.example.plan.depart, -hours_to_s(72.0));
    assert_string_equal(warned(), "the forecast is 72 h old at departure\n");
    it.example.plan.forecast_run =
        instant_plus(it.example.plan.depart, -hours_to_s(73.0));
    assert_string_equal(warned(),
                        "the forecast is 73 h old at departure, more than "
                        "three days; fetch a newer one: is this the right "
                        "file?\n");
}

/* 14 m/s are 27 kn. */
static void a_limit_in_metres_per_second_is_noticed(void **state) {
    (void)state;
    it.example.plan.summary.max_tws_mps = 5.0;
    it.example.plan.summary.max_gust_mps = figure_of(6.0);
    it.request.max_wind_mps = figure_of(kn_to_mps(14.0));
    assert_string_equal(warned(),
                        "max_wind is 14 kn, little for a limit; is it in m/s? "
                        "it would be 27 kn\n");
    it.request.max_wind_mps = figure_of(kn_to_mps(15.1));
    it.request.max_gust_mps = figure_of(kn_to_mps(17.5));
    assert_string_equal(warned(),
                        "max_gust is 17.5 kn, little for a limit; is it in "
                        "m/s? it would be 34 kn\n");
    it.request.max_gust_mps = figure_of(kn_to_mps(18.1));
    assert_string_equal(warned(), "");
}

/* The forecast is of 24 h: some 140 nmi. From 26 W to 61 W are 2,000 nmi, to
 * 61 E 5,000: the letter is told where the other more than halves the way. */
static void a_letter_that_makes_the_way_long_is_noticed(void **state) {
    (void)state;
    it.request =
        scene_request("15N 26W", "14N 61E", "2026-06-01T00:00Z", &it.arena);
    assert_contains(warned(), "the way is ");
    assert_contains(it.text, " nmi, much longer than the forecast serves; is a "
                             "letter wrong? with E for W for the start it "
                             "would be 20");
    assert_contains(it.text, " nmi, or with W for E for the finish it would "
                             "be 20");
    it.request =
        scene_request("15N 26W", "14N 61W", "2026-06-01T00:00Z", &it.arena);
    assert_string_equal(warned(), "");

    struct position pass = {15.0, 26.0};
    it.request =
        scene_request("15N 24W", "14N 28W", "2026-06-01T00:00Z", &it.arena);
    it.request.via = &pass;
    it.request.via_count = 1;
    assert_contains(warned(),
                    "with W for E for the place to pass it would be ");
    assert_near(pass.lon_deg, 26.0, 0.0);
    it.request.track = &pass; /* a track is as long as it is */
    assert_string_equal(warned(), "");
}

static void doubts_about_the_boat_reach_the_plan(void **state) {
    (void)state;
    it.world.boat.work.max_wind_mps = kn_to_mps(8.0);
    assert_contains(warned(), "[work] max_wind_kn is 8 kn");
}

static void an_old_forecast_is_told(void **state) {
    (void)state;
    it.example.plan.forecast_run =
        instant_plus(it.example.plan.depart, -hours_to_s(24.0));
    assert_string_equal(warned(), "");
    it.example.plan.forecast_run =
        instant_plus(it.example.plan.depart, -hours_to_s(29.0));
    assert_string_equal(warned(), "the forecast is 29 h old at departure\n");
}

static void what_lies_beyond_the_forecast_is_a_guess(void **state) {
    (void)state;
    it.example.plan.summary.beyond_forecast_s = hours_to_s(31.2);
    assert_string_equal(warned(),
                        "the last 31 h lie beyond the forecast: a guess\n");
    it.example.plan.summary.beyond_forecast_s = 600.0;
    assert_string_equal(
        warned(), "the last hour lies beyond the forecast in part: a guess\n");
}

static void the_crew_s_own_wind_is_told_where_it_is_used(void **state) {
    (void)state;
    struct plan *plan = &it.example.plan;
    it.request.after = AFTER_WIND;
    it.request.after_wind_from_deg = 59.6;
    it.request.after_wind_mps = kn_to_mps(15.0);
    plan->summary.arrive = instant_plus(plan->forecast_end, 86400.0);
    assert_string_equal(warned(), "");
    plan->summary.arrive = instant_plus(plan->forecast_end, 86401.0);
    /* the example's wind ends on Tuesday 19 March 2024, 13:00 UTC */
    assert_string_equal(
        warned(), "from Wed 20 Mar 12:00-16:00 UTC on the wind is the crew's "
                  "own guess, 15 kn from 060\n");
}

static void some_legs_or_all_are_told_apart(void **state) {
    (void)state;
    it.example.legs[2].gust_estimated = true;
    assert_string_equal(warned(), "gusts of some legs are 1.4 times the mean "
                                  "wind: no gust field there\n");
    for (int i = 0; i < PLAN_EXAMPLE_LEGS; i++)
        it.example.legs[i].gust_estimated = true;
    assert_string_equal(warned(), "gusts of all legs are 1.4 times the mean "
                                  "wind: no gust field there\n");
}

static void estimates_and_what_is_not_checked_are_told(void **state) {
    (void)state;
    it.example.legs[0].wave_estimated = true;
    it.example.legs[1].polar_beyond = true;
    it.example.legs[2].unchecked = true;
    const char *text = warned();
    assert_contains(text,
                    "the sea of some legs is estimated from the wind and "
                    "how long it blows, over open water: no land is "
                    "loaded\nswell that no file holds is not in that sea");
    assert_contains(text, "above the last column of the polar");
    assert_contains(text, "a limit could not be checked on some legs");
    assert_int_equal(it.example.plan.warning_count, 4);
}

static void a_track_that_breaks_a_limit_is_told(void **state) {
    (void)state;
    struct plan_summary *summary = &it.example.plan.summary;
    summary->max_wave_m = figure_of(3.2);
    it.request.max_wind_mps = figure_of(kn_to_mps(23.8));
    it.request.max_gust_mps = figure_of(kn_to_mps(31.3));
    it.request.max_wave_m = figure_of(3.2);
    assert_string_equal(warned(), "the track breaks max_wind: 24 kn\n");
    it.request.max_gust_mps = figure_of(kn_to_mps(31.1));
    it.request.max_wave_m = figure_of(3.1);
    assert_string_equal(warned(), "the track breaks max_wind: 24 kn\n"
                                  "the track breaks max_gust: 31 kn\n"
                                  "the track breaks max_wave: 3.2 m\n");
    summary->max_gust_mps = figure_unknown();
    summary->max_wave_m = figure_unknown();
    assert_string_equal(warned(), "the track breaks max_wind: 24 kn\n");
}

static void a_route_of_too_many_points_is_told(void **state) {
    (void)state;
    it.request.route_points = PLAN_EXAMPLE_LEGS + 1;
    assert_string_equal(warned(), "");
    it.request.route_points = PLAN_EXAMPLE_LEGS;
    assert_string_equal(warned(),
                        "the route has 7 points, more than route_points: with "
                        "fewer it can't be sailed\n");
    it.example.plan.timed_only = true;
    assert_string_equal(warned(), "");
}

static void what_few_points_cost_is_told(void **state) {
    (void)state;
    struct plan_fewer *fewer = &it.example.plan.fewer;
    *fewer = (struct plan_fewer){12, 1500.0, 600.0};
    assert_string_equal(warned(),
                        "for route_points the route has 7 points instead of "
                        "12, weighed cost 0.4 h more, 0.2 h longer\n");
    fewer->time_s = -400.0;
    assert_contains(warned(), "cost 0.4 h more, 0.1 h shorter\n");
    fewer->time_s = 170.0;
    assert_contains(warned(), "cost 0.4 h more\n");
    fewer->cost_s = 170.0;
    assert_string_equal(warned(), "");
}

static void a_sea_told_apart_by_the_wind_is_told(void **state) {
    (void)state;
    it.example.legs[0].wave_split = true;
    world_with(SCENE_COMBINED);
    assert_string_equal(warned(),
                        "wind sea and swell are one in the forecast of some "
                        "legs: told apart by what the wind raises, roll is an "
                        "estimate\n");
    world_with(SCENE_WIND_SEA);
    assert_string_equal(warned(),
                        "the swell is not apart in the forecast of some legs: "
                        "what the wind sea leaves of the whole, roll is an "
                        "estimate\n");
}

static void a_swell_that_is_missing_is_told(void **state) {
    (void)state;
    world_with(SCENE_NO_SEA);
    for (int i = 0; i < PLAN_EXAMPLE_LEGS; i++)
        it.example.legs[i].wave_estimated = true;
    assert_string_equal(warned(),
                        "the sea of all legs is estimated from the wind and "
                        "how long it blows, over open water: no land is "
                        "loaded\n"
                        "no swell in these files: roll is understated\n");
}

/* With a coast there is a fetch. */
static void an_estimate_says_whether_land_is_in_it(void **state) {
    (void)state;
    struct coast_box box = {12.0, 18.0, -30.0, -24.0};
    it.example.legs[0].wave_estimated = true;
    it.world.fetch = fetch_make(NULL, &box, &it.arena);
    assert_contains(warned(),
                    "the sea of some legs is estimated from the wind, "
                    "how long it blows and over how much water up to "
                    "the shore\n");
}

static void a_track_timed_without_the_spar_is_told(void **state) {
    (void)state;
    it.example.plan.unrigged = "the end of the forecast";
    assert_string_equal(warned(),
                        "the spar is not used on this track: working out where "
                        "was stopped by the end of the forecast\n");
}

/* The last change of the example is outside the limits. */
static void work_in_the_dark_against_the_rule_is_told_once(void **state) {
    (void)state;
    it.example.changes[1].light = it.example.changes[5].light = LIGHT_NIGHT;
    assert_string_equal(warned(), "");
    it.example.plan.daylight_only = true;
    assert_string_equal(warned(),
                        "against daylight-only someone goes forward in the "
                        "dark, times: 1; see CHANGES\n");
    it.example.changes[1].outside_limits = true;
    assert_contains(warned(), "in the dark, times: 2; see CHANGES\n");
    it.example.changes[5].light = LIGHT_DAY;
    it.example.changes[1].outside_limits = false;
    assert_string_equal(warned(), "");
}

/* The fifth change of the example is a mainsail gybe. */
static void
a_gybe_that_sends_someone_forward_beyond_the_limits_is_told(void **state) {
    (void)state;
    struct plan_change *gybe = &it.example.changes[4];
    assert_int_equal(gybe->kind, CHANGE_MAINSAIL_GYBE);
    gybe->outside_limits = true;
    gybe->deck_work = false;
    assert_string_equal(warned(), "");
    gybe->deck_work = true;
    assert_contains(warned(), "gybing the mainsail sends someone forward "
                              "beyond the work limits, at ");
    gybe->outside_limits = false;
    assert_string_equal(warned(), "");
}

#define TEST(f) cmocka_unit_test_setup_teardown(f, set_up, tear_down)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(a_sound_plan_has_none),
        TEST(a_missing_or_coarse_coast_is_told),
        TEST(a_departure_without_a_zone_was_taken_as_utc),
        TEST(an_old_forecast_is_told),
        TEST(wave_directions_turned_round_are_told),
        TEST(a_forecast_of_more_than_three_days_is_a_likely_mistake),
        TEST(a_limit_in_metres_per_second_is_noticed),
        TEST(a_letter_that_makes_the_way_long_is_noticed),
        TEST(doubts_about_the_boat_reach_the_plan),
        TEST(what_lies_beyond_the_forecast_is_a_guess),
        TEST(the_crew_s_own_wind_is_told_where_it_is_used),
        TEST(some_legs_or_all_are_told_apart),
        TEST(estimates_and_what_is_not_checked_are_told),
        TEST(a_route_of_too_many_points_is_told),
        TEST(what_few_points_cost_is_told),
        TEST(a_sea_told_apart_by_the_wind_is_told),
        TEST(a_swell_that_is_missing_is_told),
        TEST(an_estimate_says_whether_land_is_in_it),
        TEST(a_track_timed_without_the_spar_is_told),
        TEST(a_track_that_breaks_a_limit_is_told),
        TEST(work_in_the_dark_against_the_rule_is_told_once),
        TEST(a_gybe_that_sends_someone_forward_beyond_the_limits_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
