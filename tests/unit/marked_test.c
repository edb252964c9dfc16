/* Sentences with marks, as the sheet says them and as files do. */
#include "../support/check.h"
#include "../support/plan_example.h"
#include "../support/scratch.h"

#include "base/units.h"
#include "plan/marks.h"
#include "report/marked.h"

static struct plan_example example;

static int begin(void **state) {
    plan_example_make(&example);
    return scratch_begin(state);
}

/* The third leg starts where the spar is gybed; 30.1 h after departure is in
 * the first two days: to the quarter. */
static const char *sentence(void) {
    const struct instant at = instant_plus(example.plan.depart, 30.1 * 3600.0);
    return arena_print(&arena, "from %s on legs %s and %s, 5 kn",
                       mark_time(&arena, at), mark_leg(&arena, 0),
                       mark_leg(&arena, 2));
}

static void the_sheet_has_ships_time_and_names(void **state) {
    (void)state;
    struct waypoints waypoints = waypoints_of(&example.plan, &arena);
    example.plan.display.zone_s = hours_to_s(-3.5);
    assert_string_equal(
        marked_for_sheet(&arena, &example.plan, &waypoints, sentence()),
        "from Sat 16 Mar 07:30 UTC-3:30 on legs W001 and "
        "GYBE2, 5 kn");
}

static void files_have_utc_and_count(void **state) {
    (void)state;
    example.plan.display.zone_s = hours_to_s(-3.5);
    assert_string_equal(marked_in_utc(&arena, &example.plan, sentence()),
                        "from Sat 16 Mar 11:00 UTC on legs 1 and 3, 5 kn");
}

static void messages_have_utc_and_names(void **state) {
    (void)state;
    struct waypoints waypoints = waypoints_of(&example.plan, &arena);
    example.plan.display.zone_s = hours_to_s(-3.5);
    assert_string_equal(
        marked_for_message(&arena, &example.plan, &waypoints, sentence()),
        "from Sat 16 Mar 11:00 UTC on legs W001 and GYBE2, 5 kn");
}

static void what_is_no_mark_is_left_alone(void **state) {
    (void)state;
    const struct plan *plan = &example.plan;
    assert_string_equal(marked_in_utc(&arena, plan, "plain 5 t5 l5"),
                        "plain 5 t5 l5");
    assert_string_equal(marked_in_utc(&arena, plan, ""), "");
    assert_string_equal(marked_in_utc(&arena, plan, "\x1e"), "");
    assert_string_equal(marked_in_utc(&arena, plan, "a\x1etb\x1e l"), "atb l");
    assert_string_equal(marked_in_utc(&arena, plan, "a\x1el7"), "al7");
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(the_sheet_has_ships_time_and_names),
        TEST(files_have_utc_and_count),
        TEST(messages_have_utc_and_names),
        TEST(what_is_no_mark_is_left_alone),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
