/* How the legs that something holds for are listed. */
#include "../support/check.h"
#include "../support/plan_example.h"
#include "../support/scratch.h"

#include "report/leg_names.h"

static struct plan_example example;

static int begin(void **state) {
    scratch_begin(state);
    plan_example_make(&example);
    return 0;
}

/* The points where legs start, of those whose digit in `chosen` is 1. */
static const char *listed(const char *chosen) {
    struct waypoints points = waypoints_of(&example.plan, &arena);
    struct leg_names names = {.text = NULL};
    size_t leg = 0;
    for (size_t i = 0; i < points.count; i++)
        if (points.items[i].starts_leg && chosen[leg++] == '1')
            leg_names_add(&names, &points.items[i], &arena);
    return leg_names_text(&names, &arena);
}

static void three_in_a_row_are_told_by_their_ends(void **state) {
    (void)state;
    const char *first = listed("100000"), *second = listed("010000"),
               *third = listed("001000"), *last = listed("000001");
    assert_string_equal(listed("000000"), "");
    assert_string_equal(listed("110000"),
                        arena_print(&arena, "%s, %s", first, second));
    assert_string_equal(listed("111000"),
                        arena_print(&arena, "%s to %s", first, third));
    assert_string_equal(listed("101000"),
                        arena_print(&arena, "%s, %s", first, third));
    assert_string_equal(listed("111001"), arena_print(&arena, "%s to %s, %s",
                                                      first, third, last));
    assert_string_equal(listed("111111"),
                        arena_print(&arena, "%s to %s", first, last));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(three_in_a_row_are_told_by_their_ends),
    };
    return cmocka_run_group_tests(tests, begin, scratch_end);
}
