/* A crew and ports to run to, from the passage file to the schedule. */
#include "../support/check.h"
#include "../support/planned.h"

#include <stdio.h>
#include <string.h>
#include <unistd.h>

/* The coastal hop, with invented people and coves. */
static const char *passage(const char *crew) {
    static char text[1500];
    char here[500];
    assert_non_null(getcwd(here, sizeof here));
    snprintf(text, sizeof text,
             "[passage]\nname = Hop\nboat = %s/polars/heron-9.ini\n"
             "forecast = %s/grib-samples/coastal-hop.grib2\n"
             "from = 39 18.0 N 9 48.0 W\nto = 36 51.0 N 9 24.0 W\n"
             "depart = 2026-06-21T04:00Z\ncoast = none\nzone_hours = 1\n"
             "fallback = Low Cove 38 25.0 N 9 20.0 W\n%s",
             here, here, crew);
    return check_write("hop.ini", text);
}

static const char two[] = "[crew]\nnames = Ann, Bo\nwatch_hours = 3\n"
                          "watch_start = 20:00\n";

/* 05:00 by ship's time, in the watch from 05:00 to 08:00: the fourth. */
static void the_schedule_tells_of_crew_and_ports(void **state) {
    (void)state;
    struct planned plan = planned_well("crew", "plan %s", passage(two));
    assert_null(strstr(plan.ran.err, "changes nothing"));
    assert_contains(plan.schedule,
                    "  Watch       Bo to 08:00, then Ann to 11:00 UTC+1\n");
    assert_contains(plan.schedule, "  Hands       ");
    assert_contains(plan.schedule, "  Spar breaks at departure: arrive ");
    assert_contains(plan.schedule, "  Fallback    at departure Low Cove, ");
    assert_contains(plan.schedule, "; last turn-off ");
    assert_contains(plan.schedule, "\n  -  Ann: longest unbroken ");
    assert_contains(plan.schedule, "\n  -  Bo: longest unbroken ");
    assert_contains(plan.schedule, "\nCALL THE SKIPPER\n");
}

static void threads_change_no_byte_of_it(void **state) {
    (void)state;
    struct planned one =
        planned_well("one", "plan %s --threads 1", passage(two));
    struct planned four =
        planned_well("four", "plan %s --threads 4", passage(two));
    assert_string_equal(one.schedule, four.schedule);
}

/* From one heading to the next. */
static const char *section(const char *schedule, const char *heading) {
    const char *at = strstr(schedule, heading);
    if (!at)
        fail_msg("no %s", heading);
    const char *end = strstr(at, "\n\n");
    assert_non_null(end);
    static char texts[2][4000];
    static int turn;
    char *text = texts[turn ^= 1];
    snprintf(text, sizeof texts[0], "%.*s", (int)(end - at), at);
    return text;
}

/* Its own route timed again has the same rest, and the same delay. */
static void the_route_timed_again_tells_the_same(void **state) {
    (void)state;
    const char *path = passage(two);
    struct planned plan = planned_well("again", "plan %s", path);
    struct planned along =
        planned_well("timed", "along %s/route.gpx %s", plan.folder, path);
    assert_string_equal(section(plan.schedule, "WATCHES AND REST"),
                        section(along.schedule, "WATCHES AND REST"));
    assert_string_equal(section(plan.schedule, "IF THE SPAR BREAKS"),
                        section(along.schedule, "IF THE SPAR BREAKS"));
    assert_string_equal(section(plan.schedule, "FALLBACK      "),
                        section(along.schedule, "FALLBACK      "));
}

static void without_a_crew_that_is_said_once(void **state) {
    (void)state;
    struct planned plan = planned_well("none", "plan %s", passage(""));
    const char *at = strstr(plan.schedule, "[crew]");
    assert_non_null(at);
    assert_null(strstr(at + 1, "[crew]"));
    assert_null(strstr(plan.schedule, "  Hands "));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_schedule_tells_of_crew_and_ports),
        cmocka_unit_test(threads_change_no_byte_of_it),
        cmocka_unit_test(the_route_timed_again_tells_the_same),
        cmocka_unit_test(without_a_crew_that_is_said_once),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
