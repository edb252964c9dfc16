/* What the sheet says of the engine. */
#include "../support/check.h"
#include "../support/plan_example.h"

#include "base/units.h"
#include "report/engine_report.h"

#include <stdio.h>
#include <stdlib.h>

static struct plan_example example;
static struct plan_engine_run run;

/* Eight hours from departure on, at 3 litres an hour, below 2.5 kn. */
static int begin(void **state) {
    (void)state;
    plan_example_make(&example);
    struct plan *plan = &example.plan;
    example.boat.motor = (struct motor){.fitted = true,
                                        .speed_mps = figure_of(kn_to_mps(6.0)),
                                        .below_mps = figure_of(kn_to_mps(2.5)),
                                        .litres_per_hour = figure_of(3.0),
                                        .fuel_litres = figure_of(100.0),
                                        .reserve_litres = figure_of(20.0),
                                        .max_wind_mps = kn_to_mps(12.0)};
    run = (struct plan_engine_run){
        .start = {plan->from, plan->depart},
        .end = {plan->to, instant_plus(plan->depart, hours_to_s(8.0))},
        .motored_s = hours_to_s(8.0)};
    plan->summary.motor_s = figure_of(run.motored_s);
    plan->engine =
        (struct plan_engine){.motoring = {.below_mps = kn_to_mps(2.5),
                                          .speed_mps = kn_to_mps(6.0),
                                          .max_wind_mps = kn_to_mps(12.0)},
                             .litres = 30.0,
                             .charging_litres = 6.0,
                             .runs = &run,
                             .run_count = 1};
    return 0;
}

static char *text;

static void says(void (*writer)(const struct plan *plan, FILE *stream),
                 const char *part) {
    size_t size;
    FILE *stream = open_memstream(&text, &size);
    writer(&example.plan, stream);
    fclose(stream);
    assert_contains(text, part);
    free(text);
}

static void is_silent(void (*writer)(const struct plan *plan, FILE *stream)) {
    size_t size;
    FILE *stream = open_memstream(&text, &size);
    writer(&example.plan, stream);
    fclose(stream);
    assert_string_equal(text, "");
    free(text);
}

static void it_says_when_the_engine_runs_and_what_is_left(void **state) {
    (void)state;
    says(engine_report_write,
         "where she would sail slower than 2.5 kn in true wind up to 12 kn");
    says(engine_report_write, "8 h 00 min, 24 litres");
    says(engine_report_write, "30 litres, 6 of them to charge; 70 of 100");
    says(engine_report_summary, "8 h 00 min, 30 litres, 6 of them to charge");
    says(engine_report_departure, "on, until about");
}

static void rationing_is_said(void **state) {
    (void)state;
    struct motoring *motoring = &example.plan.engine.motoring;
    motoring->later_below_mps = kn_to_mps(1.4);
    motoring->until_s = hours_to_s(5.0);
    says(engine_report_write, "slower than 1.4 kn");
    says(engine_report_write, "there is none for more");
}

static void speeds_that_print_alike_are_one_rule(void **state) {
    (void)state;
    struct motoring *motoring = &example.plan.engine.motoring;
    motoring->later_below_mps = kn_to_mps(2.45);
    motoring->until_s = hours_to_s(5.0);
    says(engine_report_write, "up to 12 kn\n  On");
}

static void without_motoring_there_is_no_section(void **state) {
    (void)state;
    example.plan.engine.run_count = 0;
    example.plan.summary.motor_s = figure_of(0.0);
    is_silent(engine_report_write);
    is_silent(engine_report_departure);
    says(engine_report_summary, "not used");
}

static void without_an_engine_nothing_is_said(void **state) {
    (void)state;
    example.plan.engine = (struct plan_engine){.run_count = 0};
    example.plan.summary.motor_s = figure_unknown();
    is_silent(engine_report_write);
    is_silent(engine_report_summary);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup(it_says_when_the_engine_runs_and_what_is_left,
                               begin),
        cmocka_unit_test_setup(rationing_is_said, begin),
        cmocka_unit_test_setup(speeds_that_print_alike_are_one_rule, begin),
        cmocka_unit_test_setup(without_motoring_there_is_no_section, begin),
        cmocka_unit_test_setup(without_an_engine_nothing_is_said, begin),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
