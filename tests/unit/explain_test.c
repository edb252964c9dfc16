/* Why she rolls, in words and figures. */
#include "../support/check.h"
#include "../support/plan_example.h"
#include "../support/side_words.h"

#include "report/explain.h"
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct plan_example example;
static char *text;

static const char *explained(void) {
    size_t size = 0;
    free(text);
    text = NULL;
    FILE *stream = open_memstream(&text, &size);
    assert_non_null(stream);
    explain_roll(&example.plan, stream);
    fclose(stream);
    return text;
}

/* 5 deg, of which 4 are the wind sea's, sqrt(5) a swell's, 2 the sails'. */
static int begin(void **state) {
    (void)state;
    plan_example_make(&example);
    example.boat.roller.period_s = 3.64;
    struct plan_leg *leg = &example.legs[1];
    leg->roll_deg = 5.0;
    leg->roll = (struct plan_roll){
        .system = {{true, 16.0, 1.64, 6.2, 175.0, figure_of(9.44)},
                   {false, 0.0, 0.0, 0.0, 0.0, figure_unknown()},
                   {true, 5.0, 12.0, 14.4, -140.0, figure_unknown()}},
        .sails_deg2 = 4.0,
        .damping = 0.0912};
    return 0;
}

static int finish(void **state) {
    (void)state;
    free(text);
    text = NULL;
    return 0;
}

static void legs_of_one_quarter_have_their_minutes(void **state) {
    (void)state;
    example.legs[2].start = instant_plus(example.legs[1].start, -60.0);
    example.legs[2].roll = example.legs[1].roll;
    explained();
    assert_contains(text, "\n  SET1   15 09:07 spar starboard, wing");
    assert_contains(text, "  15 09:06 spar port, wing");
}

static void each_part_of_a_leg_has_its_line(void **state) {
    (void)state;
    assert_contains(
        explained(),
        "\n"
        "  SET1   15 09:00 spar starboard, wing; roll 5.00 deg rms; damping "
        "0.091\n"
        "  wind sea    1.6 m  6.2 s astern                   every  9.4 s  "
        "4.00 deg  64 %\n"
        "  swell 2    12.0 m 14.4 s on the port quarter      keeps pace    "
        "2.24 deg  20 %\n"
        "  sails' own                                                      "
        "2.00 deg  16 %\n");
}

static void the_roll_period_is_measured_or_estimated(void **state) {
    (void)state;
    assert_contains(explained(), "Roll period of the boat: 3.6 s, measured.");
    example.boat.roller.period_estimated = true;
    assert_contains(explained(), "Roll period of the boat: 3.6 s, estimated.");
}

static void an_estimated_sea_is_marked(void **state) {
    (void)state;
    assert_null(strstr(explained(), "wind (est)"));
    example.legs[1].roll.origin[0] = WAVE_ESTIMATED;
    example.legs[1].roll.origin[2] = WAVE_ESTIMATED;
    assert_contains(explained(), "  wind (est)  1.6 m  6.2 s astern");
    assert_contains(explained(), "  old (est)  12.0 m 14.4 s on the port");
}

static void parts_of_a_combined_sea_are_marked(void **state) {
    (void)state;
    example.legs[1].roll.origin[0] = WAVE_SPLIT;
    example.legs[1].roll.origin[2] = WAVE_SPLIT;
    assert_contains(explained(), "  wind (part) 1.6 m  6.2 s astern");
    assert_contains(explained(), "  rest (part)12.0 m 14.4 s on the port");
}

static void waves_that_seldom_meet_her_keep_pace(void **state) {
    (void)state;
    example.legs[1].roll.system[0].meets_s = figure_of(98.9);
    assert_contains(explained(), "astern                   every 98.9 s");
    example.legs[1].roll.system[0].meets_s = figure_of(2e5);
    assert_contains(explained(), "astern                   keeps pace ");
}

static void no_roll_has_shares_of_nothing(void **state) {
    (void)state;
    example.legs[1].roll_deg = 0.0;
    example.legs[1].roll.system[0].roll2_deg2 = 0.0;
    assert_contains(explained(), "every  9.4 s  0.00 deg   0 %\n");
}

static void it_fits_the_page(void **state) {
    (void)state;
    for (int i = 0; i < SEA_SYSTEMS; i++)
        example.legs[1].roll.system[i] = (struct plan_roll_part){
            true, 2025.0, 14.0, 22.4, 130.0, figure_of(98.0)};
    example.legs[1].roll_deg = 45.0;
    example.legs[1].wave_estimated = true;
    check_side_words(explained());
    for (const char *line = text; *line; line += strcspn(line, "\n") + 1)
        if (strcspn(line, "\n") > 80)
            fail_msg("wider than 80: %.100s", line);
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, finish)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(legs_of_one_quarter_have_their_minutes),
        TEST(each_part_of_a_leg_has_its_line),
        TEST(the_roll_period_is_measured_or_estimated),
        TEST(an_estimated_sea_is_marked),
        TEST(parts_of_a_combined_sea_are_marked),
        TEST(waves_that_seldom_meet_her_keep_pace),
        TEST(no_roll_has_shares_of_nothing),
        TEST(it_fits_the_page),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
