/* How far a forecast is believed: by lead time (common practice, no source),
 * and never beyond its last step. */
#include "../support/check.h"

#include "plan/trust.h"

static struct plan plan_with(double end_h) {
    struct plan plan = {.forecast_run = {1000000}};
    plan.forecast_end = instant_plus(plan.forecast_run, hours_to_s(end_h));
    return plan;
}

static enum trust at_h(const struct plan *plan, double lead_h) {
    return trust_at(plan, instant_plus(plan->forecast_run, hours_to_s(lead_h)));
}

static void three_days_are_good_five_fair(void **state) {
    (void)state;
    struct plan plan = plan_with(240.0);
    assert_int_equal(at_h(&plan, -6.0), TRUST_GOOD);
    assert_int_equal(at_h(&plan, 0.0), TRUST_GOOD);
    assert_int_equal(at_h(&plan, 72.0), TRUST_GOOD);
    assert_int_equal(at_h(&plan, 72.1), TRUST_FAIR);
    assert_int_equal(at_h(&plan, 120.0), TRUST_FAIR);
    assert_int_equal(at_h(&plan, 120.1), TRUST_GUESS);
}

static void beyond_the_last_step_all_is_a_guess(void **state) {
    (void)state;
    struct plan plan = plan_with(48.0);
    assert_int_equal(at_h(&plan, 48.0), TRUST_GOOD);
    assert_int_equal(at_h(&plan, 48.1), TRUST_GUESS);
    plan = plan_with(96.0);
    assert_int_equal(at_h(&plan, 96.0), TRUST_FAIR);
    assert_int_equal(at_h(&plan, 96.1), TRUST_GUESS);
}

static void timing_is_an_hour_out_for_each_day(void **state) {
    (void)state;
    assert_near(trust_timing_error_s(hours_to_s(48.0)), hours_to_s(2.0), 1e-9);
    assert_near(trust_timing_error_s(-5.0), 0.0, 0.0);
}

static void trust_ends_with_the_forecast(void **state) {
    (void)state;
    struct plan plan = plan_with(48.0);
    assert_int_equal(trust_ends(&plan, TRUST_GOOD_S).unix_s,
                     plan.forecast_end.unix_s);
    plan = plan_with(100.0);
    assert_int_equal(trust_ends(&plan, TRUST_GOOD_S).unix_s,
                     plan.forecast_run.unix_s + 72 * 3600);
    assert_int_equal(trust_ends(&plan, TRUST_FAIR_S).unix_s,
                     plan.forecast_end.unix_s);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(three_days_are_good_five_fair),
        cmocka_unit_test(beyond_the_last_step_all_is_a_guess),
        cmocka_unit_test(timing_is_an_hour_out_for_each_day),
        cmocka_unit_test(trust_ends_with_the_forecast),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
