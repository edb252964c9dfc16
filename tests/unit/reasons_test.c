/* Why a change is made, from the plan's own figures. */
#include "../support/analytic.h"
#include "../support/check.h"
#include "../support/plan_example.h"
#include "../support/scratch.h"

#include "base/units.h"
#include "earth/rhumb.h"
#include "plan/reasons.h"
#include <string.h>

static struct plan_example example;

static int set_up(void **state) {
    scratch_begin(state);
    plan_example_make(&example);
    example.plan.boat = analytic_boat("wanderer-12");
    for (int i = 0; i < PLAN_EXAMPLE_LEGS; i++)
        example.legs[i].night_s = 0.0;
    return 0;
}

static const char *why(size_t change) {
    reasons_give(&example.plan, &arena);
    return example.changes[change].why;
}

/* Far from the finish, with a leg before and after; in the forenoon. */
static struct plan_leg *stow_at_sea(void) {
    example.changes[5].position = example.legs[2].from;
    example.changes[5].leg = 3;
    example.changes[5].at = instant_plus(example.legs[3].start, -8.0 * 3600.0);
    example.legs[3].tws_mps = kn_to_mps(15.0);
    example.legs[2].awa_deg = example.legs[3].awa_deg = -140.0;
    return &example.legs[3];
}

static void a_set_tells_what_is_gained(void **state) {
    (void)state;
    example.legs[1].twa_deg = 175.0;
    example.legs[1].tws_mps = kn_to_mps(12.0);
    assert_contains(why(0), "kn faster at TWA 175 deg");
    example.legs[1].twa_deg = 60.0; /* nothing is gained in speed there */
    assert_string_equal(why(0),
                        "the spar makes the boat steadier by 0.9 deg of roll");
    example.changes[0].skip.roll_deg = -0.1;
    assert_string_equal(why(0), "with the spar the boat arrives 2.5 h sooner");
    example.changes[0].skip.later_s = 0.0;
    assert_string_equal(
        why(0), "for what comes after: by itself it gains next to nothing");
    example.changes[0].skip =
        (struct plan_skip){.kind = SKIP_UNKNOWN, .roll_deg = 2.0};
    assert_contains(why(0), "for what comes after");
}

/* Faster or steadier she is only with the headsail drawing. */
static void a_spar_that_is_set_ahead_says_when_it_draws(void **state) {
    (void)state;
    struct plan_change *change = &example.changes[0];
    example.legs[1].twa_deg = 175.0;
    change->to.rolled = true;
    example.changes[1].kind = CHANGE_UNROLL;
    example.changes[1].at = instant_plus(change->at, 16.0 * 3600.0);
    assert_string_equal(why(0), "set ahead: the headsail draws 16.0 h later");
    assert_int_equal(change->cause, CAUSE_OTHER);
    example.changes[1].to.spar = SPAR_STOWED;
    assert_string_equal(why(0),
                        "the headsail stays rolled until the spar comes in");
}

/* A mainsail gybe or tack between two legs: what puts the wind on its new side,
 * with the other one held? Worked out by hand. */
static void what_turned_alone_is_the_reason(void **state) {
    (void)state;
    static const struct {
        double course_deg[2], wind_deg[2]; /* before, after */
        bool starboard;                    /* the new side */
        const char *why;
    } cases[] = {
        {{262.0, 256.0}, {66.0, 95.0}, false, "the wind veers to 095 deg"},
        {{262.0, 262.0}, {95.0, 66.0}, true, "the wind backs to 066 deg"},
        /* the new wind asks for no gybe on the course before */
        {{260.0, 233.0}, {58.0, 70.0}, false, "new course 233 deg"},
        {{317.0, 29.0}, {355.0, 345.0}, false, "new course 029 deg"},
        {{275.0, 260.0}, {85.0, 88.0}, false, "new course 260 deg"},
        /* each alone would do it; neither alone would */
        {{262.0, 232.0},
         {66.0, 100.0},
         false,
         "new course 232 deg, and the wind veers to 100 deg"},
        {{270.0, 255.0},
         {70.0, 85.0},
         false,
         "new course 255 deg, and the wind veers to 085 deg"},
        /* the way goes straight on; the wind stands; both do */
        {{173.2, 172.9}, {357.0, 351.0}, true, "the wind backs to 351 deg"},
        {{180.0, 359.7}, {90.0, 90.4}, true, "new course 000 deg"},
        {{180.0, 180.0},
         {0.2, 359.6},
         true,
         "wind from 000 deg on course 180 deg"},
        /* through north the short way */
        {{170.0, 170.0}, {345.0, 4.0}, false, "the wind veers to 004 deg"},
        {{185.0, 185.0}, {10.0, 350.0}, true, "the wind backs to 350 deg"},
    };
    struct plan_leg *legs = example.legs;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        for (int k = 0; k < 2; k++) {
            legs[3 + k].course_deg = legs[3 + k].heading_deg =
                cases[i].course_deg[k];
            legs[3 + k].twd_deg = cases[i].wind_deg[k];
        }
        example.changes[4].from.wind_starboard = !cases[i].starboard;
        example.changes[4].to.wind_starboard = cases[i].starboard;
        assert_string_equal(why(4), cases[i].why);
        bool wind = strncmp(cases[i].why, "the wind", 8) == 0;
        assert_int_equal(example.changes[4].cause,
                         wind ? CAUSE_ANGLE : CAUSE_OTHER);
    }
}

/* Done on the way along a leg, by the helm: the course is the same. */
static void on_one_course_it_is_the_wind_that_passes(void **state) {
    (void)state;
    struct plan_change *change = &example.changes[4];
    change->starts_leg = false;
    change->twd_deg = 68.6;
    change->to.wind_starboard = false;
    change->from.wind_starboard = true;
    assert_string_equal(why(4), "the wind veers to 069 deg");
    change->kind = CHANGE_TACK; /* by way of the bow */
    assert_string_equal(why(4), "the wind backs to 069 deg");
    change->from.wind_starboard = false;
    change->to.wind_starboard = true;
    assert_string_equal(why(4), "the wind veers to 069 deg");
    change->kind = CHANGE_MAINSAIL_GYBE;
    assert_string_equal(why(4), "the wind backs to 069 deg");
}

static void the_first_leg_has_none_before_it(void **state) {
    (void)state;
    example.changes[1].leg = 0;
    example.changes[1].at = example.legs[0].start;
    example.legs[0].course_deg = 228.0;
    assert_string_equal(why(1), "wind from 021 deg on course 228 deg");
}

static void
a_spar_that_changes_sides_under_one_wind_changes_mode(void **state) {
    (void)state;
    struct plan_change *change = &example.changes[1];
    change->from = (struct deck){SPAR_STARBOARD, false, false};
    change->to = example.legs[2].deck;
    assert_string_equal(why(1), "wing-and-wing at AWA 152 deg");
}

static void the_last_stow_is_for_the_finish(void **state) {
    (void)state;
    assert_string_equal(why(5),
                        "the spar has to be in 5 nmi before the finish");
    assert_int_equal(example.changes[5].cause, CAUSE_OTHER);
}

static void a_stow_at_sea_tells_the_wind_or_the_dark(void **state) {
    (void)state;
    struct plan_leg *after = stow_at_sea();
    assert_string_equal(why(5), "the spar no longer pays");
    /* Near the equinox the sun sets some 6 h after its noon, 14:01 UTC at 28.2
     * W, and 21 min later it is night: in the forenoon that is no reason. */
    after[0].night_s = after[1].night_s = 3600.0;
    assert_string_equal(why(5), "the spar no longer pays");
    example.changes[5].at = example.legs[3].start; /* 18:24 */
    assert_string_equal(why(5), "before dark: at night it is harder work");
    assert_int_equal(example.changes[5].cause, CAUSE_DARK);
    after->awa_deg = -104.0; /* range 100 to 145 less a margin of 5 */
    assert_string_equal(why(5), "the wind comes forward to AWA 104 deg");
    example.changes[5].light = LIGHT_NIGHT;
    after->awa_deg = -119.0;
    assert_string_equal(why(5), "the wind comes forward to AWA 119 deg");
    assert_int_equal(example.changes[5].cause, CAUSE_ANGLE);
    after->awa_deg = -121.0;
    assert_string_equal(why(5), "the spar no longer pays");
    after->tws_mps = kn_to_mps(23.0);
    assert_string_equal(why(5), "the wind rises to 23 kn");
    assert_int_equal(example.changes[5].cause, CAUSE_WIND);
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
    assert_string_equal(why(3), "the spar can draw again");
    assert_string_equal(why(4), "the wind backs to 010 deg");
}

/* Wing-and-wing 140 to 180 to 22 kn, gust 28; poled reach 100 to 145 to 20 kn,
 * gust 25; a margin of 5 (boat file). The figures of the change itself count,
 * whatever the means of its leg are. */
static void a_roll_tells_the_limit_that_is_passed(void **state) {
    (void)state;
    static const struct {
        bool wing;
        double awa_deg, wind_kn, gust_kn;
        const char *why;
    } cases[] = {
        {true, -160.0, 23.0, 25.0, "the wind rises above 22 kn"},
        {true, -160.0, 21.0, 28.5, "gusts rise above 28 kn"},
        {true, -144.0, 15.0, 20.0,
         "AWA forward of 145 deg: the spar can't draw"},
        {true, -180.0, 15.0, 20.0, "the spar no longer pays"},
        {false, 141.0, 15.0, 20.0, "AWA aft of 140 deg: the spar can't draw"},
        {false, 104.0, 15.0, 20.0,
         "AWA forward of 105 deg: the spar can't draw"},
        {false, 120.0, 20.5, 22.0, "the wind rises above 20 kn"},
        {false, 120.0, 19.0, 25.5, "gusts rise above 25 kn"},
        {false, 120.0, 15.0, 20.0, "the spar no longer pays"},
    };
    struct plan_change *roll = &example.changes[2];
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        roll->from = (struct deck){SPAR_PORT, false, !cases[i].wing};
        roll->awa_deg = cases[i].awa_deg;
        roll->tws_mps = kn_to_mps(cases[i].wind_kn);
        roll->gust_mps = figure_of(kn_to_mps(cases[i].gust_kn));
        assert_string_equal(why(2), cases[i].why);
    }
}

static void a_change_at_the_end_of_a_leg_is_for_the_next(void **state) {
    (void)state;
    stow_at_sea();
    example.changes[5].leg = 2; /* it is the last thing done on that leg */
    example.changes[5].light = LIGHT_NIGHT;
    example.legs[3].tws_mps = kn_to_mps(23.0);
    example.changes[5].at = instant_plus(example.legs[2].end, -30.0);
    assert_string_equal(why(5), "the wind rises to 23 kn");
    example.changes[5].at = instant_plus(example.legs[2].end, -3600.0);
    assert_string_equal(why(5), "the spar no longer pays");
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

/* Set for leg 1 and left at that length through legs 2 to 4, as no gybe comes
 * between: the jib, for the wind of leg 4. Leg 3, with the sail rolled, asks
 * for none. */
static void the_length_is_for_all_the_wind_until_the_next_work(void **state) {
    (void)state;
    struct plan_change *gybe = &example.changes[1];
    assert_int_equal(gybe->kind, CHANGE_GYBE);
    assert_true(example.legs[3].deck.rolled);
    gybe->kind = CHANGE_MAINSAIL_GYBE;
    example.legs[1].tws_mps = kn_to_mps(15.0);
    example.legs[2].tws_mps = kn_to_mps(17.0);
    example.legs[3].tws_mps = kn_to_mps(30.0);
    example.legs[4].tws_mps = kn_to_mps(21.0);
    reasons_give(&example.plan, &arena);
    assert_string_equal(example.changes[0].headsail, "genoa");
    example.legs[4].tws_mps = kn_to_mps(23.0);
    reasons_give(&example.plan, &arena);
    assert_string_equal(example.changes[0].headsail, "jib");
    assert_near(example.changes[0].pole_length_m.value, 4.3, 1e-9);
    /* nothing is for 40 kn: that for the first leg */
    example.legs[4].tws_mps = kn_to_mps(40.0);
    reasons_give(&example.plan, &arena);
    assert_string_equal(example.changes[0].headsail, "genoa");
}

/* A sail's size is its area; where one has none, the feet are compared. */
static void the_larger_sail_is_that_of_more_area(void **state) {
    (void)state;
    struct boat *boat = analytic_boat_copy("wanderer-12");
    struct headsail sails[] = {
        {.name = "long", .foot_m = 5.0, .area_m2 = figure_of(30.0)},
        {.name = "full", .foot_m = 4.5, .area_m2 = figure_of(40.0)}};
    boat->headsails = sails;
    boat->headsail_count = 2;
    example.plan.boat = boat;
    reasons_give(&example.plan, &arena);
    assert_string_equal(example.changes[0].headsail, "full");
    sails[1].area_m2 = figure_unknown();
    reasons_give(&example.plan, &arena);
    assert_string_equal(example.changes[0].headsail, "long");
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

#define TEST(f) cmocka_unit_test_setup_teardown(f, set_up, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(a_set_tells_what_is_gained),
        TEST(a_spar_that_is_set_ahead_says_when_it_draws),
        TEST(what_turned_alone_is_the_reason),
        TEST(on_one_course_it_is_the_wind_that_passes),
        TEST(the_first_leg_has_none_before_it),
        TEST(a_spar_that_changes_sides_under_one_wind_changes_mode),
        TEST(a_roll_tells_the_limit_that_is_passed),
        TEST(the_last_stow_is_for_the_finish),
        TEST(a_stow_at_sea_tells_the_wind_or_the_dark),
        TEST(the_wind_that_is_too_much_is_that_of_the_mode),
        TEST(cockpit_changes_have_a_reason_too),
        TEST(a_change_at_the_end_of_a_leg_is_for_the_next),
        TEST(the_spar_s_length_is_for_the_sail_that_is_up),
        TEST(the_length_is_for_all_the_wind_until_the_next_work),
        TEST(the_larger_sail_is_that_of_more_area),
        TEST(without_headsails_there_is_no_length),
        TEST(every_change_has_a_reason),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
