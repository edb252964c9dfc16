/* What is told of an early or late arrival. */
#include "../support/check.h"
#include "../support/flat.h"
#include "../support/schedule_text.h"

#include "base/units.h"
#include "report/landfall.h"

#include <stdio.h>

static const char *told(void) {
    FILE *stream = text_begin();
    landfall_write(&example.plan, stream);
    text_close();
    flatten(text);
    return text;
}

/* Departure on the 15th at 05:00, early after 94.3 h, on the 19th at 03:18,
 * late after 116.7, on the 20th at 01:42: to the hour, outwards. */
static void the_band_is_rounded_outwards(void **state) {
    (void)state;
    assert_string_equal(
        told(), "Early, late between Tue 19 Mar 2024 03:00 UTC and Wed 20 Mar "
                "2024 02:00 UTC; dark until 08:09 UTC: if early, slow down; "
                "dark from 20:57 UTC: if late, slow down and enter by day ");
    example.plan.display.zone_s = hours_to_s(-3.5);
    assert_contains(
        told(),
        "between Mon 18 Mar 2024 23:00 UTC-3:30 and Tue 19 Mar 2024 23:00");
    assert_contains(text, "dark until 04:39 UTC-3:30: if early");
    /* of a short passage to the quarter: 03:15 and 01:45 */
    example.plan.display.zone_s = 0.0;
    example.plan.summary.elapsed_s = hours_to_s(40.0);
    assert_contains(
        told(),
        "between Tue 19 Mar 2024 03:15 UTC and Wed 20 Mar 2024 01:45 UTC");
}

static void only_what_may_happen_is_told(void **state) {
    (void)state;
    struct plan_arrival *arrival = &example.plan.arrival;
    arrival->dark_before = false;
    assert_contains(told(), "UTC; dark from 20:57 UTC: if late");
    arrival->dark_after = false;
    assert_contains(told(), "by day, be it early or late ");
    arrival->dark = true;
    assert_contains(told(), "dark all day ");
    arrival->light_known = true;
    arrival->light_from = arrival->dark_until;
    assert_contains(told(), "in the dark, light from 08:09 UTC: slow down or ");
    arrival->known = false;
    assert_string_equal(told(), "");
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, finish)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(the_band_is_rounded_outwards),
        TEST(only_what_may_happen_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
