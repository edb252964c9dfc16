/* Where the spar pays along a given track, in a steady wind by hand. */
#include "../support/analytic.h"
#include "../support/check.h"

#include "base/units.h"
#include "earth/rhumb.h"
#include "plan/legs.h"
#include "plan/paying.h"

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
static const struct deck stowed = {.spar = SPAR_STOWED};

/* A leg by a polar: changes take no time. */
static double leg_s(const struct voyage *voyage, const struct polar *polar,
                    int leg) {
    double turn_deg = fabs(courses_deg[leg] - 270.0);
    return lengths_m[leg] /
           (voyage->boat->factor * polar_speed(polar, 180.0 - turn_deg, 7.0));
}

static void a_stretch_saves_what_the_other_polar_is_faster(void **state) {
    (void)state;
    struct sailed sailed;
    sail(&sailed, &trades);
    struct plan *plan = &sailed.plan;
    const struct boat *boat = sailed.voyage.boat;
    paying_give(plan, &sailed.voyage, stowed, &sailed.arena);
    double with_s = leg_s(&sailed.voyage, &boat->spar_out, 1);
    double bare_s = leg_s(&sailed.voyage, &boat->stowed, 1);
    assert_int_equal(plan->stretch_count, 1);
    const struct plan_stretch *stretch = &plan->stretches[0];
    assert_int_equal(stretch->first, 1);
    assert_int_equal(stretch->last, 1);
    assert_near(stretch->seconds, with_s, 0.001 * with_s);
    assert_near(stretch->distance_m, lengths_m[1], 100.0);
    assert_near(stretch->saved_s, bare_s - with_s, 0.001 * bare_s);
    assert_true(stretch->saved_s > 600.0);
    assert_near(plan->summary.elapsed_without_spar_s.value,
                plan->summary.elapsed_s + stretch->saved_s, 3.0);
    /* ease 0: the cost is the time */
    assert_near(plan->summary.cost_without_spar_s.value,
                plan->summary.elapsed_without_spar_s.value, 1e-6);
    arena_free(&sailed.arena);
}

static void nothing_is_told_of_a_boat_that_has_it_out_already(void **state) {
    (void)state;
    struct sailed sailed;
    sail(&sailed, &trades);
    paying_give(&sailed.plan, &sailed.voyage, (struct deck){.spar = SPAR_PORT},
                &sailed.arena);
    assert_false(sailed.plan.summary.elapsed_without_spar_s.known);
    assert_int_equal(sailed.plan.stretch_count, 0);
    arena_free(&sailed.arena);
}

/* Slower, she is still under way when the forecast ends. */
static void what_cannot_be_sailed_without_it_is_not_known(void **state) {
    (void)state;
    struct sailed sailed;
    struct analytic weather = trades;
    sail(&sailed, &weather);
    weather.horizon_s = sailed.plan.summary.elapsed_s + 60.0;
    paying_give(&sailed.plan, &sailed.voyage, stowed, &sailed.arena);
    assert_false(sailed.plan.summary.elapsed_without_spar_s.known);
    assert_int_equal(sailed.plan.stretch_count, 0);
    arena_free(&sailed.arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_stretch_saves_what_the_other_polar_is_faster),
        cmocka_unit_test(nothing_is_told_of_a_boat_that_has_it_out_already),
        cmocka_unit_test(what_cannot_be_sailed_without_it_is_not_known),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
