/* A course sailed and written down as legs: the changes at their starts and on
 * the way, the deck states between, and the wind that the crew sees at them. */
#include "../support/check.h"
#include "../support/legs_sailed.h"
#include "../support/scratch.h"

#include "base/units.h"
#include "boat/apparent.h"
#include "earth/rhumb.h"
#include <math.h>

static void changes_belong_to_the_legs_that_start_with_them(void **state) {
    (void)state;
    static const struct {
        enum change_kind kind;
        size_t leg;
        enum sail_mode mode; /* of that leg */
    } expected[] = {{CHANGE_SET, 1, MODE_WING},
                    {CHANGE_GYBE, 2, MODE_WING},
                    {CHANGE_STOW, 3, MODE_STOWED}};
    struct sailed sailed;
    struct vertex vertices[5];
    struct analytic gentle = trades;
    gentle.wave_m = 0.6; /* no roll that makes deck work harder */
    sail(&sailed, &gentle, vertices, run_west(vertices));
    const struct plan *plan = &sailed.plan;
    assert_int_equal(plan->change_count, 3);
    for (size_t i = 0; i < plan->change_count; i++) {
        const struct plan_change *change = &plan->changes[i];
        const struct plan_leg *leg = &plan->legs[expected[i].leg];
        assert_int_equal(change->kind, expected[i].kind);
        assert_int_equal(change->leg, expected[i].leg);
        assert_int_equal(change->at.unix_s, leg->start.unix_s);
        assert_near(change->position.lat_deg, leg->from.lat_deg, 1e-9);
        assert_int_equal(leg->mode, expected[i].mode);
        assert_int_equal(deck_index(change->to), deck_index(leg->deck));
        assert_true(change->deck_work);
    }
    assert_near(plan->changes[0].seconds, 20.0 * 60.0, 1e-9);
    assert_near(plan->changes[1].seconds, 30.0 * 60.0, 1e-9);
    assert_int_equal(plan->summary.deck_work, 3);
    assert_int_equal(plan->summary.night_deck_work, 0);
    assert_near(plan->summary.hardship_s, 3.0 * 1800.0, 1e-9);
}

static void hours_with_the_spar_out_add_up(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[5];
    sail(&sailed, &trades, vertices, run_west(vertices));
    const struct plan *plan = &sailed.plan;
    double out_s = leg_s(&plan->legs[1]) + leg_s(&plan->legs[2]);
    assert_near(plan->summary.spar_s, out_s, 1.0);
    assert_near(plan->summary.wing_s, out_s, 1.0);
    assert_near(plan->summary.poled_reach_s, 0.0, 0.0);
    assert_near(plan->summary.upwind_s, 0.0, 0.0);
}

static void work_at_night_takes_longer_and_is_counted(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[5];
    struct analytic weather = trades;
    weather.night_every_s = hours_to_s(1000.0); /* dark all the time */
    sail(&sailed, &weather, vertices, run_west(vertices));
    const struct plan *plan = &sailed.plan;
    assert_int_equal(plan->summary.night_deck_work, 3);
    assert_near(plan->changes[0].seconds, 1.5 * 20.0 * 60.0, 1e-9);
    assert_int_equal(plan->changes[0].light, LIGHT_NIGHT);
}

/* A leg on which the crew has to roll the sail for the last bit is one of
 * wing-and-wing still. */
static void the_deck_state_of_a_leg_is_that_of_most_of_it(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[3] = {{.at = start_at}};
    struct analytic weather = trades;
    weather.wind_mps = 10.0;
    weather.rise_mps_per_day = 4.0;
    vertices[1] = place(265.0, 10.0, start_at, SPAR_PORT);
    vertices[2] = place(265.0, 90.0, vertices[1].at, SPAR_STOWED);
    sail(&sailed, &weather, vertices, 3);
    const struct plan *plan = &sailed.plan;
    assert_true(plan->change_count >= 2);
    assert_int_equal(plan->changes[plan->change_count - 1].kind, CHANGE_ROLL);
    assert_int_equal(plan->legs[1].mode, MODE_WING);
}

/* On the way along a leg: what the wind is there and then, not the mean of the
 * leg, nor of the next. */
static void a_change_has_the_wind_of_its_own_moment(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[3] = {{.at = start_at}};
    struct analytic weather = trades;
    weather.veer_deg_per_day = -60.0;
    vertices[1] = place(262.0, 10.0, start_at, SPAR_PORT);
    vertices[2] = place(262.0, 120.0, vertices[1].at, SPAR_STOWED);
    sail(&sailed, &weather, vertices, 3);
    const struct plan_change *set = &sailed.plan.changes[0];
    const struct plan_change *roll = &sailed.plan.changes[1];
    double hours = instant_minus(roll->at, departure) / 3600.0;
    assert_true(set->starts_leg);
    assert_int_equal(roll->kind, CHANGE_MAINSAIL_GYBE);
    assert_false(roll->starts_leg);
    assert_int_equal(roll->leg, 1);
    assert_angle_near(roll->twd_deg, 90.0 - 2.5 * hours, 0.01);
    assert_angle_near(roll->twa_deg, roll->twd_deg - 262.0, 0.01);
    assert_true(fabs(roll->awa_deg) < fabs(roll->twa_deg));
    assert_true(fabs(roll->twd_deg - sailed.plan.legs[1].twd_deg) > 5.0);
}

/* What the helm keeps: without the slow minutes while the spar is being set. */
static void the_apparent_wind_is_that_of_sailing(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[3] = {
        {.at = start_at, .order = {.spar = SPAR_PORT}}};
    vertices[1] = place(255.0, 6.0, start_at, SPAR_STOWED);
    vertices[2] = place(255.0, 20.0, vertices[1].at, SPAR_STOWED);
    sail(&sailed, &trades, vertices, 3);
    const struct plan_leg *leg = &sailed.plan.legs[0];
    const struct boat *boat = sailed.plan.boat;
    struct motion motion = {.twa_deg = leg->twa_deg, .tws_mps = 7.0};
    motion.stw_mps = polar_speed(&boat->spar_out, fabs(leg->twa_deg), 7.0);
    assert_int_equal(sailed.plan.changes[0].kind, CHANGE_SET);
    assert_true(leg->stw_mps < 0.9 * motion.stw_mps);
    assert_angle_near(leg->awa_deg, voyage_awa_deg(&motion), 0.1);
    assert_near(leg->aws_mps, apparent_speed(leg->twa_deg, 7.0, motion.stw_mps),
                0.01);
}

/* What stands on the instruments before the work and at its limit: before the
 * set the boat runs at 262 under the stowed polar. */
static void limits_have_the_apparent_wind_beside(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[5];
    sail(&sailed, &trades, vertices, run_west(vertices));
    const struct boat *boat = sailed.plan.boat;
    const struct plan_change *set = &sailed.plan.changes[0];
    const struct plan_leg *wing = &sailed.plan.legs[1];
    double most = boat->work.max_wind_mps, spar = boat->spar.wing_max_wind_mps;
    double speed = boat->factor * polar_speed(&boat->stowed, 172.0, 7.0);
    assert_near(set->aws_mps.value, apparent_speed(172.0, 7.0, speed), 1e-6);
    speed = boat->factor * polar_speed(&boat->stowed, 172.0, most);
    assert_near(set->most_aws_mps.value, apparent_speed(172.0, most, speed),
                1e-6);
    speed = boat->factor * polar_speed(&boat->spar_out, 172.0, spar);
    assert_near(wing->most_aws_mps.value, apparent_speed(172.0, spar, speed),
                1e-3);
    assert_true(set->aws_mps.value < 0.7 * 7.0);
    assert_false(sailed.plan.legs[0].most_aws_mps.known);
}

static void nothing_is_apparent_before_departure(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[2] = {
        {.at = start_at, .order = {.spar = SPAR_PORT}}};
    vertices[1] = place(262.0, 20.0, start_at, SPAR_STOWED);
    sail(&sailed, &trades, vertices, 2);
    assert_int_equal(sailed.plan.changes[0].kind, CHANGE_SET);
    assert_false(sailed.plan.changes[0].aws_mps.known);
    assert_false(sailed.plan.changes[0].most_aws_mps.known);
}

/* From a reach with the wind on the port side to a run with it on the other:
 * the boom first, then the spar, further on. */
static void the_parts_of_a_change_follow_each_other(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[3] = {{.at = start_at}};
    vertices[1] = place(230.0, 20.0, start_at, SPAR_STARBOARD);
    vertices[2] = place(285.0, 40.0, vertices[1].at, SPAR_STOWED);
    sail(&sailed, &trades, vertices, 3);
    const struct plan_change *change = sailed.plan.changes;
    assert_int_equal(sailed.plan.change_count, 2);
    assert_int_equal(change[0].kind, CHANGE_MAINSAIL_GYBE);
    assert_int_equal(change[1].kind, CHANGE_SET);
    assert_int_equal(change[0].to.spar, SPAR_STOWED);
    assert_false(change[0].from.wind_starboard);
    assert_true(change[0].to.wind_starboard);
    assert_int_equal(deck_index(change[0].to), deck_index(change[1].from));
    assert_int_equal(change[1].to.spar, SPAR_STARBOARD);
    assert_near(instant_minus(change[1].at, change[0].at), 480.0, 1.0);
    double on_m =
        rhumb_between(change[0].position, change[1].position).distance_m;
    assert_in_range(on_m, 480.0 * 1.0, 480.0 * 4.0); /* 1 to 4 m/s */
}

#define TEST(name)                                                             \
    cmocka_unit_test_setup_teardown(name, scratch_begin, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(changes_belong_to_the_legs_that_start_with_them),
        TEST(hours_with_the_spar_out_add_up),
        TEST(work_at_night_takes_longer_and_is_counted),
        TEST(a_change_has_the_wind_of_its_own_moment),
        TEST(the_apparent_wind_is_that_of_sailing),
        TEST(limits_have_the_apparent_wind_beside),
        TEST(nothing_is_apparent_before_departure),
        TEST(the_parts_of_a_change_follow_each_other),
        TEST(the_deck_state_of_a_leg_is_that_of_most_of_it),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
