/* What has changed since an old plan, in words. */
#include "../support/check.h"
#include "../support/plan_example.h"
#include "../support/scratch.h"

#include "base/units.h"
#include "report/changed.h"
#include <stdlib.h>
#include <string.h>

static struct plan_example example;
static struct previous_leg leg;
static struct previous_work work;
static struct previous previous;
static struct plan_keeping keeping;
static char *text;

static int begin(void **state) {
    scratch_begin(state);
    plan_example_make(&example);
    struct plan *plan = &example.plan;
    leg = (struct previous_leg){.start = instant_plus(plan->depart, -86400.0),
                                .end = instant_plus(plan->depart, 86400.0),
                                .spar = SPAR_STOWED};
    work = (struct previous_work){.kind = CHANGE_SET,
                                  .at = instant_plus(plan->depart, 3600.0),
                                  .to = {.spar = SPAR_PORT}};
    previous = (struct previous){
        .path = "plan.json",
        .name = "Old",
        .depart = leg.start,
        .reached = true,
        .arrive = instant_plus(plan->summary.arrive, -2.5 * 3600.0),
        .legs = &leg,
        .leg_count = 1,
        .works = &work,
        .work_count = 1};
    keeping = (struct plan_keeping){.previous = &previous,
                                    .off_m = nmi_to_m(12.0),
                                    .joined = {16.0, -30.0},
                                    .to_join_m = nmi_to_m(40.0),
                                    .known = true,
                                    .summary = plan->summary};
    plan->keeping = &keeping;
    return 0;
}

static int finish(void **state) {
    free(text);
    text = NULL;
    return scratch_end(state);
}

static void write_it(void) {
    size_t size = 0;
    free(text);
    FILE *stream = open_memstream(&text, &size);
    assert_non_null(stream);
    changed_write(&example.plan, stream);
    fclose(stream);
}

static void verdict_is(const char *expected) {
    assert_string_equal(changed_verdict(&arena, &example.plan), expected);
}

/* So much more than the plan. */
static void keep_costs(double later_s, double weighed_s) {
    keeping.summary.elapsed_s = example.plan.summary.elapsed_s + later_s;
    keeping.summary.cost_s = example.plan.summary.cost_s + weighed_s;
}

static void keeping_is_told_with_what_it_costs(void **state) {
    (void)state;
    keep_costs(7800.0, 20000.0);
    keeping.more_work[CHANGE_GYBE][1] = 1;
    verdict_is("keeping to it costs 2 h 10 min and one more gybe in the dark; "
               "all weighed 5 h 33 min");
    keeping.more_work[CHANGE_SET][0] = -2;
    keeping.more_work[CHANGE_ACROSS][1] = 5;
    keeping.summary.roll_mean_deg = example.plan.summary.roll_mean_deg + 0.8;
    verdict_is("keeping to it costs 2 h 10 min, one more gybe in the dark, 5 "
               "more crossings of the spar in the dark, two less sets by day "
               "and 0.8 deg more roll; all weighed 5 h 33 min");
}

/* Ten minutes are the border, all weighed. */
static void within_ten_minutes_it_is_as_good(void **state) {
    (void)state;
    keep_costs(-240.0, 600.0);
    verdict_is("still as good: keeping to it takes 0 h 04 min less; all "
               "weighed within 10 min");
    keep_costs(0.0, 601.0);
    verdict_is("keeping to it takes no more time; all weighed 0 h 10 min");
    keep_costs(120.0, -1200.0);
    verdict_is("still as good: keeping to it costs 0 h 02 min; all weighed 0 h "
               "20 min better than the new plan");
}

static void what_stops_her_is_told(void **state) {
    (void)state;
    keeping.known = false;
    keeping.why = OBSTACLE_LAND;
    assert_contains(changed_verdict(&arena, &example.plan),
                    "it can't be kept to: stopped by ");
    keeping.why = OBSTACLE_HORIZON;
    verdict_is("whether it is still good can't be told: the forecast ends on "
               "the way");
    keeping.known = true;
    keeping.barred = true;
    assert_contains(changed_verdict(&arena, &example.plan),
                    "in the dark where deck_work forbids it");
}

static void arrival_and_work_stand_old_and_new(void **state) {
    (void)state;
    example.plan.start.spar = SPAR_STARBOARD;
    write_it();
    assert_contains(text, "\nSINCE THE OLD PLAN  'Old', which departs ");
    assert_contains(text, ": 2\n              h 30 min later\n");
    assert_contains(text, "  Next work   was set the spar to port, ");
    assert_contains(text, "the old plan has the spar stowed by now; she has it "
                          "to starboard\n");
    assert_contains(text, "  Old track   still as good: ");
    assert_contains(text, "12 nmi off it now; timed by way of 16 00.00 N 030 "
                          "00.00 W, 40 nmi\n              on; ");
    for (const char *line = text; *line; line = strchr(line, '\n') + 1)
        assert_true(strcspn(line, "\n") <= 80);
    previous.reached = false;
    previous.work_count = 0;
    example.plan.start.spar = SPAR_STOWED;
    keeping.off_m = 100.0;
    write_it();
    assert_contains(text, "  Arrival     was not known, now ");
    assert_contains(text, "  Next work   was none\n");
    assert_contains(text, "              on it now; timed by way");
    assert_null(strstr(text, "  Rig "));
    example.plan.keeping = NULL;
    write_it();
    assert_string_equal(text, "");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(keeping_is_told_with_what_it_costs,
                                        begin, finish),
        cmocka_unit_test_setup_teardown(within_ten_minutes_it_is_as_good, begin,
                                        finish),
        cmocka_unit_test_setup_teardown(what_stops_her_is_told, begin, finish),
        cmocka_unit_test_setup_teardown(arrival_and_work_stand_old_and_new,
                                        begin, finish),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
