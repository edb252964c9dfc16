/* Fuel for a part of what she would motor, from outside: a plan's own route
 * timed again is that plan, and neither burns more than there is. */
#include "../support/check.h"
#include "../support/planned.h"

#include "base/units.h"
#include <math.h>
#include <stdio.h>
#include <string.h>

/* The demo's boat and passage with an engine that is faster than the boat in
 * light airs, and 9 litres, of which a fifth is the reserve. */
static const char *make_passage(void) {
    static char command[9000];
    const char *boat = check_write("fuel.ini", "");
    const char *passage = check_write("fuel-passage.ini", "");
    snprintf(command, sizeof command,
             "sed -e \"s#^stowed = #&$PWD/polars/#; s#^spar = #&$PWD/polars/#\""
             " -e 's/^below_kn = .*/below_kn = 5.9/' -e "
             "'/^.motor/,/^$/s/^speed_kn = .*/speed_kn = 6.5/' -e "
             "'s/^fuel_litres = .*/fuel_litres = 9/' polars/wanderer-12.ini "
             "> '%s' && sed -e 's#^boat = .*#boat = %s#' -e "
             "\"s#^forecast = #&$PWD/grib-samples/#\" "
             "grib-samples/trade-crossing.ini > '%s'",
             boat, boat, passage);
    struct ran ran = check_shell(command);
    if (ran.status != 0)
        fail_msg("%s", ran.err);
    return passage;
}

static void its_own_route_is_the_plan(void **state) {
    (void)state;
    const char *passage = make_passage();
    struct planned plan =
        planned_well("fuel", "plan '%s' --ease 0 --coast none", passage);
    double litres = planned_figure(&plan, "motor_litres");
    assert_true(litres > 0.0 && litres <= 9.0 * 0.8 + 0.05); /* as printed */
    char line[9000];
    snprintf(line, sizeof line,
             "along '%s/fuel/route.gpx' '%s' --ease 0 --coast none --json",
             check_folder(), passage);
    struct ran ran = check_run(line);
    assert_int_equal(ran.status, 0);
    json_t *again = json_loads(ran.out, 0, NULL);
    json_t *summary = json_object_get(again, "summary");
    assert_near(planned_time_s(json_object_get(summary, "arrive")),
                planned_arrive_s(&plan), 10.0);
    assert_near(json_number_value(json_object_get(summary, "motor_litres")),
                litres, 0.1);
    json_decref(again);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(its_own_route_is_the_plan),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
