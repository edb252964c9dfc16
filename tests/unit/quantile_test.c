#include "../support/check.h"

#include "plan/quantile.h"

/* Calculated by hand: the place of a part is part * (count + 1), from 1. */
static void quantiles_lie_between_the_values(void **state) {
    (void)state;
    double nine[] = {10, 20, 30, 40, 50, 60, 70, 80, 90};
    assert_near(quantile(nine, 9, 0.1).value, 10.0, 1e-12); /* place 1 */
    assert_near(quantile(nine, 9, 0.5).value, 50.0, 1e-12);
    assert_near(quantile(nine, 9, 0.9).value, 90.0, 1e-12);
    assert_near(quantile(nine, 9, 0.25).value, 25.0, 1e-12); /* place 2.5 */
    double twenty[20];
    for (int i = 0; i < 20; i++)
        twenty[i] = 100.0 * (i + 1) * (i + 1);
    /* places 2.1, 10.5, 18.9: 400 + 0.1 * 500, 10000 + 0.5 * 2100,
     * 32400 + 0.9 * 3700 */
    assert_near(quantile(twenty, 20, 0.1).value, 450.0, 1e-9);
    assert_near(quantile(twenty, 20, 0.5).value, 11050.0, 1e-9);
    assert_near(quantile(twenty, 20, 0.9).value, 35730.0, 1e-9);
}

static void few_values_tell_no_tenth(void **state) {
    (void)state;
    double eight[] = {1, 2, 3, 4, 5, 6, 7, 8};
    assert_false(quantile(eight, 8, 0.1).known);
    assert_false(quantile(eight, 8, 0.9).known);
    assert_near(quantile(eight, 8, 0.5).value, 4.5, 1e-12);
    assert_near(quantile(eight, 1, 0.5).value, 1.0, 1e-12);
    assert_near(quantile(eight, 2, 0.5).value, 1.5, 1e-12);
}

static void times_are_put_in_order(void **state) {
    (void)state;
    double times_s[] = {300.0, 100.0, 200.0};
    struct quantiles all = quantiles_of(times_s, 3);
    assert_int_equal(all.count, 3);
    assert_near(all.earliest_s, 100.0, 0.0);
    assert_near(all.latest_s, 300.0, 0.0);
    assert_near(all.middle_s.value, 200.0, 1e-12);
    assert_false(all.tenth_s.known);
    assert_false(all.ninetieth_s.known);
    struct quantiles none = quantiles_of(times_s, 0);
    assert_int_equal(none.count, 0);
    assert_false(none.middle_s.known);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(quantiles_lie_between_the_values),
        cmocka_unit_test(few_values_tell_no_tenth),
        cmocka_unit_test(times_are_put_in_order),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
