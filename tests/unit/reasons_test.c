/* Why a change is made, from the plan's own figures. */
#include "../support/analytic.h"
#include "../support/check.h"
#include "../support/plan_example.h"

#include "base/units.h"
#include "earth/rhumb.h"
#include "plan/reasons.h"
#include <string.h>

static struct arena arena;
static struct plan_example example;

static int set_up(void **state) {
    (void)state;
    arena_init(&arena);
    plan_example_make(&example);
    example.plan.boat = analytic_boat("wanderer-12");
    for (int i = 0; i < PLAN_EXAMPLE_LEGS; i++)
        example.legs[i].night_s = 0.0;
    return 0;
}

static int tear_down(void **state) {
    (void)state;
    arena_free(&arena);
    return 0;
}

static const char *why(size_t change) {
    reasons_give(&example.plan, &arena);
    return example.changes[change].why;
}

/* Far from the finish, with a leg before and after. */
static struct plan_leg *stow_at_sea(void) {
    example.changes[5].position = example.legs[2].from;
    example.changes[5].leg = 3;
    example.changes[5].at = example.legs[3].start;
    example.legs[3].tws_mps = kn_to_mps(15.0);
    example.legs[2].awa_deg = example.legs[3].awa_deg = -140.0;
    return &example.legs[3];
}

static void a_set_tells_what_is_gained(void **state) {
    (void)state;
    example.legs[1].twa_deg = 175.0;
    example.legs[1].tws_mps = kn_to_mps(12.0);
    assert_contains(why(0), "kn faster at TWA 175");
    /* where nothing is gained in speed, the sails steady her */
    example.legs[1].twa_deg = 60.0;
    assert_string_equal(why(0), "the spar makes the boat steadier");
}

static void a_gybe_tells_what_turned(void **state) {
    (void)state;
    assert_string_equal(why(1), "the wind veers to 095");
    example.legs[1].twd_deg = 110.0;
    assert_string_equal(why(1), "the wind backs to 095");
    example.legs[1].twd_deg = 96.0;
    example.legs[2].course_deg = 359.7;
    assert_string_equal(why(1), "new course 000");
    example.changes[1].leg = 0;
    example.changes[1].at = example.legs[0].start;
    example.legs[0].course_deg = 228.0;
    assert_string_equal(why(1), "wind from 021 on course 228");
}

static void the_wind_turns_through_north_the_short_way(void **state) {
    (void)state;
    example.legs[1].twd_deg = 350.0;
    example.legs[2].twd_deg = 10.0;
    assert_string_equal(why(1), "the wind veers to 010");
    example.legs[1].twd_deg = 10.0;
    example.legs[2].twd_deg = 350.0;
    assert_string_equal(why(1), "the wind backs to 350");
}

static void the_last_stow_is_for_the_finish(void **state) {
    (void)state;
    assert_string_equal(why(5),
                        "the spar has to be in 5 nmi before the finish");
}

static void a_stow_at_sea_tells_the_wind_or_the_dark(void **state) {
    (void)state;
    struct plan_leg *after = stow_at_sea();
    assert_string_equal(why(5), "the spar no longer pays");
    after[1].night_s = 3600.0;
    assert_string_equal(why(5), "before dark: at night it is harder work");
    after->awa_deg = -104.0; /* range 100 to 145 less a margin of 5 */
    assert_string_equal(why(5), "the wind comes forward to AWA 104");
    example.changes[5].light = LIGHT_NIGHT;
    after->awa_deg = -119.0;
    assert_string_equal(why(5), "the wind comes forward to AWA 119");
    after->awa_deg = -121.0;
    assert_string_equal(why(5), "the spar no longer pays");
    after->tws_mps = kn_to_mps(23.0);
    assert_string_equal(why(5), "the wind rises to 23 kn");
}

/* 22 kn for wing-and-wing, 20 kn for the poled reach (boat file). */
static void the_wind_that_is_too_much_is_that_of_the_mode(void **state) {
    (void)state;
    struct plan_leg *after = stow_at_sea();
    after->tws_mps = kn_to_mps(21.0);
    example.changes[5].from =
        (struct deck){.spar = SPAR_PORT, .wind_starboard = false};
    assert_string_equal(why(5), "the spar no longer pays");
    example.changes[5].from.wind_starboard = true;
    assert_string_equal(why(5), "the wind rises to 21 kn");
}

static void cockpit_changes_have_a_reason_too(void **state) {
    (void)state;
    assert_string_equal(why(2), "the spar can't draw at AWA 140 in 23 kn");
    assert_string_equal(why(3), "the spar can draw again");
    assert_string_equal(why(4), "the wind backs to 010");
}

static void a_change_at_the_end_of_a_leg_is_for_the_next(void **state) {
    (void)state;
    example.changes[2].leg = 2; /* it is the last thing done on that leg */
    example.changes[2].at = instant_plus(example.legs[2].end, -30.0);
    assert_string_equal(why(2), "the spar can't draw at AWA 140 in 23 kn");
    example.changes[2].at = instant_plus(example.legs[2].end, -3600.0);
    assert_string_equal(why(2), "the spar can't draw at AWA 152 in 16 kn");
}

/* The rule of thumb: as long as the foot of the sail that it holds. The genoa
 * is carried to 22 kn, the jib above. */
static void the_spar_s_length_is_for_the_sail_that_is_up(void **state) {
    (void)state;
    example.legs[1].tws_mps = kn_to_mps(21.0);
    example.legs[2].tws_mps = kn_to_mps(24.0);
    reasons_give(&example.plan, &arena);
    assert_string_equal(example.changes[0].headsail, "genoa");
    assert_near(example.changes[0].pole_length_m.value, 5.4, 1e-9);
    assert_string_equal(example.changes[1].headsail, "jib");
    assert_near(example.changes[1].pole_length_m.value, 4.3, 1e-9);
}

static void without_headsails_there_is_no_length(void **state) {
    (void)state;
    struct boat *boat = analytic_boat_copy("wanderer-12");
    boat->headsail_count = 0;
    example.plan.boat = boat;
    example.changes[0].headsail = NULL;
    example.changes[0].pole_length_m = figure_unknown();
    reasons_give(&example.plan, &arena);
    assert_null(example.changes[0].headsail);
    assert_false(example.changes[0].pole_length_m.known);
}

static void every_change_has_a_reason(void **state) {
    (void)state;
    reasons_give(&example.plan, &arena);
    for (int i = 0; i < PLAN_EXAMPLE_CHANGES; i++)
        assert_true(strlen(example.changes[i].why) > 5);
}

#define TEST(f) cmocka_unit_test_setup_teardown(f, set_up, tear_down)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(a_set_tells_what_is_gained),
        TEST(a_gybe_tells_what_turned),
        TEST(the_wind_turns_through_north_the_short_way),
        TEST(the_last_stow_is_for_the_finish),
        TEST(a_stow_at_sea_tells_the_wind_or_the_dark),
        TEST(the_wind_that_is_too_much_is_that_of_the_mode),
        TEST(cockpit_changes_have_a_reason_too),
        TEST(a_change_at_the_end_of_a_leg_is_for_the_next),
        TEST(the_spar_s_length_is_for_the_sail_that_is_up),
        TEST(without_headsails_there_is_no_length),
        TEST(every_change_has_a_reason),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
