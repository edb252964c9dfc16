/* What is told of the crew. */
#include "../support/check.h"
#include "../support/schedule_text.h"

#include "base/units.h"
#include "report/watches.h"

#include <stdio.h>

enum part { DEPARTURE, HANDS, SECTION };

/* `change`: for HANDS. */
static const char *told(enum part part, int change) {
    FILE *stream = text_begin();
    struct waypoints waypoints = waypoints_of(&example.plan, &arena);
    if (part == DEPARTURE)
        watches_write_departure(&example.plan, stream);
    else if (part == HANDS)
        watches_write_hands(&example.plan, &example.changes[change], stream);
    else
        watches_write(&example.plan, &waypoints, stream);
    return text_close();
}

/* Departure at 05:00 UTC in the watch from 04:00 to 08:00. */
static void the_next_two_watches_are_told(void **state) {
    (void)state;
    assert_string_equal(told(DEPARTURE, 0),
                        "  Watch       Ann to 08:00, then Bo to 12:00 UTC\n");
    example.plan.display.zone_s = hours_to_s(-3.5);
    assert_string_equal(
        told(DEPARTURE, 0),
        "  Watch       Ann to 04:30, then Bo to 08:30 UTC-3:30\n");
    example.plan.crew.count = 1;
    assert_string_equal(told(DEPARTURE, 0), "  Watch       Ann, alone\n");
    example.plan.crew.count = 0;
    assert_string_equal(told(DEPARTURE, 0), "");
}

/* The set is at 09:07, in Bo's watch; within its quarter of an hour no watch
 * changes. At 12:00 one does. The stow is known to the watch from 12:00 to
 * 16:00. */
static void
who_is_called_is_told_as_sharply_as_the_time_is_known(void **state) {
    (void)state;
    assert_string_equal(told(HANDS, 0),
                        "  Hands       Bo has the watch, Ann is called\n");
    example.changes[0].at = instant_plus(example.plan.depart, 7.0 * 3600.0);
    assert_string_equal(told(HANDS, 0),
                        "  Hands       near a change of watch: Ann and Bo\n");
    assert_string_equal(told(HANDS, 5),
                        "  Hands       Ann has the watch, Bo is called\n");
    example.plan.crew.first.unix_s += 3600;
    assert_string_equal(told(HANDS, 5),
                        "  Hands       near a change of watch: Ann and Bo\n");
    example.plan.crew.count = 1;
    assert_string_equal(told(HANDS, 0), "  Hands       Ann, alone\n");
    example.plan.crew.count = 0;
    assert_string_equal(told(HANDS, 0), "");
}

/* 105.5 h are 4.396 days: 52.1 h of rest are 11 h 51 min a day. */
static void the_section_has_watches_works_and_rest(void **state) {
    (void)state;
    assert_string_equal(
        told(SECTION, 0),
        "\nWATCHES AND REST\n"
        "  Watches     4 h each, one person at a time\n"
        "  Every day   Ann 04:00-08:00, 12:00-16:00, 20:00-00:00; Bo "
        "08:00-12:00,\n"
        "              16:00-20:00, 00:00-04:00 UTC\n"
        "  SET1        Fri 15 Mar 09:00 UTC, for 0 h 20 min: Bo has the watch, "
        "Ann is\n"
        "              called\n"
        "  GYBE2       Sat 16 Mar 11:00 UTC, for 0 h 45 min: Bo has the watch, "
        "Ann is\n"
        "              called\n"
        "  STOW3       Tue 19 Mar 12:00-16:00 UTC, for 0 h 15 min: Ann has the "
        "watch, Bo\n"
        "              is called\n"
        "  -  Ann: longest unbroken 4 h 00 min; rest 11 h 51 min a day, of it "
        "6 "
        "h 52 min\n"
        "     a day below the easy roll; called once\n"
        "  -  Bo: longest unbroken 3 h 42 min; rest 11 h 58 min a day, of it 6 "
        "h 22 min a\n"
        "     day below the easy roll; called 2 times\n"
        "  Rest: off watch and not called for work on deck, which takes two. "
        "Easy roll:\n"
        "  up to 2.5 deg rms.\n");
}

/* Three who change every three hours: nine hours are no part of a day. */
static void watches_that_shift_are_told_for_the_first_day(void **state) {
    (void)state;
    example.plan.crew.count = 3;
    example.plan.crew.names[2] = "Cy";
    example.plan.crew.watch_s = hours_to_s(3.0);
    told(SECTION, 0);
    assert_contains(text, "  First day   Ann to 07:00, Bo to 10:00, Cy to "
                          "13:00, Ann to 16:00, Bo to");
    assert_contains(text, "; on in that order, the\n");
    example.plan.crew.watch_s = hours_to_s(2.5);
    assert_contains(told(SECTION, 0), "  Watches     2.5 h each, one person");
}

static void a_short_passage_has_its_rest_in_all(void **state) {
    (void)state;
    example.plan.summary.elapsed_s = hours_to_s(20.0);
    example.plan.crew.rest[0].rest_s = hours_to_s(9.1);
    assert_contains(told(SECTION, 0), "rest 9 h 06 min in all, of it");
}

static void one_alone_is_never_off_watch(void **state) {
    (void)state;
    example.plan.crew.count = 1;
    told(SECTION, 0);
    assert_contains(text, "  Watch       Ann, alone\n");
    assert_contains(text, "Ann, alone: never off watch; longest without work "
                          "on deck 4 h 00 min");
}

static void a_crew_that_is_not_known_is_said_once(void **state) {
    (void)state;
    example.plan.crew.count = 0;
    assert_string_equal(told(SECTION, 0),
                        "\nWATCHES AND REST\n  not worked out: the passage "
                        "file has no [crew]\n");
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, finish)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(the_next_two_watches_are_told),
        TEST(who_is_called_is_told_as_sharply_as_the_time_is_known),
        TEST(the_section_has_watches_works_and_rest),
        TEST(watches_that_shift_are_told_for_the_first_day),
        TEST(a_short_passage_has_its_rest_in_all),
        TEST(one_alone_is_never_off_watch),
        TEST(a_crew_that_is_not_known_is_said_once),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
