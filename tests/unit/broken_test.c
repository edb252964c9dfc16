/* The rest of the passage without the spar, in a steady wind by hand. */
#include "../support/analytic.h"
#include "../support/check.h"

#include "base/units.h"
#include "earth/rhumb.h"
#include "plan/broken.h"
#include "plan/legs.h"

#include <math.h>

static const struct position start_at = {0.0, -40.0};

/* 2026-06-01T00:00Z, `date -u -d @1780272000` */
static const struct instant departure = {1780272000};

struct sailed {
    struct arena arena;
    struct voyage voyage;
    struct plan plan;
};

/* West before the trades: spar stowed, wing-and-wing, stowed again. */
enum { LEGS = 3 };
static const double courses_deg[LEGS] = {300.0, 262.0, 300.0};
static const double lengths_m[LEGS] = {
    30.0 * METRES_PER_NMI, 80.0 * METRES_PER_NMI, 20.0 * METRES_PER_NMI};

/* Both change hands in no time: what is left is distance over speed. */
static const struct boat *boat_made(void) {
    struct boat *boat = analytic_boat_copy("wanderer-12");
    analytic_free_changes(boat);
    return boat;
}

static void sail(struct sailed *sailed, const struct analytic *weather) {
    static const enum spar_place spars[] = {SPAR_STOWED, SPAR_PORT, SPAR_STOWED,
                                            SPAR_STOWED};
    struct vertex vertices[LEGS + 1] = {{.at = start_at}};
    struct track course = {.vertices = vertices, .count = LEGS + 1};
    enum obstacle obstacle;
    *sailed = (struct sailed){.plan = {.leg_count = 0}};
    arena_init(&sailed->arena);
    for (int i = 0; i < LEGS; i++) {
        vertices[i].order.spar = spars[i];
        vertices[i + 1].at =
            rhumb_ahead(vertices[i].at, courses_deg[i], lengths_m[i]);
    }
    sailed->voyage = analytic_voyage(boat_made(), weather, vertices[LEGS].at);
    struct plan *plan = &sailed->plan;
    *plan = (struct plan){.boat = sailed->voyage.boat,
                          .depart = departure,
                          .forecast_run = departure,
                          .forecast_end = instant_plus(departure, 1e6)};
    struct underway begin =
        sail_start(start_at, (struct deck){.spar = SPAR_STOWED});
    struct underway boat = track_start(&sailed->voyage, &course, &begin);
    legs_sail(&sailed->voyage, &course, &boat, &sailed->arena, plan, &obstacle);
    plan->summary.reached = obstacle == OBSTACLE_NONE;
}

static const struct analytic trades = {.wind_from_deg = 90.0, .wind_mps = 7.0};

/* Stowed, by the polar. */
static double bare_s(const struct voyage *voyage, int leg) {
    double turn_deg = fabs(courses_deg[leg] - 270.0);
    double mps = voyage->boat->factor *
                 polar_speed(&voyage->boat->stowed, 180.0 - turn_deg, 7.0);
    return lengths_m[leg] / mps;
}

static void the_rest_is_sailed_at_the_speed_of_the_other_polar(void **state) {
    (void)state;
    struct sailed sailed;
    sail(&sailed, &trades);
    const struct plan *plan = &sailed.plan;
    const struct voyage *voyage = &sailed.voyage;
    assert_true(plan->summary.reached);
    assert_int_equal(plan->leg_count, LEGS);
    assert_int_equal(plan->legs[1].mode, MODE_WING);
    broken_give(&sailed.plan, voyage);
    double last_s = plan->summary.elapsed_s;
    double second_s = instant_minus(plan->legs[1].start, departure) +
                      bare_s(voyage, 1) + bare_s(voyage, 2);
    double first_s = bare_s(voyage, 0) + bare_s(voyage, 1) + bare_s(voyage, 2);
    assert_near(plan->legs[2].broken_s.value, last_s, 2.0);
    assert_near(plan->legs[1].broken_s.value, second_s, 0.001 * second_s);
    assert_near(plan->legs[0].broken_s.value, first_s, 0.001 * first_s);
    /* wing-and-wing is faster: that is what it is for */
    assert_true(plan->legs[1].broken_s.value > last_s + 600.0);
    arena_free(&sailed.arena);
}

/* Later than planned the wind is above the crew's limit: told all the same. */
static void the_crews_limits_do_not_hold(void **state) {
    (void)state;
    struct sailed sailed;
    struct analytic weather = trades;
    weather.rise_mps_per_day = 1.0;
    sail(&sailed, &weather);
    double days = sailed.plan.summary.elapsed_s / (24.0 * SECONDS_PER_HOUR);
    sailed.voyage.max_wind_mps = figure_of(7.0 + days);
    broken_give(&sailed.plan, &sailed.voyage);
    assert_true(sailed.plan.legs[1].broken_s.known);
    assert_true(sailed.plan.legs[1].broken_s.value >
                sailed.plan.summary.elapsed_s);
    arena_free(&sailed.arena);
}

static void where_it_cannot_be_sailed_it_is_not_known(void **state) {
    (void)state;
    struct sailed sailed;
    struct analytic weather = trades;
    sail(&sailed, &weather);
    /* the forecast ends when the plan does, which is too early */
    weather.horizon_s = sailed.plan.summary.elapsed_s + 60.0;
    broken_give(&sailed.plan, &sailed.voyage);
    assert_true(sailed.plan.legs[2].broken_s.known);
    assert_false(sailed.plan.legs[1].broken_s.known);
    assert_false(sailed.plan.legs[0].broken_s.known);
    assert_int_equal(sailed.plan.legs[0].broken.why, OBSTACLE_HORIZON);
    assert_int_equal(sailed.plan.legs[0].broken.leg, 2);
    sailed.plan.summary.reached = false;
    sailed.plan.legs[2].broken_s = figure_unknown();
    broken_give(&sailed.plan, &sailed.voyage);
    assert_false(sailed.plan.legs[2].broken_s.known);
    arena_free(&sailed.arena);
}

/* Another wind than planned: ahead on the last leg. */
static void where_the_wind_heads_her_she_beats(void **state) {
    (void)state;
    struct sailed sailed;
    struct analytic weather = trades;
    sail(&sailed, &weather);
    struct plan *plan = &sailed.plan;
    weather.wind_from_deg = 300.0;
    broken_give(plan, &sailed.voyage);
    const struct plan_leg *last = &plan->legs[2];
    assert_true(last->broken_s.known && last->broken.headed);
    assert_true(plan->legs[1].broken_s.known && plan->legs[1].broken.headed);
    assert_int_equal(plan->legs[1].broken.leg, 2);
    /* the first leg needs no spar: as planned, then the same */
    assert_true(plan->legs[0].broken.headed);
    assert_near(plan->legs[0].broken_s.value, plan->legs[1].broken_s.value, 0);
    assert_true(plan->legs[1].broken_s.value >
                plan->legs[2].broken_s.value + 3600.0);
    /* on a given track the land beside it is not known */
    plan->timed_only = true;
    broken_give(plan, &sailed.voyage);
    assert_false(last->broken_s.known);
    assert_int_equal(last->broken.why, OBSTACLE_NO_SPEED);
    assert_int_equal(last->broken.leg, 2);
    arena_free(&sailed.arena);
}

static void of_many_legs_the_first_alone_is_timed(void **state) {
    (void)state;
    struct sailed sailed;
    struct plan_leg legs[BROKEN_LEGS + 1];
    sail(&sailed, &trades);
    struct plan *plan = &sailed.plan;
    for (int i = 0; i <= BROKEN_LEGS; i++) {
        legs[i] = plan->legs[1];
        if (i > 0)
            legs[i].from = legs[i].to;
    }
    plan->legs = legs;
    plan->leg_count = BROKEN_LEGS + 1;
    broken_give(plan, &sailed.voyage);
    assert_true(legs[0].broken_s.known);
    assert_false(legs[1].broken_s.known);
    plan->leg_count = BROKEN_LEGS;
    broken_give(plan, &sailed.voyage);
    assert_true(legs[1].broken_s.known);
    arena_free(&sailed.arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_rest_is_sailed_at_the_speed_of_the_other_polar),
        cmocka_unit_test(the_crews_limits_do_not_hold),
        cmocka_unit_test(where_it_cannot_be_sailed_it_is_not_known),
        cmocka_unit_test(where_the_wind_heads_her_she_beats),
        cmocka_unit_test(of_many_legs_the_first_alone_is_timed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
