/* A course sailed and written down as legs: means, sums, the dark, the track.
 * The changes on it: leg_changes_test. */
#include "../support/check.h"
#include "../support/legs_sailed.h"
#include "../support/scratch.h"

#include "base/units.h"
#include "earth/almanac.h"
#include "earth/rhumb.h"
#include "plan/legs.h"
#include <math.h>
#include <stddef.h>

/* A leg in a steady wind: as much of the way as of the time. */
static struct position on_leg(const void *context, double unix_s) {
    const struct plan_leg *leg = context;
    double part = (unix_s - (double)leg->start.unix_s) / leg_s(leg);
    return rhumb_ahead(leg->from, leg->course_deg, part * leg->distance_m);
}

/* Whichever part of a step the sun passes -6 degrees in; a leg that ends
 * before that is dark from end to end. */
static void night_ends_with_the_almanac_to_seconds(void **state) {
    (void)state;
    static const double start_h[] = {0.0, 0.1, 0.2, 0.3, 0.4};
    for (size_t i = 0; i < sizeof start_h / sizeof *start_h; i++) {
        struct sailed sailed;
        struct vertex vertices[3] = {{.at = start_at}};
        vertices[1] =
            place(200.0, 8.0 + 4.0 * start_h[i], start_at, SPAR_STOWED);
        vertices[2] = place(200.0, 100.0, vertices[1].at, SPAR_STOWED);
        sail(&sailed, &trades, vertices, 3);
        const struct plan_leg *leg = &sailed.plan.legs[1];
        struct observer aboard = {on_leg, leg};
        double begin_s = (double)leg->start.unix_s;
        struct figure dawn_s =
            almanac_next(ALMANAC_CIVIL_DAWN, &aboard, begin_s, begin_s + 86400);
        assert_true(dawn_s.known);
        assert_true(dawn_s.value < (double)leg->end.unix_s);
        assert_near(leg->night_s, dawn_s.value - begin_s, 15.0);
        assert_near(sailed.plan.legs[0].night_s, leg_s(&sailed.plan.legs[0]),
                    1.0);
    }
}

static void a_steady_leg_has_the_figures_of_its_motion(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[2] = {{.at = start_at}};
    vertices[1] = place(200.0, 30.0, start_at, SPAR_STOWED);
    sail(&sailed, &trades, vertices, 2);
    struct conditions here;
    struct motion motion;
    struct deck deck = {.spar = SPAR_STOWED, .wind_starboard = false};
    voyage_look(&sailed.voyage, start_at, 0.0, &here);
    voyage_motion(&sailed.voyage, &here, 200.0, deck, false, &motion);
    const struct plan_leg *leg = &sailed.plan.legs[0];
    assert_int_equal(sailed.obstacle, OBSTACLE_NONE);
    assert_int_equal(sailed.plan.leg_count, 1);
    assert_angle_near(leg->course_deg, 200.0, 1e-6);
    assert_angle_near(leg->heading_deg, 200.0, 1e-6);
    assert_near(m_to_nmi(leg->distance_m), 30.0, 1e-6);
    assert_near(leg->tws_mps, 7.0, 1e-9);
    assert_angle_near(leg->twd_deg, 90.0, 1e-9);
    assert_angle_near(leg->twa_deg, -110.0, 1e-6);
    assert_angle_near(leg->awa_deg, voyage_awa_deg(&motion), 1e-6);
    assert_near(leg->aws_mps, motion.aws_mps, 1e-6);
    assert_near(leg->stw_mps, motion.stw_mps, 1e-6);
    assert_near(leg->sog_mps, motion.stw_mps, 1e-3);
    assert_near(leg_s(leg), nmi_to_m(30.0) / motion.stw_mps, 1.0);
    assert_near(leg->gust_mps.value, 8.4, 1e-9);
    assert_false(leg->gust_estimated);
    assert_near(leg->wave_m.value, 1.2, 1e-9);
    assert_angle_near(leg->wave_from_deg.value, 90.0, 1e-9);
    assert_false(leg->current_known);
    assert_false(leg->beating);
}

/* The mean of 350 and 010 is 000, not 180; and so for the waves. */
static void directions_are_means_of_vectors(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[2] = {{.at = start_at}};
    vertices[1] = place(90.0, 60.0, start_at, SPAR_STOWED);
    struct analytic weather = trades;
    weather.wind_from_deg = 350.0;
    sail(&sailed, &weather, vertices, 2);
    double hours = s_to_hours(leg_s(&sailed.plan.legs[0]));
    weather.veer_deg_per_day = 20.0 * 24.0 / hours;
    sail(&sailed, &weather, vertices, 2);
    const struct plan_leg *leg = &sailed.plan.legs[0];
    assert_angle_near(leg->twd_deg, 0.0, 1.0);
    assert_angle_near(leg->twa_deg, -90.0, 1.0);
    assert_angle_near(leg->wave_from_deg.value, 0.0, 1.0);
    assert_near(leg->tws_mps, 7.0, 1e-9);
}

static void legs_join_and_add_up(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[5];
    struct analytic weather = trades;
    weather.rise_mps_per_day = 1.0;
    sail(&sailed, &weather, vertices, run_west(vertices));
    const struct plan *plan = &sailed.plan;
    double seconds = 0.0, distance_m = 0.0, roll2 = 0.0;
    assert_int_equal(plan->leg_count, 4);
    for (size_t i = 0; i < plan->leg_count; i++) {
        const struct plan_leg *leg = &plan->legs[i];
        if (i > 0) {
            assert_int_equal(leg->start.unix_s, leg[-1].end.unix_s);
            assert_near(leg->from.lon_deg, leg[-1].to.lon_deg, 0.0);
        }
        seconds += leg_s(leg);
        distance_m += leg->distance_m;
        roll2 += leg_s(leg) * leg->roll_deg * leg->roll_deg;
    }
    assert_int_equal(plan->legs[0].start.unix_s, departure.unix_s);
    assert_near(seconds, plan->summary.elapsed_s, 0.5);
    assert_near(distance_m, plan->summary.distance_m, 1e-6);
    assert_near(m_to_nmi(distance_m), 125.0, 1e-3);
    /* root mean square over the passage is that over the legs */
    assert_near(sqrt(roll2 / seconds), plan->summary.roll_mean_deg, 0.01);
    assert_true(plan->summary.roll_mean_deg > 0.1);
}

/* A leg of reaching in one wind rolls alike all the way. */
static double easy_share(double easy_deg) {
    struct sailed sailed;
    struct vertex vertices[2] = {{.at = start_at}};
    struct boat *boat = analytic_boat_copy("wanderer-12");
    vertices[1] = place(200.0, 30.0, start_at, SPAR_STOWED);
    boat->comfort.easy_roll_deg = easy_deg;
    sail_boat(&sailed, boat, &trades, vertices, 2);
    double share =
        sailed.plan.summary.roll_easy_s / sailed.plan.summary.elapsed_s;
    return share;
}

static void hours_below_the_easy_roll_are_counted(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[2] = {{.at = start_at}};
    vertices[1] = place(200.0, 30.0, start_at, SPAR_STOWED);
    sail(&sailed, &trades, vertices, 2);
    double roll_deg = sailed.plan.legs[0].roll_deg;
    assert_true(roll_deg > 0.5);
    assert_near(easy_share(roll_deg + 0.1), 1.0, 1e-9);
    assert_near(easy_share(roll_deg - 0.1), 0.0, 1e-9);
}

static void a_leg_tells_what_makes_her_roll(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[5];
    struct analytic weather = trades;
    weather.swell = (struct wave_system){true, 1.4, 11.0, 300.0};
    sail(&sailed, &weather, vertices, run_west(vertices));
    for (size_t i = 0; i < sailed.plan.leg_count; i++) {
        const struct plan_leg *leg = &sailed.plan.legs[i];
        const struct plan_roll *roll = &leg->roll;
        double sum = roll->sails_deg2 + roll->system[0].roll2_deg2 +
                     roll->system[1].roll2_deg2;
        assert_near(sum, leg->roll_deg * leg->roll_deg, 1e-9);
        assert_true(roll->system[0].roll2_deg2 > 0.0);
        assert_false(roll->system[2].known);
        assert_near(roll->system[1].height_m, 1.4, 1e-9);
        assert_angle_near(roll->system[1].off_bow_deg, 300.0 - leg->heading_deg,
                          0.5);
        assert_true(roll->sails_deg2 > 0.0); /* a run */
    }
}

/* A light wind over the stern in a swell; then a fresh one, against a current
 * to the east. */
static void what_to_beware_of_is_found_on_the_way(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[2] = {{.at = start_at}};
    struct analytic light = {.wind_from_deg = 90.0,
                             .wind_mps = kn_to_mps(8.0),
                             .swell = {true, 1.4, 11.0, 300.0}};
    vertices[1] = place(270.0, 10.0, start_at, SPAR_STOWED);
    sail(&sailed, &light, vertices, 2);
    struct plan_remarks remarks = sailed.plan.legs[0].remarks;
    assert_true(remarks.slatting);
    assert_false(remarks.against_current || remarks.steep);
    light.wind_mps = kn_to_mps(15.0);
    light.current = vector_from(270.0, kn_to_mps(1.5));
    light.wave_m = 1.6;
    light.wave_period_s = 4.2; /* 27.5 m: 1 in 17 */
    sail(&sailed, &light, vertices, 2);
    remarks = sailed.plan.legs[0].remarks;
    assert_true(remarks.against_current && remarks.steep);
    assert_false(remarks.slatting);
}

/* Midnight is dark at the start: the first night ends, two or more follow. */
static void the_dark_hours_of_several_nights_are_counted(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[2] = {{.at = start_at}};
    vertices[1] = place(200.0, 400.0, start_at, SPAR_STOWED);
    sail(&sailed, &trades, vertices, 2);
    const struct plan_leg *leg = &sailed.plan.legs[0];
    struct observer aboard = {on_leg, leg};
    double at_s = (double)leg->start.unix_s, end_s = (double)leg->end.unix_s;
    double dark_s = 0.0;
    bool dark = true;
    while (at_s < end_s) {
        struct figure turn_s =
            almanac_next(dark ? ALMANAC_CIVIL_DAWN : ALMANAC_CIVIL_DUSK,
                         &aboard, at_s, end_s);
        double until_s = turn_s.known ? turn_s.value : end_s;
        dark_s += dark ? until_s - at_s : 0.0;
        dark = !dark;
        at_s = until_s;
    }
    assert_true(s_to_hours(leg_s(leg)) > 48.0);
    assert_true(dark_s > hours_to_s(12.0));
    assert_near(leg->night_s, dark_s, 120.0);
}

static void an_unknown_gust_is_estimated_and_marked(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[5];
    struct analytic weather = trades;
    weather.gust_frac = figure_unknown();
    sail(&sailed, &weather, vertices, run_west(vertices));
    assert_true(sailed.plan.legs[0].gust_estimated);
    assert_near(sailed.plan.legs[0].gust_mps.value, 1.4 * 7.0, 1e-9);
    assert_false(sailed.plan.summary.max_gust_mps.known);
    assert_true(sailed.plan.changes[0].gust_estimated);
    assert_near(sailed.plan.changes[0].gust_mps.value, 1.4 * 7.0, 1e-9);
}

static void an_unknown_sea_is_unknown(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[5];
    struct analytic weather = trades;
    weather.wave_m = 0.0;
    sail(&sailed, &weather, vertices, run_west(vertices));
    assert_false(sailed.plan.legs[0].wave_m.known);
    assert_false(sailed.plan.legs[0].wave_from_deg.known);
    assert_false(sailed.plan.summary.max_wave_m.known);
}

/* A current across: the boat heads up to hold her course, and what she makes
 * good is distance by time. */
static void a_current_turns_the_heading_not_the_course(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[2] = {{.at = start_at}};
    struct analytic weather = trades;
    weather.current = (struct vector_mps){0.5, 0.0};
    vertices[1] = place(180.0, 40.0, start_at, SPAR_STOWED);
    sail(&sailed, &weather, vertices, 2);
    const struct plan_leg *leg = &sailed.plan.legs[0];
    double crab_deg = asin(0.5 / leg->stw_mps) / RADIANS_PER_DEGREE;
    assert_angle_near(leg->course_deg, 180.0, 1e-6);
    assert_angle_near(leg->heading_deg, 180.0 + crab_deg, 0.01);
    assert_near(leg->sog_mps, leg->distance_m / leg_s(leg), 1e-3);
    assert_true(leg->current_known);
    assert_near(leg->current_mps, 0.5, 1e-9);
    assert_angle_near(leg->current_towards_deg, 90.0, 1e-9);
    /* the wind over the water is the wind less the current */
    assert_near(leg->tws_mps, 7.5, 1e-6);
}

static void the_end_of_the_forecast_ends_the_plan_there(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[5];
    struct analytic weather = trades;
    weather.horizon_s = hours_to_s(6.0);
    sail(&sailed, &weather, vertices, run_west(vertices));
    const struct plan *plan = &sailed.plan;
    assert_int_equal(sailed.obstacle, OBSTACLE_HORIZON);
    assert_int_equal(plan->leg_count, 2);
    assert_in_range(instant_minus(plan->legs[1].end, departure),
                    hours_to_s(6.0) - 31.0, hours_to_s(6.0));
    assert_near(instant_minus(plan->legs[1].end, departure),
                plan->summary.elapsed_s, 0.5);
}

static enum obstacle beyond_after_a_while(const void *weather,
                                          struct position position, double t_s,
                                          struct conditions *conditions) {
    enum obstacle obstacle =
        analytic_conditions(weather, position, t_s, conditions);
    conditions->beyond_forecast = t_s > hours_to_s(8.0);
    return obstacle;
}

static void legs_beyond_the_forecast_are_marked(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[5];
    size_t count = run_west(vertices);
    sail(&sailed, &trades, vertices, count);
    struct track course = {.vertices = vertices, .count = count};
    struct underway begin =
        sail_start(start_at, (struct deck){.spar = SPAR_STOWED});
    struct plan plan = {.boat = sailed.plan.boat,
                        .depart = departure,
                        .forecast_run = departure,
                        .forecast_end = instant_plus(departure, 28800.0)};
    sailed.voyage.conditions = beyond_after_a_while;
    struct underway boat = track_start(&sailed.voyage, &course, &begin);
    legs_sail(&sailed.voyage, &course, &boat, &arena, &plan, &sailed.obstacle);
    assert_false(plan.legs[0].beyond_forecast);
    assert_true(plan.legs[3].beyond_forecast);
    assert_int_equal(plan.legs[0].trust, TRUST_GOOD);
    assert_int_equal(plan.legs[3].trust, TRUST_GUESS);
    assert_near(plan.summary.beyond_forecast_s,
                plan.summary.elapsed_s - 28800.0, 900.0);
}

static void the_track_samples_the_legs(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[5];
    sail(&sailed, &trades, vertices, run_west(vertices));
    const struct plan *plan = &sailed.plan;
    const struct plan_point *last = &plan->track[plan->track_count - 1];
    assert_int_equal(plan->track[0].at.unix_s, departure.unix_s);
    assert_int_equal(last->at.unix_s, plan->legs[3].end.unix_s);
    assert_near(last->position.lon_deg, vertices[4].at.lon_deg, 1e-9);
    for (size_t i = 1; i < plan->track_count; i++)
        assert_in_range(instant_minus(plan->track[i].at, plan->track[i - 1].at),
                        1.0, 3600.0);
}

#define TEST(name)                                                             \
    cmocka_unit_test_setup_teardown(name, scratch_begin, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(night_ends_with_the_almanac_to_seconds),
        TEST(a_steady_leg_has_the_figures_of_its_motion),
        TEST(directions_are_means_of_vectors),
        TEST(legs_join_and_add_up),
        TEST(hours_below_the_easy_roll_are_counted),
        TEST(a_leg_tells_what_makes_her_roll),
        TEST(what_to_beware_of_is_found_on_the_way),
        TEST(the_dark_hours_of_several_nights_are_counted),
        TEST(an_unknown_gust_is_estimated_and_marked),
        TEST(an_unknown_sea_is_unknown),
        TEST(a_current_turns_the_heading_not_the_course),
        TEST(the_end_of_the_forecast_ends_the_plan_there),
        TEST(legs_beyond_the_forecast_are_marked),
        TEST(the_track_samples_the_legs),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
