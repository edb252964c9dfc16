/* What the crew is told to beware of: each rule just below and just above its
 * thresholds, the least time that is told, the words. */
#include "../support/check.h"
#include "../support/plan_example.h"
#include "../support/scratch.h"

#include "base/units.h"
#include "plan/cautions.h"
#include "report/marked.h"
#include <stdio.h>
#include <string.h>

/* --- one moment -------------------------------------------------------------
 */

static struct conditions wind_and_current(double wind_from_deg, double wind_kn,
                                          double towards_deg,
                                          double current_kn) {
    return (struct conditions){
        .wind = vector_from(wind_from_deg, kn_to_mps(wind_kn)),
        .current = vector_from(towards_deg + 180.0, kn_to_mps(current_kn)),
        .current_known = true};
}

static bool is_against(double wind_from_deg, double wind_kn, double towards_deg,
                       double current_kn) {
    struct conditions here =
        wind_and_current(wind_from_deg, wind_kn, towards_deg, current_kn);
    return cautions_against_current(&here);
}

static void wind_is_against_a_current_of_over_a_knot(void **state) {
    (void)state;
    assert_false(is_against(270.0, 18.0, 270.0, 0.99));
    assert_true(is_against(270.0, 18.0, 270.0, 1.01));
    assert_true(is_against(350.0, 18.0, 34.0, 2.0));
    assert_false(is_against(350.0, 18.0, 36.0, 2.0));
    assert_true(is_against(350.0, 18.0, 306.0, 2.0));
    assert_false(is_against(350.0, 18.0, 304.0, 2.0));
    assert_false(is_against(270.0, 18.0, 90.0, 3.0));
}

/* A calm over a current is no wind against it, though the boat feels one. */
static void a_light_air_is_not(void **state) {
    (void)state;
    assert_false(is_against(270.0, 6.99, 270.0, 2.0));
    assert_true(is_against(270.0, 7.01, 270.0, 2.0));
}

static void an_unknown_current_is_not(void **state) {
    (void)state;
    struct conditions here = wind_and_current(270.0, 18.0, 270.0, 2.0);
    assert_true(cautions_against_current(&here));
    here.current_known = false;
    assert_false(cautions_against_current(&here));
}

static void sails_slat_under_six_knots_in_a_swell(void **state) {
    (void)state;
    struct conditions here = {
        .sea = {.system = {[2] = {true, 1.0, 10.0, 200.0}}}};
    assert_true(cautions_slats(&here, 10.0, kn_to_mps(5.99)));
    assert_false(cautions_slats(&here, 10.0, kn_to_mps(6.0)));
    here.sea.system[2].height_m = 0.39;
    assert_false(cautions_slats(&here, 10.0, kn_to_mps(5.0)));
    here.sea.system[2].height_m = 0.41;
    assert_true(cautions_slats(&here, 10.0, kn_to_mps(5.0)));
    here.sea.system[2].known = false;
    assert_false(cautions_slats(&here, 10.0, kn_to_mps(5.0)));
}

/* What an earlier wind may have left is no forecast of swell. */
static void an_estimated_swell_does_not_count(void **state) {
    (void)state;
    struct conditions here = {
        .sea = {.system = {[1] = {true, 1.0, 10.0, 200.0}}}};
    assert_true(cautions_slats(&here, 10.0, kn_to_mps(5.0)));
    here.sea.origin[1] = WAVE_SPLIT;
    assert_true(cautions_slats(&here, 10.0, kn_to_mps(5.0)));
    here.sea.origin[1] = WAVE_ESTIMATED;
    assert_false(cautions_slats(&here, 10.0, kn_to_mps(5.0)));
}

static void a_wind_sea_alone_is_no_swell(void **state) {
    (void)state;
    struct conditions here = {.sea = {.system = {{true, 1.0, 5.0, 200.0}}}};
    assert_false(cautions_slats(&here, 10.0, kn_to_mps(3.0)));
}

/* --- a leg and a passage ----------------------------------------------------
 */

static struct plan_example example;
static char text[4000]; /* all that is warned of, one a line */

static int begin(void **state) {
    plan_example_make(&example);
    example.boat.length_waterline_m = 10.0;
    example.boat.roller.period_s = 3.5;
    return scratch_begin(state);
}

static void take(void *context, const char *sentence) {
    (void)context;
    size_t used = strlen(text);
    snprintf(text + used, sizeof text - used, "%s\n",
             marked_in_utc(&arena, &example.plan, sentence));
}

static const char *warned(void) {
    text[0] = '\0';
    cautions_warn(&example.plan, take, NULL, &arena);
    return text;
}

/* North at 3.6 m/s in a seaway, for so long. */
static void sail(struct caution_sums *sums, const struct sea *sea,
                 double start_s, double seconds) {
    struct conditions here = {.sea = *sea};
    struct motion motion = {.stw_mps = 3.6, .aws_mps = 8.0};
    struct sail_step step = {.start_s = start_s,
                             .seconds = seconds,
                             .conditions = &here,
                             .motion = &motion};
    cautions_add(&example.plan, sums, &step);
}

static const struct sea flat = {.height_known = true};

/* 30.6 m long: 1 in 17, on the beam. */
static const struct sea steep = {
    .system = {{true, 0.9, 8.0, 90.0}, {true, 1.8, 4.43, 90.0}}};

static void what_lasts_a_quarter_of_an_hour_is_told(void **state) {
    (void)state;
    struct caution_sums brief = {.seconds = 0.0}, longer = {.seconds = 0.0};
    sail(&brief, &flat, 0.0, 7200.0);
    sail(&brief, &steep, 7200.0, 899.0);
    assert_false(cautions_of_leg(&brief).steep);
    sail(&longer, &flat, 0.0, 7200.0);
    sail(&longer, &steep, 7200.0, 901.0);
    struct plan_remarks remarks = cautions_of_leg(&longer);
    assert_true(remarks.steep);
    assert_false(remarks.against_current || remarks.slatting);
    assert_near(remarks.steepest.height_m, 1.8, 0.0);
    assert_near(remarks.steep_s, 901.0, 1e-9);
    assert_near(cautions_of_leg(&brief).steep_s, 0.0, 0.0);
}

static void half_of_a_short_leg_is_told(void **state) {
    (void)state;
    struct caution_sums less = {.seconds = 0.0}, more = {.seconds = 0.0};
    sail(&less, &flat, 0.0, 310.0);
    sail(&less, &steep, 310.0, 300.0);
    assert_false(cautions_of_leg(&less).steep);
    sail(&more, &flat, 0.0, 300.0);
    sail(&more, &steep, 300.0, 310.0);
    assert_true(cautions_of_leg(&more).steep);
}

static void a_leg_without_anything_has_no_remarks(void **state) {
    (void)state;
    struct caution_sums sums = {.seconds = 0.0};
    struct plan_remarks remarks = cautions_of_leg(&sums);
    assert_false(remarks.steep || remarks.against_current || remarks.slatting);
    sail(&sums, &flat, 0.0, 3600.0);
    remarks = cautions_of_leg(&sums);
    assert_false(remarks.steep || remarks.against_current || remarks.slatting);
    assert_false(remarks.steepest.known);
}

/* Its height is the forecast's, its period a guess. */
static void a_guessed_period_makes_no_sea_steep(void **state) {
    (void)state;
    struct caution_sums sums = {.seconds = 0.0};
    struct sea guessed = steep;
    guessed.estimated = true;
    sail(&sums, &guessed, 0.0, 3600.0);
    assert_false(cautions_of_leg(&sums).steep);
    assert_true(cautions_of_leg(&sums).unjudged);
    sums = (struct caution_sums){.seconds = 0.0};
    guessed.height_estimated = true;
    sail(&sums, &guessed, 3600.0, 3600.0);
    assert_true(cautions_of_leg(&sums).steep);
    assert_false(cautions_of_leg(&sums).unjudged);
}

static void a_sea_that_can_not_be_judged_is_told(void **state) {
    (void)state;
    example.legs[4].remarks.unjudged = true;
    example.legs[4].remarks.unjudged_s = 7200.0;
    assert_string_equal(warned(),
                        "how steep the sea is can't be told for 2 h on leg 5: "
                        "its height is forecast, its period is not\n");
}

static void a_quiet_plan_is_warned_of_nothing(void **state) {
    (void)state;
    assert_string_equal(warned(), "");
}

static void steep_seas_are_told_with_their_worst(void **state) {
    (void)state;
    example.legs[1].remarks.steep = true;
    example.legs[1].remarks.steep_s = 1800.0;
    example.legs[1].remarks.steepest =
        (struct wave_system){true, 1.2, 3.8, 90.0}; /* 1 in 18.8 */
    assert_string_equal(
        warned(), "steep sea for 30 min on leg 2, at worst 1.2 m high and 23 m "
                  "long, 1 in 19: crests break; hatches shut, clip on\n");
    example.legs[3].remarks.steep = true;
    example.legs[3].remarks.steep_s = 5400.0;
    example.legs[3].remarks.steepest =
        (struct wave_system){true, 1.8, 4.43, 90.0};
    assert_string_equal(
        warned(),
        "steep sea for 2 h on legs 2 and 4, at worst 1.8 m high and 31 "
        "m long, 1 in 17: crests break; hatches shut, clip "
        "on\n");
}

static void current_and_slatting_are_told_by_leg(void **state) {
    (void)state;
    for (int i = 0; i < PLAN_EXAMPLE_LEGS; i++)
        example.legs[i].remarks.against_current = true;
    for (int i = 0; i < 3; i++) {
        example.legs[i].remarks.slatting = true;
        example.legs[i].remarks.slatting_s = 14400.0;
    }
    example.legs[0].remarks.against_s = 2700.0;
    assert_string_equal(
        warned(),
        "wind against a current of over 1 kn for 45 min on all legs: expect a "
        "shorter and "
        "steeper sea than the forecast says\n"
        "apparent wind under 6 kn with a swell for 12 h on legs 1, 2 and 3: "
        "sails and "
        "boom will slat; preventer on, or the headsail rolled away\n");
    example.legs[0].remarks.against_current = false;
    assert_contains(warned(), " on 5 of 6 legs:");
}

/* 3.6 m/s are 7.0 kn: more than 5.7. */
static void guidance_is_told_once_for_the_passage(void **state) {
    (void)state;
    struct sea following = {.system = {{true, 1.0, 3.5, 180.0}}};
    struct caution_sums sums = {.seconds = 0.0};
    example.plan.leg_count = 2;
    sail(&sums, &following, 3600.0, 1790.0);
    assert_null(strstr(warned(), "guidance"));
    sail(&sums, &following, 90000.0, 5410.0);
    assert_string_equal(
        warned(),
        "surfing and broaching, by guidance written for ships: first on leg 3, "
        "Fri 15 Mar 06:00 UTC, for 2 h in all: steep seas from astern, 19 m "
        "long, and she makes over 5.7 kn: she may run down one and broach; "
        "slow down, steer by hand\n");
}

static void waves_in_step_with_her_roll_are_told(void **state) {
    (void)state;
    struct sea abeam = {.system = {{true, 0.5, 3.4, 90.0}}};
    struct caution_sums sums = {.seconds = 0.0};
    example.plan.leg_count = 0;
    sail(&sums, &abeam, 0.0, 36000.0);
    assert_string_equal(
        warned(),
        "rolling in step with the waves, by guidance written for ships: first "
        "on leg 1, Fri 15 Mar 05:00 UTC, for 10 h in all: waves meet her every "
        "3.4 s, about her roll period, 3.5 s (measured): roll may build up; "
        "change course or speed a little\n");
    example.boat.roller.period_estimated = true;
    assert_contains(warned(), "3.5 s (estimated)");
}

static void two_waves_to_a_roll_are_told(void **state) {
    (void)state;
    struct sea ahead = {.system = {{true, 0.5, 3.0, 0.0}}};
    struct caution_sums sums = {.seconds = 0.0};
    sail(&sums, &ahead, 0.0, 36000.0);
    assert_contains(warned(), "rolling at every second wave, by guidance");
    assert_contains(text, "waves meet her every 1.7 s, about half of her roll "
                          "period, 3.5 s");
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(wind_is_against_a_current_of_over_a_knot),
        cmocka_unit_test(a_light_air_is_not),
        cmocka_unit_test(an_unknown_current_is_not),
        cmocka_unit_test(sails_slat_under_six_knots_in_a_swell),
        cmocka_unit_test(an_estimated_swell_does_not_count),
        cmocka_unit_test(a_wind_sea_alone_is_no_swell),
        TEST(what_lasts_a_quarter_of_an_hour_is_told),
        TEST(half_of_a_short_leg_is_told),
        TEST(a_leg_without_anything_has_no_remarks),
        TEST(a_guessed_period_makes_no_sea_steep),
        TEST(a_sea_that_can_not_be_judged_is_told),
        TEST(a_quiet_plan_is_warned_of_nothing),
        TEST(steep_seas_are_told_with_their_worst),
        TEST(current_and_slatting_are_told_by_leg),
        TEST(guidance_is_told_once_for_the_passage),
        TEST(waves_in_step_with_her_roll_are_told),
        TEST(two_waves_to_a_roll_are_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
