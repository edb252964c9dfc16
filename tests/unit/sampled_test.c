/* Samples of the boat for drawing, out of courses sailed in analytic weather.
 */
#include "../support/check.h"
#include "../support/legs_sailed.h"
#include "../support/scratch.h"

#include "plan/sampled.h"
#include <math.h>

static struct plan plan;

static void sail_west(const struct analytic *weather) {
    struct vertex vertices[5];
    struct sailed sailed;
    sail(&sailed, weather, vertices, run_west(vertices));
    assert_int_equal(sailed.obstacle, OBSTACLE_NONE);
    plan = sailed.plan;
}

static const struct plan_sample *sample_at(struct instant at) {
    const struct plan_sample *samples = plan.chart.samples;
    size_t i = 0;
    while (i + 1 < plan.chart.sample_count && samples[i].at.unix_s < at.unix_s)
        i++;
    assert_int_equal(samples[i].at.unix_s, at.unix_s);
    return &samples[i];
}

static void each_leg_and_each_change_has_one(void **state) {
    (void)state;
    sail_west(&trades);
    assert_int_equal(plan.leg_count, 4);
    for (size_t i = 0; i < plan.leg_count; i++) {
        const struct plan_leg *leg = &plan.legs[i];
        const struct plan_sample *sample = sample_at(leg->start);
        assert_near(sample->position.lat_deg, leg->from.lat_deg, 1e-9);
        assert_near(sample->position.lon_deg, leg->from.lon_deg, 1e-9);
        assert_near(sample->course_deg, leg->course_deg, 1e-6);
    }
    for (size_t i = 0; i < plan.change_count; i++)
        assert_true(sample_at(plan.changes[i].at)->working);
}

static void they_go_on_to_the_end(void **state) {
    (void)state;
    sail_west(&trades);
    const struct plan_chart *chart = &plan.chart;
    const struct plan_leg *last = &plan.legs[plan.leg_count - 1];
    const struct plan_sample *end_of = &chart->samples[chart->sample_count - 1];
    assert_int_equal(chart->samples[0].at.unix_s, departure.unix_s);
    assert_int_equal(end_of->at.unix_s, last->end.unix_s);
    assert_near(end_of->position.lat_deg, last->to.lat_deg, 1e-9);
    for (size_t i = 1; i < chart->sample_count; i++)
        assert_in_range(chart->samples[i].at.unix_s -
                            chart->samples[i - 1].at.unix_s,
                        1, 3600);
}

static void they_have_what_she_meets(void **state) {
    (void)state;
    sail_west(&trades);
    for (size_t i = 0; i < plan.chart.sample_count; i++) {
        const struct plan_sample *sample = &plan.chart.samples[i];
        assert_near(sample->tws_mps, 7.0, 1e-9);
        assert_near(sample->twd_deg, 90.0, 1e-9);
        assert_true(sample->gust_mps.known && !sample->gust_estimated);
        assert_near(sample->gust_mps.value, 8.4, 1e-9);
        assert_true(sample->wave_m.known);
        assert_near(sample->wave_m.value, 1.2, 1e-9);
        assert_true(sample->stw_mps > 0.0 && sample->roll_deg > 0.0);
        assert_true(fabs(sample->awa_deg) <= fabs(sample->twa_deg));
    }
}

/* No field of gusts, none of waves. */
static void what_is_not_known_is_not_a_number(void **state) {
    (void)state;
    struct analytic bare = trades;
    bare.gust_frac = figure_unknown();
    bare.wave_m = 0.0;
    sail_west(&bare);
    const struct plan_sample *sample = &plan.chart.samples[0];
    assert_true(sample->gust_estimated);
    assert_false(sample->wave_m.known);
}

#define TEST(name)                                                             \
    cmocka_unit_test_setup_teardown(name, scratch_begin, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(each_leg_and_each_change_has_one),
        TEST(they_go_on_to_the_end),
        TEST(they_have_what_she_meets),
        TEST(what_is_not_known_is_not_a_number),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
