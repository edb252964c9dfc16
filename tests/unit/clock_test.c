#include "../support/check.h"
#include "../support/plan_example.h"

#include "report/clock.h"
#include "report/schedule.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The example departs on Friday 15 March 2024 at 05:00 UTC
 * (date -u -d @1710478800). */
static struct plan_example example;

static int begin(void **state) {
    (void)state;
    plan_example_make(&example);
    return 0;
}

static void a_zone_is_named(void **state) {
    (void)state;
    static const struct {
        double hours;
        const char *zone, *heading;
    } cases[] = {
        {0.0, "UTC", "UTC"},          {-0.0, "UTC", "UTC"},
        {-3.5, "UTC-3:30", "ship's"}, {10.0, "UTC+10", "ship's"},
        {5.75, "UTC+5:45", "ship's"}, {-0.5, "UTC-0:30", "ship's"},
        {-14.0, "UTC-14", "ship's"},  {12.75, "UTC+12:45", "ship's"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char zone[CLOCK_ZONE_SIZE];
        example.plan.display.zone_s = cases[i].hours * 3600.0;
        clock_zone(&example.plan, zone);
        assert_string_equal(zone, cases[i].zone);
        assert_string_equal(clock_heading(&example.plan), cases[i].heading);
    }
}

/* Across midnight, and sharp to the watch by ship's time: 4 h watches begin at
 * midnight on board. */
static void ships_time_has_its_own_days_and_watches(void **state) {
    (void)state;
    char text[SHARP_TEXT_SIZE];
    struct instant depart = example.plan.depart;
    example.plan.display.zone_s = -6.5 * 3600.0;
    clock_print_exact(&example.plan, depart, text);
    assert_string_equal(text, "Thu 14 Mar 2024 22:30 UTC-6:30");
    clock_print(&example.plan, depart, text);
    assert_string_equal(text, "Thu 14 Mar 22:30 UTC-6:30");
    clock_print_short(&example.plan, depart, text);
    assert_string_equal(text, "14 22:30");
    /* five days on, 07:00 UTC is 00:30 on board */
    struct instant later = instant_plus(depart, (5 * 24 + 2) * 3600.0);
    clock_print_short(&example.plan, later, text);
    assert_string_equal(text, "20 00-04");
    example.plan.display.zone_s = 0.0;
    clock_print_short(&example.plan, later, text);
    assert_string_equal(text, "20 04-08");
}

static void a_span_names_its_zone_once(void **state) {
    (void)state;
    char span[CLOCK_SPAN_SIZE];
    struct instant early = instant_plus(example.plan.depart, 3600.0);
    struct instant late = instant_plus(example.plan.depart, 7200.0);
    example.plan.display.zone_s = 3600.0;
    clock_print_span(&example.plan, early, late, span);
    assert_string_equal(span, "Fri 15 Mar 07:00 and 08:00 UTC+1");
    late = instant_plus(early, 23.0 * 3600.0);
    clock_print_span(&example.plan, early, late, span);
    assert_string_equal(span, "Fri 15 Mar 07:00 and Sat 16 Mar 06:00 UTC+1");
    early = instant_plus(early, 50.0 * 3600.0);
    late = instant_plus(early, 3.0 * 3600.0);
    clock_print_span(&example.plan, early, late, span);
    assert_string_equal(span, "Sun 17 Mar about 09:00 and about 12:00 UTC+1");
}

/* Departure at 05:00 UTC, 06:00 by ship's time: four days later begin those
 * that are told by watches. */
static void of_two_watches_each_is_called_one(void **state) {
    (void)state;
    char span[CLOCK_SPAN_SIZE];
    struct instant depart = example.plan.depart;
    struct instant hourly = instant_plus(depart, 95.0 * 3600.0);
    struct instant early = instant_plus(depart, 99.0 * 3600.0);
    struct instant late = instant_plus(early, 4.0 * 3600.0);
    struct instant next = instant_plus(early, 24.0 * 3600.0);
    example.plan.display.zone_s = 3600.0;
    clock_print_span(&example.plan, early, late, span);
    assert_string_equal(span, "the watch of Tue 19 Mar 08:00-12:00 and that of "
                              "12:00-16:00 UTC+1");
    assert_true(clock_print_room(&example.plan, hourly, early, next, span));
    assert_string_equal(span, "Tue 19 Mar about 05:00 and the watch of Wed 20 "
                              "Mar 08:00-12:00 UTC+1");
    assert_false(clock_print_room(&example.plan, early, early, early, span));
    assert_string_equal(span, "Tue 19 Mar 08:00-12:00 UTC+1");
}

/* In a schedule by ship's time no UTC is left but the run of the forecast, and
 * the page stays 80 wide. */
static void a_schedule_keeps_to_ships_time(void **state) {
    (void)state;
    struct error error;
    char *text = NULL;
    size_t size = 0;
    example.plan.display.zone_s = -3.5 * 3600.0;
    FILE *stream = open_memstream(&text, &size);
    assert_non_null(stream);
    assert_true(schedule_write(&example.plan, stream, &error));
    fclose(stream);
    assert_contains(text, "All times are ship's time, UTC-3:30, all");
    assert_contains(text, "Fri 15 Mar 2024 01:30 UTC-3:30");
    assert_contains(text, "\npoint  ship's ");
    size_t bare = 0;
    for (const char *at = text; (at = strstr(at, "UTC")); at++)
        bare += strncmp(at, "UTC-3:30", 8) != 0;
    assert_int_equal(bare, 1);
    for (const char *line = text; *line; line += strcspn(line, "\n") + 1)
        assert_true(strcspn(line, "\n") <= 80);
    free(text);
}

#define TEST(name) cmocka_unit_test_setup(name, begin)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(a_zone_is_named),
        TEST(ships_time_has_its_own_days_and_watches),
        TEST(a_span_names_its_zone_once),
        TEST(of_two_watches_each_is_called_one),
        TEST(a_schedule_keeps_to_ships_time),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
