/* When to call the skipper, and squalls: spar 22 kn and 28 in gusts for
 * wing-and-wing, 20 and 25 for the poled reach; reef 1 above 9 m/s, 17.5 kn,
 * reef 2 above 12 m/s, 23.3 kn. */
#include "../support/check.h"
#include "../support/flat.h"
#include "../support/schedule_text.h"

#include "base/units.h"
#include "report/call.h"

#include <stdio.h>

/* The lines of the departure, or the section. */
static const char *told(bool departure) {
    FILE *stream = text_begin();
    struct waypoints waypoints = waypoints_of(&example.plan, &arena);
    if (departure)
        call_write_departure(&example.plan, stream);
    else
        call_write(&example.plan, &waypoints, stream);
    text_close();
    flatten(text);
    return text;
}

/* 14.2 kn, no reef: 12 more are 26.2, reef 2. */
static void at_departure_the_first_leg_is_told(void **state) {
    (void)state;
    assert_string_equal(
        told(true),
        "Call the skipper if AWA leaves 101 to 141 deg, the mean true wind "
        "passes 17 kn (reef 1 is due), or a gust passes 24 kn (1.4 x that "
        "mean) "
        "Squall "
        "12 kn more make 26 kn of true wind: roll the headsail away in part or "
        "whole, from the cockpit; reef 2 is due: reef before it comes ");
}

/* 16.8 kn with reef 1: the spar's 22 come before reef 2; of the next leg, 15.9
 * with both reefs, so do the spar's. */
static void the_first_limit_that_is_met_is_told(void **state) {
    (void)state;
    example.plan.legs++;
    told(true);
    assert_contains(
        text,
        "if AWA comes under 145 deg, she runs by the lee past TWA 177 deg "
        "(wind on "
        "the boom's side), the mean true wind passes 22 kn (the spar's limit), "
        "or a gust passes 28 kn (the spar's limit) ");
    assert_contains(text,
                    "29 kn of true wind, above the spar's limit of 22 kn:");
    assert_contains(text, "reef 2 is due, once the headsail is rolled ");
    example.plan.legs->reefs = 0;
    assert_contains(told(true),
                    "the mean true wind passes 17 kn (reef 1 is due), or");
}

static void a_squall_may_be_within_the_limits(void **state) {
    (void)state;
    example.plan.legs++;
    example.plan.legs->tws_mps = kn_to_mps(9.0);
    told(true);
    assert_contains(text, "12 kn more make 21 kn of true wind, within the "
                          "spar's limit of 22 kn:");
    assert_contains(text, "be ready to roll the headsail away");
    /* the knot that makes the difference */
    example.plan.legs->tws_mps = kn_to_mps(10.1);
    assert_contains(told(true), "above the spar's limit of 22 kn");
}

static void a_rolled_headsail_stays_rolled(void **state) {
    (void)state;
    example.plan.legs += 3;
    told(true);
    assert_contains(
        text, "12 kn more make 35 kn of true wind: the headsail stays rolled");
}

/* 20 degrees off those of the leg, 121; a shift as large from 165 on brings the
 * wind past the stern. */
static void with_no_sail_on_the_spar_a_shift_is_called(void **state) {
    (void)state;
    example.legs[0].awa_deg = -165.0;
    assert_contains(told(true), "if AWA comes under 145 deg, she runs by the "
                                "lee past TWA 177 deg, the mean");
    example.legs[0].awa_deg = 40.0;
    example.legs[0].beating = true;
    assert_contains(told(true), "if she can't lay her course, the mean");
    example.plan.legs += 3;
    assert_contains(told(true), "if AWA leaves 120 to 160 deg, the mean");
}

/* No reefs listed and the spar in: the strongest gust of the leg is left. */
static void without_limits_the_forecast_is_one(void **state) {
    (void)state;
    example.boat.reef_count = 0;
    told(true);
    assert_contains(
        text,
        "the mean true wind passes 21 kn (the strongest gust expected), or a "
        "gust passes 30 kn (1.4 x that mean) ");
    example.legs[0].gust_mps = figure_unknown();
    assert_contains(told(true),
                    "101 to 141 deg, or the wind is not as told here ");
}

static void the_crews_own_limits_count(void **state) {
    (void)state;
    example.plan.max_wind_mps = figure_of(kn_to_mps(16.0));
    example.plan.max_gust_mps = figure_of(kn_to_mps(24.0));
    assert_contains(told(true),
                    "the mean true wind passes 16 kn (max_wind), or a gust "
                    "passes 22 kn (1.4 x that mean)");
    example.plan.max_gust_mps = figure_of(kn_to_mps(22.0));
    assert_contains(told(true), "or a gust passes 22 kn (max_gust)");
    example.plan.max_gust_mps = figure_of(kn_to_mps(24.0));
    example.plan.legs++;
    assert_contains(told(true),
                    "(wind on the boom's side), the mean true wind passes 16 "
                    "kn (max_wind), or a gust passes 24 "
                    "kn (max_gust)");
    example.plan.max_wind_mps = figure_of(kn_to_mps(40.0));
    example.plan.max_gust_mps = figure_of(kn_to_mps(50.0));
    told(true); /* beyond those of the spar */
    assert_contains(text,
                    "22 kn (the spar's limit), or a gust passes 28 kn (the "
                    "spar's limit)");
    example.plan.legs--;
    example.boat.reef_count = 0;
    example.plan.max_wind_mps = example.legs[0].gust_mps = figure_unknown();
    assert_contains(told(true), ", the wind is not as told here, or a gust "
                                "passes 50 kn (max_gust)");
}

static void each_rig_has_one_item(void **state) {
    (void)state;
    told(false);
    assert_contains(
        text, "CALL THE SKIPPER - spar stowed, no reef (W001, STOW3): if AWA "
              "goes 20 deg off that of its leg, the mean");
    assert_contains(text, " - wing-and-wing, reef 1 (SET1): if AWA");
    assert_contains(text, " - wing-and-wing, reef 2 (GYBE2): if AWA");
    assert_contains(text, " - headsail rolled, spar out, no reef (W004): if");
    assert_contains(
        text, " - poled reach, no reef (W005): if AWA leaves 105 to 140 deg,");
    example.boat.reef_count = 0;
    for (int i = 0; i < PLAN_EXAMPLE_LEGS; i++)
        example.legs[i].reefs = 0;
    told(false);
    /* of both legs the stronger wind counts: 16.8 kn */
    assert_contains(text, " - wing-and-wing (SET1, GYBE2): if AWA");
    assert_contains(text, "29 kn of true wind, above the spar's");
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, finish)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(at_departure_the_first_leg_is_told),
        TEST(the_first_limit_that_is_met_is_told),
        TEST(a_squall_may_be_within_the_limits),
        TEST(a_rolled_headsail_stays_rolled),
        TEST(with_no_sail_on_the_spar_a_shift_is_called),
        TEST(without_limits_the_forecast_is_one),
        TEST(the_crews_own_limits_count),
        TEST(each_rig_has_one_item),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
