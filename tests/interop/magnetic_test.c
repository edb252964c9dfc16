/* --magnetic from outside: in schedule and route, by option and by key, for a
 * plan and for a track; the plan itself stays the same. */
#include "../support/check.h"
#include "../support/planned.h"

#include <stdio.h>
#include <string.h>

#define COAST "--coast none "

/* The invented hop in 2026, off Portugal: the model has 1.2 degrees west there
 * (another program with the same model: -1.16). */
static void the_plan_is_the_same_with_both_courses(void **state) {
    (void)state;
    struct planned bare =
        planned_well("true", "plan grib-samples/coastal-hop.ini " COAST);
    struct planned both = planned_well(
        "both", "plan grib-samples/coastal-hop.ini " COAST "--magnetic");
    assert_string_equal(bare.json_text, both.json_text);
    assert_null(strstr(bare.schedule, "magnetic"));
    assert_null(strstr(bare.gpx, "magvar"));
    assert_contains(both.schedule, " deg magnetic");
    assert_contains(both.schedule, "variation 1.2 deg W");
    assert_contains(both.gpx, "<magvar>358.8</magvar>");
    assert_contains(both.gpx, " deg magnetic, spar ");
    struct planned along = planned_well(
        "along",
        "along '%s/route.gpx' grib-samples/coastal-hop.ini " COAST "--magnetic",
        both.folder);
    assert_contains(along.schedule, "variation 1.2 deg W");
    assert_contains(along.gpx, "<magvar>358.8</magvar>");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_plan_is_the_same_with_both_courses),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
