/* What is told of a broken spar and of ports to run to. */
#include "../support/check.h"
#include "../support/flat.h"
#include "../support/schedule_text.h"

#include "base/units.h"
#include "plan/broken.h"
#include "report/escape.h"

#include <stdio.h>

/* The lines of the departure, or the section. */
static const char *told(bool departure) {
    FILE *stream = text_begin();
    struct waypoints waypoints = waypoints_of(&example.plan, &arena);
    if (departure)
        escape_write_departure(&example.plan, stream);
    else
        escape_write(&example.plan, &waypoints, stream);
    text_close();
    flatten(text);
    return text;
}

/* Arrival after 105.5 h and 12 more: on the 20th at 02:30, in the watch from
 * 00:00. */
static void at_departure_both_are_told(void **state) {
    (void)state;
    assert_string_equal(
        told(true),
        "Spar breaks at departure: arrive Wed 20 Mar 00:00-04:00 UTC (a "
        "guess), 12 h later "
        "Fallback at departure "
        "Cala Bruna, 138 nmi, 22 h 18 min, wind 50 deg off the bow on the port "
        "side; last turn-off Sat 16 Mar 08:00 UTC (a guess: the arrival at the "
        "finish is one) ");
}

static void what_says_nothing_is_left_out(void **state) {
    (void)state;
    example.plan.summary.spar_s = 0.0;
    example.plan.port_count = 0;
    assert_string_equal(told(true), "");
    assert_string_equal(told(false), "");
    example.plan.summary.spar_s = 1.0;
    example.plan.summary.reached = false;
    assert_string_equal(told(false), "");
}

static void legs_with_the_same_delay_share_a_line(void **state) {
    (void)state;
    told(false);
    assert_contains(
        text,
        "IF THE SPAR BREAKS where a leg starts; the track is kept - "
        "W001, SET1: arrive Wed 20 Mar 00:00-04:00 UTC (a guess), 12 h later - "
        "GYBE2: arrive Tue 19 Mar 20:00-24:00 UTC (a guess), 7 h 15 min later "
        "- "
        "W004: not known - W005: "
        "arrive Tue 19 Mar 16:00-20:00 UTC (a guess), 4 h 30 min later - "
        "STOW3: "
        "arrive Tue 19 Mar 12:00-16:00 UTC (a guess), as planned within "
        "1 h ");
}

/* A passage of 12 h is known to the quarter, one of 60 h to the hour, one of
 * 102 h to the watch: a quarter, and an hour, are no difference; from that on
 * they are. The arrival is the
 * plan's own then, on whichever side of a quarter the other falls. */
static void what_the_times_don_t_tell_is_no_difference(void **state) {
    (void)state;
    struct plan_summary *summary = &example.plan.summary;
    static const struct {
        double elapsed_h, later_min;
        const char *expected;
    } cases[] = {{12.0, -3.0,
                  "arrive Fri 15 Mar 17:00 UTC, as planned within "
                  "15 min "},
                 {12.0, 14.9,
                  "arrive Fri 15 Mar 17:00 UTC, as planned within "
                  "15 min "},
                 {12.0, 15.1, "arrive Fri 15 Mar 17:15 UTC, 0 h 15 min later "},
                 {12.0, -15.1,
                  "arrive Fri 15 Mar 16:45 UTC, 0 h 15 min "
                  "sooner "},
                 {60.0, 59.0, "as planned within 1 h "},
                 {60.0, 61.0, "1 h 01 min later "},
                 {102.0, 59.0, "as planned within 1 h "},
                 {102.0, 150.0, "2 h 30 min later "}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        summary->elapsed_s = cases[i].elapsed_h * 3600.0;
        summary->arrive = instant_plus(example.plan.depart, summary->elapsed_s);
        example.legs[0].broken_s =
            figure_of(summary->elapsed_s + 60.0 * cases[i].later_min);
        assert_contains(told(true), cases[i].expected);
    }
}

/* The fourth leg, W004, can't be laid without the spar. */
static void where_the_wind_heads_her_the_leg_is_named(void **state) {
    (void)state;
    struct plan_leg *leg = &example.legs[0];
    leg->broken = (struct plan_heading){true, 3, OBSTACLE_NONE};
    assert_contains(told(true),
                    "UTC (a guess), 12 h later; the wind heads her from W004 "
                    "on: she beats; planned without the spar from "
                    "departure: ");
    leg->broken_s = figure_unknown();
    leg->broken.why = OBSTACLE_NO_SPEED;
    assert_contains(
        told(true),
        "Spar breaks at departure: on this track the wind would head "
        "her or fail on the leg from W004: plan again; "
        "planned without the spar from departure: ");
    leg->broken.why = OBSTACLE_HORIZON;
    example.plan.summary.elapsed_without_spar_s = figure_unknown();
    assert_contains(told(false), "W001: on this track she would be stopped by "
                                 "the end of the forecast on the leg from "
                                 "W004: plan again - SET1");
    told(true);
    lacks("planned without");
}

/* From the third leg on, 75 h before the finish, it takes 40. */
static void a_port_has_its_way_and_its_last_turn_off(void **state) {
    (void)state;
    told(false);
    assert_contains(
        text,
        " FALLBACK spar stowed, engine not counted - Cala Bruna, 15 30.00 N "
        "026 45.00 W: from departure 138 nmi, 22 h 18 min, wind 50 deg off the "
        "bow on the port side; last turn-off Sat 16 Mar 08:00 UTC (a guess: "
        "the arrival at the finish is one), "
        "at 16 18.00 "
        "N 027 54.00 W: 112 nmi, 18 h 00 min, wind 64 deg off the bow on the "
        "starboard side; the finish is then 3 d 6 h off Soonest of them, while "
        "it is sooner than the finish: W001 Cala Bruna, 138 nmi, 22 h 18 min, "
        "wind 50 deg off the bow on the port side SET1 Cala Bruna, 112 nmi, 18 "
        "h 00 min, wind 10 deg off the bow on the starboard side GYBE2 Cala "
        "Bruna, 248 nmi, "
        "40 h 00 min, wind 70 deg off the bow on the starboard side ");
    lacks(" W004 Cala");
}

static void without_a_finish_nothing_is_said_of_it(void **state) {
    (void)state;
    example.plan.summary.reached = false;
    example.port.turn_off_known = false;
    told(false);
    assert_contains(text,
                    "last turn-off not known Soonest of them from where a "
                    "leg starts: W001");
    lacks("finish");
    lacks("SPAR BREAKS");
}

/* The plan of the example ends beyond its forecast: what is compared with it
 * is a guess, and no more once the forecast reaches further; a way is one by
 * its own end. */
static void what_the_forecast_does_not_reach_is_a_guess(void **state) {
    (void)state;
    example.refuges[1].guess = true;
    assert_contains(told(false), "from departure 138 nmi, 22 h 18 min, wind");
    assert_contains(text, "SET1 Cala Bruna, 112 nmi, 18 h 00 min (a guess), ");
    example.plan.forecast_run = example.plan.depart;
    example.plan.forecast_end.unix_s += 30 * 86400;
    assert_contains(told(true), "last turn-off Sat 16 Mar 08:00 UTC ");
    assert_contains(text, "arrive Wed 20 Mar 00:00-04:00 UTC, 12 h later");
    example.port.from_turn_off.guess = true;
    assert_contains(told(true), "last turn-off Sat 16 Mar 08:00 UTC (a guess: "
                                "the arrival there is one)");
}

static void a_port_that_was_moved_says_so(void **state) {
    (void)state;
    example.port.moved_m = nmi_to_m(0.4);
    assert_contains(told(false), "Cala Bruna, 15 30.00 N 026 45.00 W, in the "
                                 "sea 0.40 nmi from the place given: from ");
    example.port.outside = true;
    assert_contains(told(false), "in the sea 0.40 nmi from the place given: "
                                 "outside the forecast's area");
}

/* The set is 4 h after departure, and a day before the next leg: without its
 * row there would be none for a day. With a leg at 5 h it is left out. */
static void a_row_is_left_out_where_the_next_is_near(void **state) {
    (void)state;
    assert_contains(told(false), " SET1 Cala Bruna, 112 nmi");
    example.legs[2].start = instant_plus(example.plan.depart, 18000.0);
    example.plan.change_count = 1; /* the set: the gybe is elsewhere now */
    told(false);
    lacks(" SET1 Cala");
    assert_contains(text, " W003 Cala Bruna, 248 nmi");
}

static void the_soonest_of_several_is_told(void **state) {
    (void)state;
    struct plan_refuge refuges[PLAN_EXAMPLE_LEGS] = {
        {true, nmi_to_m(50.0), hours_to_s(9.0), 90.0, OBSTACLE_NONE, false}};
    struct plan_port ports[2] = {example.port,
                                 {.name = "Near", .from_leg = refuges}};
    example.plan.ports = ports;
    example.plan.port_count = 2;
    told(true);
    assert_contains(text, " Fallback at departure Near, 50 nmi, 9 h 00 min, "
                          "wind 90 deg off the bow on the");
    assert_contains(text, "never sooner than the finish but to windward");
    example.refuges[0].known = refuges[0].known = false;
    told(true);
    assert_contains(text, "Fallback at departure no way to any is known: see "
                          "FALLBACK below");
    told(false);
    lacks("never sooner");
    assert_contains(text, "Near, 00 00.00 N 000 00.00 E: from departure no way "
                          "of less than 60 days; last turn-off not known");
}

static void what_was_not_found_out_is_not_claimed(void **state) {
    (void)state;
    struct plan_port *port = &example.port;
    port->turn_off_known = false;
    port->turn_off_why = OBSTACLE_LAND;
    example.refuges[0] = (struct plan_refuge){.why = OBSTACLE_LAND};
    told(false);
    assert_contains(text, "from departure no way was found, stopped by land; "
                          "last turn-off not known, a look was stopped by "
                          "land");
    lacks("never sooner");
    port->outside = true;
    told(false);
    assert_contains(text, "Cala Bruna, 15 30.00 N 026 45.00 W: outside the "
                          "forecast's area: neither the way nor the last "
                          "turn-off is known");
    lacks("from departure");
    for (int i = 0; i < PLAN_EXAMPLE_LEGS; i++)
        example.refuges[i] = (struct plan_refuge){.known = false};
    told(false);
    lacks("Soonest of them"); /* no heading over nothing */
}

static void many_legs_are_told_for_the_first_alone(void **state) {
    (void)state;
    struct plan_leg legs[BROKEN_LEGS + 1];
    for (int i = 0; i <= BROKEN_LEGS; i++)
        legs[i] = example.legs[i > 0 ? 3 : 0];
    example.plan.legs = legs;
    example.plan.leg_count = BROKEN_LEGS + 1;
    example.plan.change_count = 0;
    example.plan.port_count = 0;
    told(false);
    assert_contains(
        text,
        " - W001: arrive Wed 20 Mar 00:00-04:00 UTC (a guess), 12 h later ");
    lacks("not known");
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, finish)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(at_departure_both_are_told),
        TEST(what_says_nothing_is_left_out),
        TEST(legs_with_the_same_delay_share_a_line),
        TEST(what_the_times_don_t_tell_is_no_difference),
        TEST(a_port_has_its_way_and_its_last_turn_off),
        TEST(without_a_finish_nothing_is_said_of_it),
        TEST(what_the_forecast_does_not_reach_is_a_guess),
        TEST(a_port_that_was_moved_says_so),
        TEST(a_row_is_left_out_where_the_next_is_near),
        TEST(the_soonest_of_several_is_told),
        TEST(where_the_wind_heads_her_the_leg_is_named),
        TEST(what_was_not_found_out_is_not_claimed),
        TEST(many_legs_are_told_for_the_first_alone),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
