/* Magnetic courses of a plan. Figures of the model for 2026-03-15, by another
 * program: -8.56 degrees at 16.89 N 25.01 W, -8.77 at 16.60 N 25.35 W. */
#include "../support/check.h"
#include "../support/plan_example.h"
#include "../support/scratch.h"

#include "report/compass.h"

static struct plan_example example;

static int begin(void **state) {
    scratch_begin(state);
    plan_example_make(&example);
    plan_example_later(&example, 730); /* 2026, in the model's years */
    example.plan.display.magnetic = true;
    return 0;
}

static void the_compass_stands_beside_the_true_course(void **state) {
    (void)state;
    const struct plan *plan = &example.plan;
    assert_near(compass_variation(plan, plan->from, plan->depart).value, -8.56,
                0.006);
    assert_near(compass_heading(plan, plan->legs).value, 231.4 + 8.56, 0.006);
    assert_string_equal(compass_steer(&arena, plan, plan->legs),
                        "231 deg true, 240 deg magnetic");
    assert_string_equal(compass_cell(&arena, plan, plan->legs), "231 240");
    assert_contains(compass_words(&arena, plan, plan->legs),
                    "variation 8.6 deg W, at its end 8.8 deg W");
}

/* Off New Zealand it is easterly. */
static void east_is_taken_off(void **state) {
    (void)state;
    example.legs[0].from = example.legs[0].to = (struct position){-44.0, 179.0};
    double east_deg = compass_variation(&example.plan, example.legs[0].from,
                                        example.plan.depart)
                          .value;
    assert_true(east_deg > 20.0 && east_deg < 30.0);
    assert_near(compass_heading(&example.plan, example.legs).value,
                231.4 - east_deg, 0.001);
    assert_contains(compass_words(&arena, &example.plan, example.legs),
                    " deg E, ");
}

static void a_sample_has_it_where_and_when_it_is(void **state) {
    (void)state;
    struct plan_sample sample = {.at = example.plan.depart,
                                 .position = example.plan.from,
                                 .heading_deg = 355.0};
    assert_near(compass_of_sample(&example.plan, &sample).value, 3.56, 0.006);
    sample.at.unix_s = 1893456060; /* 2030-01-01T00:01Z */
    assert_false(compass_of_sample(&example.plan, &sample).known);
}

static void only_a_plan_that_wants_it_has_it(void **state) {
    (void)state;
    const struct plan *plan = &example.plan;
    example.plan.display.magnetic = false;
    assert_false(compass_variation(plan, plan->from, plan->depart).known);
    assert_string_equal(compass_steer(&arena, plan, plan->legs),
                        "231 deg true");
    assert_string_equal(compass_cell(&arena, plan, plan->legs), "231");
    assert_null(compass_words(&arena, plan, plan->legs));
}

/* A passage that goes on beyond the model's last year. */
static void what_is_not_known_is_said(void **state) {
    (void)state;
    double end_deg;
    example.legs[0].end.unix_s = 1893456060; /* 2030-01-01T00:01Z */
    assert_contains(compass_words(&arena, &example.plan, example.legs),
                    "variation 8.6 deg W, at its end not known");
    assert_false(compass_turns(&example.plan, example.legs, &end_deg));
    example.legs[0].start = example.legs[0].end;
    assert_string_equal(compass_steer(&arena, &example.plan, example.legs),
                        "231 deg true, magnetic not known");
    assert_string_equal(compass_cell(&arena, &example.plan, example.legs),
                        "231   -");
}

/* From the one place to the other it grows by 0.21 degree, from the third leg's
 * start at 28.2 W to the fifth's end at 36.2 W by more than 3. */
static void a_long_leg_turns_the_compass(void **state) {
    (void)state;
    double end_deg = -1.0;
    assert_false(compass_turns(&example.plan, example.legs, &end_deg));
    example.legs[2].to = example.legs[4].to;
    assert_true(compass_turns(&example.plan, &example.legs[2], &end_deg));
    double start_deg = compass_heading(&example.plan, &example.legs[2]).value;
    assert_true(end_deg > start_deg + 3.0 && end_deg < start_deg + 6.0);
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(the_compass_stands_beside_the_true_course),
        TEST(east_is_taken_off),
        TEST(a_sample_has_it_where_and_when_it_is),
        TEST(only_a_plan_that_wants_it_has_it),
        TEST(what_is_not_known_is_said),
        TEST(a_long_leg_turns_the_compass),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
