/* What tells that work on deck is due: angles and winds worked out by hand. */
#include "../support/check.h"
#include "../support/plan_example.h"

#include "base/units.h"
#include "plan/signs.h"

#include <math.h>

static struct plan_example example;
static const struct moved_list nothing = {.count = 0};

/* A gybe where the third leg begins, from 262 with the wind from 066 on the
 * starboard side; the course goes straight on and the wind veers to 084. */
static struct plan_change *gybe(void) {
    struct plan_change *change = &example.changes[1];
    example.legs[1].course_deg = example.legs[1].heading_deg = 262.0;
    example.legs[2].course_deg = example.legs[2].heading_deg = 262.0;
    change->cause = CAUSE_ANGLE;
    change->aws_mps = figure_of(kn_to_mps(10.0));
    change->twd_deg = 84.0;
    change->twa_deg = -178.0;
    change->awa_deg = -176.5;
    return change;
}

/* The same place and wind, for a set without a change of side. */
static struct plan_change *set(void) {
    struct plan_change *change = gybe();
    change->kind = CHANGE_SET;
    change->to.wind_starboard = true;
    change->twd_deg = 76.0;
    change->twa_deg = 174.0;
    change->awa_deg = 169.0;
    return change;
}

static int begin(void **state) {
    (void)state;
    plan_example_make(&example);
    return 0;
}

static int sign_of(const struct plan_change *change) {
    signs_give(&example.plan, &nothing);
    return (int)change->sign.kind;
}

static void a_gybe_is_due_when_the_wind_passes_the_stern(void **state) {
    (void)state;
    struct plan_change *change = gybe();
    assert_int_equal(sign_of(change), SIGN_STERN);
    assert_near(change->sign.twa_deg, -178.0, 1e-9);
    assert_near(change->sign.awa_deg, -176.5, 1e-9);
}

/* From a course of 262 the wind from 084 stands at 182, 178 on the port side;
 * at 15.9 kn and 6.4 kn it is felt with 15.9 sin 178 and 15.9 cos 178 + 6.4:
 * 0.555 and -9.490, 176.7 deg. */
static void the_angles_are_those_of_the_course_before(void **state) {
    (void)state;
    struct plan_change *change = gybe();
    example.legs[2].course_deg = 256.0;
    change->twa_deg = -172.0;
    assert_int_equal(sign_of(change), SIGN_STERN);
    assert_near(change->sign.twa_deg, -178.0, 1e-9);
    assert_near(change->sign.awa_deg, -176.7, 0.05);
}

/* The leg before had it from 066: on 262, 164 deg. */
static void a_set_is_due_when_the_wind_has_come_aft_or_forward(void **state) {
    (void)state;
    struct plan_change *change = set();
    assert_int_equal(sign_of(change), SIGN_AFT);
    change->twd_deg = 40.0;
    change->twa_deg = 138.0;
    assert_int_equal(sign_of(change), SIGN_FORWARD);
    change->kind = CHANGE_STOW;
    assert_int_equal(sign_of(change), SIGN_FORWARD);
}

static void a_wind_that_stands_tells_nothing(void **state) {
    (void)state;
    struct plan_change *change = set();
    change->twd_deg = 66.5;
    change->twa_deg = 164.5;
    assert_int_equal(sign_of(change), SIGN_NONE);
}

/* 10 degrees of wind; 12 of the course. */
static void where_the_course_turns_by_more_the_place_tells(void **state) {
    (void)state;
    struct plan_change *change = set();
    example.legs[2].course_deg = 253.0;
    assert_int_equal(sign_of(change), SIGN_AFT);
    example.legs[2].course_deg = 250.0;
    assert_int_equal(sign_of(change), SIGN_NONE);
}

/* Wing-and-wing until then: 22 kn. */
static void a_stow_for_the_wind_is_due_at_the_spars_limit(void **state) {
    (void)state;
    struct plan_change *change = gybe();
    change->kind = CHANGE_STOW;
    change->cause = CAUSE_WIND;
    assert_int_equal(sign_of(change), SIGN_WIND);
    assert_near(change->sign.tws_mps, kn_to_mps(22.0), 1e-9);
    change->from.spar = SPAR_PORT; /* the poled reach */
    assert_int_equal(sign_of(change), SIGN_WIND);
    assert_near(change->sign.tws_mps, kn_to_mps(20.0), 1e-9);
}

static void what_the_wind_does_not_ask_for_has_none(void **state) {
    (void)state;
    struct plan_change *change = gybe();
    change->cause = CAUSE_OTHER; /* landfall, a new course */
    assert_int_equal(sign_of(change), SIGN_NONE);
    assert_near(change->sign.awa_deg, -176.5, 1e-9); /* told all the same */
    assert_false(change->sign.after);
    gybe()->aws_mps = figure_unknown(); /* the second part of a change */
    assert_int_equal(sign_of(change), SIGN_NONE);
    assert_true(change->sign.after);
    gybe()->leg = 0; /* at departure */
    assert_int_equal(sign_of(change), SIGN_NONE);
    assert_true(change->sign.after);
    assert_near(change->sign.twa_deg, -178.0, 1e-9);
    gybe()->leg = 2;
    change->deck_work = false; /* from the cockpit */
    assert_int_equal(sign_of(change), SIGN_NONE);
    change->deck_work = true;
    assert_int_equal(sign_of(change), SIGN_STERN);
}

/* The last hours in short legs, in which the wind hardly turns. */
static void a_slow_turn_counts_from_hours_ago(void **state) {
    (void)state;
    struct plan_change *change = set();
    example.legs[0] = example.legs[1];
    example.legs[1].twd_deg = 75.5;
    example.legs[0].end = instant_plus(change->at, -hours_to_s(11.9));
    assert_int_equal(sign_of(change), SIGN_AFT);
    example.legs[0].end = instant_plus(change->at, -hours_to_s(12.1));
    assert_int_equal(sign_of(change), SIGN_NONE);
    example.legs[0].end = instant_plus(change->at, -hours_to_s(11.9));
    example.legs[0].twd_deg = 90.0; /* on the other side then */
    assert_int_equal(sign_of(change), SIGN_NONE);
}

static void before_dark_the_light_tells(void **state) {
    (void)state;
    struct plan_change *change = gybe();
    change->cause = CAUSE_DARK;
    assert_int_equal(sign_of(change), SIGN_LIGHT);
    assert_near(change->sign.awa_deg, -176.5, 1e-9);
}

static void work_that_waits_for_daylight_goes_by_it(void **state) {
    (void)state;
    struct plan_change *change = gybe();
    struct moved_list moved = {.items = {{change->position, MOVED_TO_DAY}},
                               .count = 1};
    signs_give(&example.plan, &moved);
    assert_int_equal(change->sign.kind, SIGN_LIGHT);
    moved.items[0].to = MOVED_TO_WATCH;
    signs_give(&example.plan, &moved);
    assert_int_equal(change->sign.kind, SIGN_STERN);
    moved.items[0].to = MOVED_TO_DAY;
    moved.items[0].at.lat_deg += 0.01;
    signs_give(&example.plan, &moved);
    assert_int_equal(change->sign.kind, SIGN_STERN);
}

#define TEST(name) cmocka_unit_test_setup(name, begin)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(a_gybe_is_due_when_the_wind_passes_the_stern),
        TEST(the_angles_are_those_of_the_course_before),
        TEST(a_set_is_due_when_the_wind_has_come_aft_or_forward),
        TEST(a_wind_that_stands_tells_nothing),
        TEST(where_the_course_turns_by_more_the_place_tells),
        TEST(a_stow_for_the_wind_is_due_at_the_spars_limit),
        TEST(what_the_wind_does_not_ask_for_has_none),
        TEST(a_slow_turn_counts_from_hours_ago),
        TEST(before_dark_the_light_tells),
        TEST(work_that_waits_for_daylight_goes_by_it),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
