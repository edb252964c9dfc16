/* What tells that it is time, and the dark, in whole plans of the samples. */
#include "../support/check.h"
#include "../support/flat.h"
#include "../support/one_screen.h"
#include "../support/planned.h"
#include "../support/unit_words.h"

#include <string.h>

/* For time alone the coastal hop arrives before light: its last stow is in the
 * dark, its wind, gust, sea and roll inside the limits of the boat file. */
static void daylight_only_names_the_dark(void **state) {
    (void)state;
    struct planned plan =
        planned_well("dark", "plan grib-samples/coastal-hop.ini --coast none "
                             "--ease 0 --deck-work daylight-only");
    char *sheet = plan.schedule;
    flatten(sheet);
    assert_contains(sheet,
                    "in the dark, against daylight-only: the last stow;");
    /* dark from 20:41 (NIGHTS), the stow takes 10 minutes */
    assert_contains(sheet, "done in the last light instead, begun by Sun 21 "
                           "Jun 20:15 UTC: arrival 0 h ");
    assert_contains(sheet, "WARNINGS");
    assert_contains(sheet, "against daylight-only someone goes forward in the "
                           "dark, times: 1; see CHANGES");
    assert_null(strstr(sheet, "OUTSIDE THE WORK LIMITS"));
    assert_contains(plan.gpx, "in the dark, against daylight-only: the last");
    struct planned free =
        planned_well("free", "plan grib-samples/coastal-hop.ini --coast none "
                             "--ease 0 --deck-work any");
    assert_null(strstr(free.schedule, "daylight-only"));
}

/* The wind of the crossing veers from 057 to 074 before the spar is set for the
 * poled reach, which ends at 140 deg. */
static void the_wind_that_tells_stands_beside_the_clock(void **state) {
    (void)state;
    struct planned plan = planned_well(
        "sign", "plan grib-samples/trade-crossing.ini --coast none");
    char *sheet = plan.schedule;
    check_unit_words(sheet);
    check_one_screen(sheet);
    flatten(sheet);
    assert_contains(sheet, " Sign on the course before, when AWA has been "
                           "forward of 1");
    assert_contains(sheet, "Else if the expected shift does not come by ");
    assert_contains(sheet, "; sign: AWA forward of 1");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(daylight_only_names_the_dark),
        cmocka_unit_test(the_wind_that_tells_stands_beside_the_clock),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
