#include "../support/check.h"
#include "../support/plan_example.h"

#include "plan/marks.h"
#include "report/plan_json.h"
#include <jansson.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct plan_example example;
static json_t *root;

/* Written and read back by jansson's own parser. */
static void make(void) {
    char *text = NULL;
    size_t size = 0;
    struct error error;
    FILE *stream = open_memstream(&text, &size);
    assert_non_null(stream);
    assert_true(plan_json_write(&example.plan, stream, &error));
    fclose(stream);
    json_decref(root);
    root = json_loads(text, JSON_REJECT_DUPLICATES, NULL);
    assert_non_null(root);
    free(text);
}

static int begin(void **state) {
    (void)state;
    plan_example_make(&example);
    make();
    return 0;
}

static int finish(void **state) {
    (void)state;
    json_decref(root);
    root = NULL;
    return 0;
}

/* `keys`: all of them, in order, a blank between. */
static void keys_are(json_t *object, const char *keys) {
    char found[1000] = "";
    const char *key;
    json_t *value;
    json_object_foreach(object, key, value) {
        size_t length = strlen(found);
        snprintf(found + length, sizeof found - length, "%s%s",
                 length ? " " : "", key);
    }
    assert_string_equal(found, keys);
}

static json_t *first(const char *list) {
    return json_array_get(json_object_get(root, list), 0);
}

/* The list of keys that other programs rely on (docs/files.md). */
static void all_keys_are_there_in_order(void **state) {
    (void)state;
    keys_are(root, "sparwise format passage summary legs changes isochrones "
                   "warnings land zones previous");
    keys_are(json_object_get(root, "passage"),
             "name from to depart forecast_start forecast_end");
    keys_are(json_object_get(root, "summary"),
             "arrive elapsed_h distance_nmi great_circle_nmi cost_h "
             "discomfort_h spar_h wing_h poled_reach_h motor_h "
             "motor_litres upwind_h "
             "night_deck_work roll_mean_deg roll_over_limit_h max_tws_kn "
             "max_gust_kn max_wave_m beyond_forecast_h "
             "elapsed_without_spar_h kept_gybes_cost_h");
    keys_are(first("legs"),
             "start end from to course_deg distance_nmi spar rolled mode "
             "tws_kn twd_deg twa_deg aws_kn awa_deg stw_kn sog_kn gust_kn "
             "wave_m wave_period_s wave_from_deg roll_deg night_h motor_h "
             "beyond_forecast sun_altitude_deg moon_altitude_deg "
             "moon_lit_frac pace_part wait_h");
    keys_are(first("changes"),
             "change deck_work at position from_state to_state minutes "
             "earliest latest light trust gust_kn roll_deg pole_length_m "
             "headsail why lee_nmi sure_earliest "
             "sure_latest skip_cost_h skip_later_h skip_roll_deg "
             "sun_altitude_deg moon_altitude_deg moon_lit_frac");
    keys_are(json_object_get(root, "land"),
             "coast clearance_nmi approach_nmi start_moved_nmi "
             "finish_moved_nmi");
    keys_are(first("zones"), "name distance_nmi in_straight_way from until");
    keys_are(first("isochrones"), "at points");
    keys_are(json_object_get(json_object_get(root, "passage"), "from"),
             "lat lon");
}

static const char *text_at(json_t *object, const char *key) {
    return json_string_value(json_object_get(object, key));
}

static double number_at(json_t *object, const char *key) {
    json_t *value = json_object_get(object, key);
    assert_true(json_is_number(value));
    return json_number_value(value);
}

static bool null_at(json_t *object, const char *key) {
    return json_is_null(json_object_get(object, key));
}

static void values_are_in_the_units_of_their_keys(void **state) {
    (void)state;
    json_t *summary = json_object_get(root, "summary");
    json_t *leg = json_array_get(json_object_get(root, "legs"), 1);
    assert_string_equal(text_at(root, "sparwise"), "0.1.0");
    assert_string_equal(text_at(summary, "arrive"), "2024-03-19T14:30:00Z");
    assert_near(number_at(summary, "elapsed_h"), 105.5, 1e-9);
    assert_near(number_at(summary, "distance_nmi"), 697.1, 1e-9);
    assert_near(number_at(summary, "max_gust_kn"), 31.2, 1e-9);
    assert_string_equal(text_at(leg, "spar"), "starboard");
    assert_string_equal(text_at(leg, "mode"), "wing");
    assert_near(number_at(leg, "course_deg"), 261.6, 1e-9);
    assert_near(number_at(leg, "tws_kn"), 16.8, 1e-9);
    assert_near(number_at(leg, "roll_deg"), 3.96, 1e-9);
    assert_near(number_at(leg, "night_h"), 3.2, 1e-9);
}

static void rounded_angles_stay_in_their_range(void **state) {
    (void)state;
    json_t *last = json_array_get(json_object_get(root, "legs"), 5);
    assert_near(number_at(last, "wave_from_deg"), 0.0, 0.0); /* 359.97 */
    assert_near(number_at(last, "awa_deg"), 180.0, 0.0);     /* -179.97 */
}

static void unknown_values_are_null(void **state) {
    (void)state;
    json_t *summary = json_object_get(root, "summary");
    json_t *legs = json_object_get(root, "legs");
    json_t *changes = json_object_get(root, "changes");
    assert_true(null_at(summary, "motor_h"));
    assert_true(null_at(summary, "max_wave_m"));
    assert_true(null_at(summary, "kept_gybes_cost_h"));
    assert_true(null_at(json_array_get(legs, 2), "gust_kn"));
    assert_true(null_at(json_array_get(legs, 4), "wave_from_deg"));
    json_t *gybe = json_array_get(changes, 1);
    assert_true(null_at(gybe, "earliest"));
    assert_true(null_at(gybe, "pole_length_m"));
    assert_true(null_at(gybe, "headsail"));
    assert_true(null_at(json_array_get(changes, 5), "why"));
    assert_string_equal(text_at(json_array_get(changes, 0), "earliest"),
                        "2024-03-15T08:00:00Z");
}

static void a_plan_that_ends_on_the_way_does_not_arrive(void **state) {
    (void)state;
    example.plan.summary.reached = false;
    example.plan.summary.elapsed_without_spar_s = figure_unknown();
    example.plan.isochrones = NULL;
    example.plan.isochrone_count = 0;
    example.plan.change_count = 0;
    make();
    json_t *summary = json_object_get(root, "summary");
    assert_true(null_at(summary, "arrive"));
    assert_true(null_at(summary, "elapsed_without_spar_h"));
    assert_true(null_at(root, "isochrones"));
    assert_int_equal(json_array_size(json_object_get(root, "changes")), 0);
}

static void deck_states_tell_spar_headsail_and_wind_side(void **state) {
    (void)state;
    json_t *changes = json_object_get(root, "changes");
    json_t *set = json_array_get(changes, 0);
    assert_string_equal(text_at(set, "change"), "set");
    assert_string_equal(text_at(set, "from_state"), "stowed_wind_starboard");
    assert_string_equal(text_at(set, "to_state"),
                        "starboard_drawing_wind_starboard");
    json_t *roll = json_array_get(changes, 2);
    assert_string_equal(text_at(roll, "to_state"), "port_rolled_wind_port");
    json_t *main_gybe = json_array_get(changes, 4);
    assert_string_equal(text_at(main_gybe, "change"), "mainsail_gybe");
    assert_string_equal(text_at(main_gybe, "from_state"),
                        "port_drawing_wind_port");
    assert_string_equal(text_at(main_gybe, "to_state"),
                        "port_drawing_wind_starboard");
}

static void isochrone_points_are_longitude_first(void **state) {
    (void)state;
    json_t *points = json_object_get(first("isochrones"), "points");
    json_t *second = json_array_get(points, 1);
    assert_int_equal(json_array_size(points), 2);
    assert_near(json_number_value(json_array_get(second, 0)), -26.1235, 1e-9);
    assert_near(json_number_value(json_array_get(second, 1)), 15.25, 1e-9);
}

static void warnings_are_in_utc_and_count_legs(void **state) {
    (void)state;
    struct arena arena;
    arena_init(&arena);
    example.warnings[0] = arena_print(&arena, "leg %s", mark_leg(&arena, 2));
    example.plan.display.zone_s = 3600.0;
    example.warnings[1] = mark_time(&arena, example.plan.depart);
    make();
    json_t *list = json_object_get(root, "warnings");
    assert_string_equal(json_string_value(json_array_get(list, 0)), "leg 3");
    assert_string_equal(json_string_value(json_array_get(list, 1)),
                        "Fri 15 Mar 05:00 UTC");
    arena_free(&arena);
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, finish)

/* What an earlier plan has, and what keeping to its track takes more. */
static void an_earlier_plan_stands_beside_this_one(void **state) {
    (void)state;
    struct plan *plan = &example.plan;
    struct previous_leg leg = {.start = plan->depart};
    struct previous_work work = {
        .kind = CHANGE_GYBE, .at = plan->depart, .to = {.spar = SPAR_PORT}};
    struct previous previous = {.name = "Old",
                                .depart = plan->depart,
                                .legs = &leg,
                                .leg_count = 1,
                                .works = &work,
                                .work_count = 1};
    struct plan_keeping keeping = {.previous = &previous,
                                   .off_m = 1852.0 * 2.5,
                                   .joined = {16.0, -30.0},
                                   .known = true,
                                   .summary = plan->summary};
    keeping.summary.elapsed_s += 5400.0;
    keeping.summary.cost_s += 9000.0;
    assert_true(json_is_null(json_object_get(root, "previous")));
    plan->keeping = &keeping;
    make();
    json_t *json = json_object_get(root, "previous");
    keys_are(json, "name depart arrive next_work off_track_nmi joined "
                   "keep_arrive keep_later_h keep_cost_h");
    assert_true(json_is_null(json_object_get(json, "arrive")));
    json_t *next = json_object_get(json, "next_work");
    keys_are(next, "change at to_state");
    assert_string_equal(json_string_value(json_object_get(next, "to_state")),
                        "port_drawing_wind_port");
    assert_near(json_number_value(json_object_get(json, "off_track_nmi")), 2.5,
                1e-9);
    assert_near(json_number_value(json_object_get(json, "keep_later_h")), 1.5,
                1e-9);
    assert_near(json_number_value(json_object_get(json, "keep_cost_h")), 2.5,
                1e-9);
    keeping.known = false;
    previous.work_count = 0;
    make();
    json = json_object_get(root, "previous");
    assert_true(json_is_null(json_object_get(json, "keep_arrive")));
    assert_true(json_is_null(json_object_get(json, "keep_cost_h")));
    assert_true(json_is_null(json_object_get(json, "next_work")));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(all_keys_are_there_in_order),
        TEST(values_are_in_the_units_of_their_keys),
        TEST(rounded_angles_stay_in_their_range),
        TEST(unknown_values_are_null),
        TEST(a_plan_that_ends_on_the_way_does_not_arrive),
        TEST(deck_states_tell_spar_headsail_and_wind_side),
        TEST(warnings_are_in_utc_and_count_legs),
        TEST(isochrone_points_are_longitude_first),
        TEST(an_earlier_plan_stands_beside_this_one),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
