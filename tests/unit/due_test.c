/* How it is said that work on deck is due, and that the dark is against it. */
#include "../support/check.h"
#include "../support/plan_example.h"
#include "../support/scratch.h"
#include "../support/side_words.h"

#include "base/units.h"
#include "report/due.h"

static struct plan_example example;

static int begin(void **state) {
    scratch_begin(state);
    plan_example_make(&example);
    return 0;
}

/* The gybe from the starboard side to the port side: 15.9 kn from 095. */
static struct plan_change *gybe(struct plan_sign sign) {
    example.changes[1].sign = sign;
    return &example.changes[1];
}

static void says(struct plan_sign sign, const char *text, const char *brief) {
    struct plan_change *change = gybe(sign);
    const char *when = due_when(&arena, change);
    check_side_words(when);
    check_side_words(due_short(&arena, change));
    assert_string_equal(when, text);
    assert_string_equal(due_short(&arena, change), brief);
}

static void angles_are_told_with_their_side(void **state) {
    (void)state;
    says((struct plan_sign){SIGN_AFT, 151.8, 140.2, 0.0, false},
         "on the course before, when AWA has been aft of 140 deg (TWA 152 deg) "
         "on the starboard side for 20 min",
         "AWA aft of 140 deg on the starboard side");
    says((struct plan_sign){SIGN_FORWARD, -130.0, -108.0, 0.0, false},
         "on the course before, when AWA has been forward of 108 deg (TWA 130 "
         "deg) on the port side for 20 min",
         "AWA forward of 108 deg on the port side");
}

/* On the side where it has been, on the other one, and in between. */
static void a_gybe_is_told_from_its_side(void **state) {
    (void)state;
    gybe((struct plan_sign){SIGN_STERN, 177.0, 175.0, 0.0, false});
    assert_string_equal(due_short(&arena, &example.changes[1]),
                        "AWA aft of 175 deg on the starboard side");
    gybe((struct plan_sign){SIGN_STERN, -177.0, -175.0, 0.0, false});
    assert_string_equal(due_short(&arena, &example.changes[1]),
                        "AWA past dead aft, to 175 deg on the port side");
    gybe((struct plan_sign){SIGN_STERN, 179.9, 179.7, 0.0, false});
    assert_string_equal(due_short(&arena, &example.changes[1]), "AWA dead aft");
}

static void a_rising_wind_is_not_waited_out(void **state) {
    (void)state;
    says((struct plan_sign){SIGN_WIND, 151.8, 140.2, kn_to_mps(22.0), false},
         "when the true wind passes 22 kn, whatever the clock: on the course "
         "before, AWA 140 deg (TWA 152 deg) on the starboard side",
         "true wind above 22 kn");
}

static void where_the_wind_does_not_tell_its_angles_are_told(void **state) {
    (void)state;
    says((struct plan_sign){SIGN_NONE, -151.8, -140.2, 0.0, false},
         "no shift to wait for, go by the place: on the course before, AWA 140 "
         "deg (TWA 152 deg) on the port side",
         "the place, at AWA 140 deg (TWA 152 deg) on the port side");
    assert_null(due_missing(&example.changes[1]));
    assert_string_equal(due_by(&example.changes[1]), "the place");
    struct plan_sign light = {SIGN_LIGHT, 151.8, 140.2, 0.0, false};
    light.after = true;
    says(light,
         "no shift to wait for, go by the light: on the course from there, AWA "
         "140 deg (TWA 152 deg) on the starboard side",
         "the light, at AWA 140 deg (TWA 152 deg) on the starboard side");
    assert_null(due_missing(&example.changes[1]));
    gybe((struct plan_sign){SIGN_NONE, 179.9, 179.8, 0.0, false});
    assert_string_equal(due_short(&arena, &example.changes[1]),
                        "the place, at AWA 180 deg (TWA 180 deg), dead aft");
    gybe((struct plan_sign){SIGN_STERN, 177.0, 175.0, 0.0, false});
    assert_string_equal(due_by(&example.changes[1]), "the sky");
    example.changes[1].deck_work = false;
    assert_null(due_when(&arena, &example.changes[1]));
    assert_null(due_short(&arena, &example.changes[1]));
}

/* A stow in the dark, all figures inside the limits. */
static struct plan_change *stow_in_the_dark(void) {
    struct plan_change *change = &example.changes[5];
    example.plan.daylight_only = true;
    change->light = LIGHT_NIGHT;
    change->wave_m = figure_of(1.0);
    return change;
}

static void the_dark_is_named_with_its_excuse(void **state) {
    (void)state;
    struct plan_change *change = stow_in_the_dark();
    assert_string_equal(due_dark(&example.plan, change),
                        "in the dark, against daylight-only: the last stow");
    change->barred = true; /* of a given track */
    assert_string_equal(due_dark(&example.plan, change),
                        "in the dark, against daylight-only");
    struct plan_change *early = &example.changes[3];
    *early = *stow_in_the_dark();
    early->barred = false;
    early->to.spar = SPAR_STOWED; /* and it is set again */
    assert_string_equal(
        due_dark(&example.plan, early),
        "in the dark, against daylight-only: the spar's limits force it");
    early->kind = CHANGE_MAINSAIL_GYBE;
    assert_string_equal(
        due_dark(&example.plan, early),
        "in the dark, against daylight-only: the course asks for it");
}

static void without_the_rule_or_by_day_it_is_none(void **state) {
    (void)state;
    struct plan_change *change = stow_in_the_dark();
    change->light = LIGHT_TWILIGHT;
    assert_null(due_dark(&example.plan, change));
    change->light = LIGHT_NIGHT;
    change->outside_limits = false;
    assert_null(due_dark(&example.plan, change));
    change->outside_limits = true;
    example.plan.daylight_only = false;
    assert_null(due_dark(&example.plan, change));
}

/* A stow: 22 kn, gust 28, sea 2.5 m, roll 4 deg. */
static void each_limit_is_looked_at(void **state) {
    (void)state;
    struct plan_change *change = stow_in_the_dark(), sound = *change;
    assert_false(due_is_too_rough(&example.plan, change));
    change->tws_mps = kn_to_mps(22.1);
    assert_true(due_is_too_rough(&example.plan, change));
    *change = sound;
    change->gust_mps = figure_of(kn_to_mps(28.1));
    assert_true(due_is_too_rough(&example.plan, change));
    change->gust_mps.known = false;
    assert_false(due_is_too_rough(&example.plan, change));
    change->wave_m = figure_of(2.6);
    assert_true(due_is_too_rough(&example.plan, change));
    *change = sound;
    change->roll_deg = 4.1;
    assert_true(due_is_too_rough(&example.plan, change));
    *change = sound;
    change->tws_mps = kn_to_mps(19.0); /* a set: 18 kn */
    assert_false(due_is_too_rough(&example.plan, change));
    change->kind = CHANGE_SET;
    assert_true(due_is_too_rough(&example.plan, change));
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(angles_are_told_with_their_side),
        TEST(a_gybe_is_told_from_its_side),
        TEST(a_rising_wind_is_not_waited_out),
        TEST(where_the_wind_does_not_tell_its_angles_are_told),
        TEST(the_dark_is_named_with_its_excuse),
        TEST(without_the_rule_or_by_day_it_is_none),
        TEST(each_limit_is_looked_at),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
