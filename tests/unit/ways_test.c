#include "../support/check.h"

#include "plan/ways.h"

#include <math.h>

static bool is_better(enum work_rule rule, struct way way, struct way other) {
    struct voyage voyage = {.work_rule = rule};
    return ways_is_better(&voyage, &way, &other);
}

static struct way way_of(double cost_s, bool gybes_kept) {
    return (struct way){.cost_s = cost_s, .gybes_kept = gybes_kept};
}

static void the_cheaper_way_is_better(void **state) {
    (void)state;
    for (int kept = 0; kept < 2; kept++) {
        struct way one = way_of(10.0, kept), two = way_of(11.0, kept);
        for (int rule = WORK_DAYLIGHT_FIRST; rule <= WORK_DAYLIGHT_ONLY;
             rule++) {
            assert_true(is_better((enum work_rule)rule, one, two));
            assert_false(is_better((enum work_rule)rule, two, one));
            assert_false(is_better((enum work_rule)rule, one, one));
        }
    }
}

/* One with a gybe in the dark would be refused in the end. */
static void by_daylight_only_one_that_keeps_its_gybes_goes_first(void **state) {
    (void)state;
    struct way dear = way_of(20.0, true), cheap = way_of(10.0, false);
    assert_true(is_better(WORK_DAYLIGHT_ONLY, dear, cheap));
    assert_false(is_better(WORK_DAYLIGHT_ONLY, cheap, dear));
    assert_false(is_better(WORK_DAYLIGHT_FIRST, dear, cheap));
    assert_true(is_better(WORK_DAYLIGHT_FIRST, cheap, dear));
}

static void none_is_never_better(void **state) {
    (void)state;
    struct way none = way_of(HUGE_VAL, true), some = way_of(10.0, false);
    assert_false(is_better(WORK_DAYLIGHT_ONLY, none, some));
    assert_true(is_better(WORK_DAYLIGHT_ONLY, some, none));
    assert_false(is_better(WORK_DAYLIGHT_ONLY, none, none));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_cheaper_way_is_better),
        cmocka_unit_test(by_daylight_only_one_that_keeps_its_gybes_goes_first),
        cmocka_unit_test(none_is_never_better),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
