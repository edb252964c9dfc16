/* What is told of a broken spar and of ports to run to. */
#include "../support/check.h"
#include "../support/flat.h"
#include "../support/plan_example.h"
#include "../support/side_words.h"

#include "base/units.h"
#include "plan/broken.h"
#include "report/escape.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct plan_example example;
static char *text;

/* The lines of the departure, or the section. */
static const char *told(bool departure) {
    size_t size = 0;
    struct arena arena;
    free(text);
    text = NULL;
    FILE *stream = open_memstream(&text, &size);
    assert_non_null(stream);
    arena_init(&arena);
    struct waypoints waypoints = waypoints_of(&example.plan, &arena);
    if (departure)
        escape_write_departure(&example.plan, stream);
    else
        escape_write(&example.plan, &waypoints, stream);
    fclose(stream);
    arena_free(&arena);
    check_side_words(text);
    flatten(text);
    return text;
}

static int begin(void **state) {
    (void)state;
    plan_example_make(&example);
    return 0;
}

static int finish(void **state) {
    (void)state;
    free(text);
    text = NULL;
    return 0;
}

static void lacks(const char *part) {
    if (strstr(text, part))
        fail_msg("'%s' stands in:\n%s", part, text);
}

/* Arrival after 105.5 h and 12 more: on the 20th at 02:30, in the watch from
 * 00:00. */
static void at_departure_both_are_told(void **state) {
    (void)state;
    assert_string_equal(
        told(true),
        "Spar breaks arrive Wed 20 Mar 00:00-04:00 UTC, 12 h later Fallback "
        "Cala Bruna, 138 nmi, 22 h 18 min, wind 50 deg off the bow on the port "
        "side; last turn-off Sat 16 Mar 08:00 UTC ");
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
        text, "IF THE SPAR BREAKS where a leg starts; the track is kept - "
              "W001, SET1: arrive Wed 20 Mar 00:00-04:00 UTC, 12 h later - "
              "GYBE2: arrive Tue 19 Mar 20:00-24:00 UTC, 7 h 15 min later - "
              "W004: not known: this track can't be sailed without it - W005: "
              "arrive Tue 19 Mar 16:00-20:00 UTC, 4 h 30 min later - STOW3: "
              "arrive Tue 19 Mar 12:00-16:00 UTC, 0 h 03 min sooner ");
    example.legs[5].broken_s = figure_of(example.plan.summary.elapsed_s);
    assert_contains(told(false),
                    "STOW3: arrive Tue 19 Mar 12:00-16:00 UTC, as planned ");
}

/* From the third leg on, 75 h before the finish, it takes 40. */
static void a_port_has_its_way_and_its_last_turn_off(void **state) {
    (void)state;
    told(false);
    assert_contains(
        text,
        " FALLBACK spar stowed, engine not counted - Cala Bruna, 15 30.00 N "
        "026 45.00 W: from departure 138 nmi, 22 h 18 min, wind 50 deg off the "
        "bow on the port side; last turn-off Sat 16 Mar 08:00 UTC, at 16 18.00 "
        "N 027 54.00 W: 112 nmi, 18 h 00 min, wind 64 deg off the bow on the "
        "starboard side; the finish is then 3 d 6 h off Soonest of them, while "
        "it is sooner than the finish: W001 Cala Bruna, 138 nmi, 22 h 18 min, "
        "wind 50 deg off the bow on the port side GYBE2 Cala Bruna, 248 nmi, "
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

/* The set is 4 h after departure: too near to the row before. */
static void rows_are_six_hours_apart(void **state) {
    (void)state;
    told(false);
    lacks(" SET1 Cala");
    example.legs[1].start = instant_plus(example.plan.depart, 21600.0);
    example.changes[0].at = example.legs[1].start;
    assert_contains(told(false), " SET1 Cala Bruna, 112 nmi");
}

static void the_soonest_of_several_is_told(void **state) {
    (void)state;
    struct plan_refuge refuges[PLAN_EXAMPLE_LEGS] = {
        {true, nmi_to_m(50.0), hours_to_s(9.0), 90.0}};
    struct plan_port ports[2] = {example.port,
                                 {.name = "Near", .from_leg = refuges}};
    example.plan.ports = ports;
    example.plan.port_count = 2;
    told(true);
    assert_contains(
        text,
        " Fallback Near, 50 nmi, 9 h 00 min, wind 90 deg off the bow on the");
    assert_contains(text, "never sooner than the finish but to windward");
    example.refuges[0].known = refuges[0].known = false;
    told(true);
    lacks("Fallback");
    assert_contains(told(false), "from departure no way is known");
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
    assert_contains(text,
                    " - W001: arrive Wed 20 Mar 00:00-04:00 UTC, 12 h later ");
    lacks("not known");
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, finish)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(at_departure_both_are_told),
        TEST(what_says_nothing_is_left_out),
        TEST(legs_with_the_same_delay_share_a_line),
        TEST(a_port_has_its_way_and_its_last_turn_off),
        TEST(without_a_finish_nothing_is_said_of_it),
        TEST(rows_are_six_hours_apart),
        TEST(the_soonest_of_several_is_told),
        TEST(many_legs_are_told_for_the_first_alone),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
