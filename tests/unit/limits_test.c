/* By the lee, what tells that it is time, and the dark: as the sheets say it.
 * The angles of the example: wing-and-wing 145 deg and more, the poled reach
 * 105 to 140. */
#include "../support/check.h"
#include "../support/flat.h"
#include "../support/schedule_text.h"

#include "base/units.h"
#include "report/limits.h"
#include "report/schedule.h"

static const char *sheet(void) {
    schedule();
    flatten(text);
    return text;
}

static void keeps(const struct plan_leg *leg, const char *words) {
    assert_string_equal(limits_angles(&arena, &example.plan, leg), words);
}

/* 16.8 kn from 177, 6.4 kn ahead: felt with 16.8 sin 177 = 0.879 and 16.8 cos
 * 177 + 6.4 = -10.377, 175.2 deg; at 9 kn 0.471 and -2.588, 169.7. */
static void angles_have_sides_and_an_end_by_the_lee(void **state) {
    (void)state;
    keeps(&example.legs[1],
          "AWA 145 deg on the starboard side, through dead aft, to TWA 177 deg "
          "(AWA 175 deg) on the port side, boom to port");
    example.legs[2].tws_mps = kn_to_mps(9.0);
    keeps(&example.legs[2],
          "AWA 145 deg on the port side, through dead aft, to TWA 177 deg (AWA "
          "170 deg) on the starboard side, boom to starboard");
    keeps(&example.legs[4],
          "AWA between 105 and 140 deg on the starboard side, boom to port");
}

/* Up to 176 by AWA: that of 175 by the lee is within it. */
static void a_range_that_ends_near_dead_aft_may_hold_it_too(void **state) {
    (void)state;
    example.boat.spar.wing_awa_deg[1] = 179.0;
    example.boat.spar.angle_margin_deg = 3.0;
    keeps(&example.legs[1],
          "AWA between 143 and 176 deg on the starboard side, or by the lee "
          "within it, to TWA 177 deg, boom to port");
    example.boat.spar.angle_margin_deg = 5.0;
    keeps(&example.legs[1],
          "AWA between 145 and 174 deg on the starboard side, boom to port");
}

static void legs_by_the_lee_are_named(void **state) {
    (void)state;
    sheet();
    lacks("by the lee, the wind");
    lacks("on the port side, by the lee,");
    example.legs[1].awa_deg = -176.0;
    example.legs[2].awa_deg = 177.4;
    assert_contains(sheet(),
                    " by the lee, the wind past dead aft on the boom's side: "
                    "SET1, GYBE2 ");
    example.plan.legs++; /* the first that is sailed */
    example.plan.leg_count--;
    example.plan.change_count = 0;
    assert_contains(sheet(),
                    "Apparent AWA 176 deg on the port side, by the lee, 11 kn");
}

/* A beat has the wind on the other side for a while; dead aft is no side. */
static void dead_aft_and_forward_are_not_by_the_lee(void **state) {
    (void)state;
    struct plan_leg leg = example.legs[1];
    leg.awa_deg = -176.0;
    assert_true(limits_is_by_the_lee(&leg));
    leg.awa_deg = -179.6;
    assert_false(limits_is_by_the_lee(&leg));
    leg.awa_deg = -40.0;
    assert_false(limits_is_by_the_lee(&leg));
    leg.awa_deg = 176.0;
    assert_false(limits_is_by_the_lee(&leg));
}

/* Wing-and-wing from 145 deg on, by the lee to 175.2 in its wind (above); the
 * poled reach from 105 to 140. */
static void a_leg_at_the_end_of_its_range_is_marked(void **state) {
    (void)state;
    static const struct {
        int leg;
        double awa_deg;
        bool at_limit;
    } cases[] = {{1, 146.9, true},   {1, 147.1, false},  {1, 179.9, false},
                 {1, -179.0, false}, {1, -177.3, false}, {1, -177.1, true},
                 {4, 106.9, true},   {4, 107.1, false},  {4, 137.9, false},
                 {4, 138.1, true},   {0, 106.0, false},  {3, -140.0, false}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct plan_leg leg = example.legs[cases[i].leg];
        leg.awa_deg = cases[i].awa_deg;
        if (limits_is_at_limit(&example.plan, &leg) != cases[i].at_limit)
            fail_msg("leg %d at AWA %.1f", cases[i].leg, cases[i].awa_deg);
    }
    example.legs[4].awa_deg = 106.0;
    assert_contains(sheet(), "AT THE LIMIT, AWA within 2 deg of where the "
                             "skipper is called: steer closely: W005");
    example.plan.legs = &example.legs[4];
    example.plan.leg_count = 1;
    example.plan.change_count = 0;
    assert_contains(sheet(), "boom to port; AT THE LIMIT ");
}

static void what_tells_that_it_is_time_is_said(void **state) {
    (void)state;
    sheet();
    lacks("expected shift");
    assert_contains(text, " Sign no shift to wait for, go by the place: on the "
                          "course before, AWA 155 deg (TWA 164 deg) on the "
                          "starboard side Where ");
    assert_contains(text, "the course bears away; sign: the place, at "
                          "AWA 155 deg (TWA 164 deg) on the starboard side; ");
    example.changes[0].sign =
        (struct plan_sign){SIGN_AFT, 151.8, 140.2, 0.0, false};
    sheet();
    assert_contains(text,
                    " Sign on the course before, when AWA has been aft of 140 "
                    "deg (TWA 152 deg) on the starboard side for 20 min ");
    assert_contains(text,
                    "Else if the expected shift does not come by Fri 15 Mar "
                    "14:30 UTC, or it is not done: sail on with the spar "
                    "stowed and plan again");
    assert_contains(text, "the course bears away; sign: AWA aft of 140 deg on "
                          "the starboard side; between Fri");
    assert_contains(
        text, "sign: what the boat shows on the course before when "
              "it is due; if that does not come by the end of its span: stay");
}

static void what_is_alike_is_said_once(void **state) {
    (void)state;
    example.changes[1].sign =
        (struct plan_sign){SIGN_STERN, 177.0, 175.0, 0.0, false};
    example.plan.changes++;
    example.plan.change_count--;
    assert_contains(sheet(),
                    "Else if the expected shift does not come, or it is not "
                    "done: stay as you are and plan again ");
}

/* The stow, its figures inside its limits but for a sea of 11 m. */
static void the_dark_is_named_as_the_cause(void **state) {
    (void)state;
    struct plan_change *stow = &example.changes[5];
    example.plan.daylight_only = true;
    stow->light = LIGHT_NIGHT;
    stow->wave_m = figure_of(1.0);
    example.plan.changes = stow;
    example.plan.change_count = 1;
    sheet();
    lacks("OUTSIDE THE WORK LIMITS");
    lacks("the forecast is above these limits");
    assert_contains(text, "see STOW; in the dark, against daylight-only: the "
                          "last stow; roll");
    assert_contains(text, "BEWARE in the dark, against daylight-only: the last "
                          "stow, and it has to be done all the same:");
    lacks("in the last light");
    stow->lit = (struct plan_lit){.known = true,
                                  .at = instant_plus(stow->at, -7200.0),
                                  .cost_s = 2400.0,
                                  .later_s = 1500.0};
    sheet();
    assert_contains(text, "headsail rolled away first, no hurry; done in the "
                          "last light instead, begun by Tue 19 Mar ");
    assert_contains(text, " UTC: arrival 0 h 25 min later, weighed cost 0 h "
                          "40 min");
    assert_contains(text, "the last stow; done in the last light instead");
    stow->lit.known = false;
    stow->wave_m = figure_of(3.0);
    sheet();
    assert_contains(text, "OUTSIDE THE WORK LIMITS; in the dark, against "
                          "daylight-only: the last stow;");
    assert_contains(text, "the last stow; the forecast is above these limits, "
                          "and it has");
    stow->light = LIGHT_DAY;
    sheet();
    lacks("in the dark, against");
    assert_contains(text, "BEWARE the forecast is above these limits, and it");
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, finish)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(angles_have_sides_and_an_end_by_the_lee),
        TEST(a_range_that_ends_near_dead_aft_may_hold_it_too),
        TEST(legs_by_the_lee_are_named),
        TEST(dead_aft_and_forward_are_not_by_the_lee),
        TEST(a_leg_at_the_end_of_its_range_is_marked),
        TEST(what_tells_that_it_is_time_is_said),
        TEST(what_is_alike_is_said_once),
        TEST(the_dark_is_named_as_the_cause),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
