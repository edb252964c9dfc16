#include "../support/check.h"

#include "base/units.h"
#include "plan/previous.h"

/* 2026-06-01T00:00Z, `date -u -d @1780272000` */
enum { NOON = 1780272000 + 12 * 3600 };

static struct previous_leg legs[2] = {
    {.start = {NOON}, .end = {NOON + 3600}, .spar = SPAR_STOWED},
    {.start = {NOON + 3600}, .end = {NOON + 7200}, .spar = SPAR_PORT}};
static struct previous_work works[2] = {
    {.kind = CHANGE_SET, .at = {NOON + 3600}, .to = {.spar = SPAR_PORT}},
    {.kind = CHANGE_STOW, .at = {NOON + 7000}}};
static const struct previous plan = {.path = "old/plan.json",
                                     .to = {10.0, -40.0},
                                     .legs = legs,
                                     .leg_count = 2,
                                     .works = works,
                                     .work_count = 2};

static void the_next_work_is_the_first_that_is_not_past(void **state) {
    (void)state;
    assert_ptr_equal(previous_next(&plan, (struct instant){0}), &works[0]);
    assert_ptr_equal(previous_next(&plan, works[0].at), &works[0]);
    assert_ptr_equal(previous_next(&plan, (struct instant){NOON + 3601}),
                     &works[1]);
    assert_null(previous_next(&plan, (struct instant){NOON + 7001}));
}

static void the_rig_is_that_of_the_leg_under_way(void **state) {
    (void)state;
    enum spar_place spar = SPAR_STARBOARD;
    assert_false(previous_spar(&plan, (struct instant){NOON - 1}, &spar));
    assert_int_equal(spar, SPAR_STARBOARD);
    assert_true(previous_spar(&plan, (struct instant){NOON}, &spar));
    assert_int_equal(spar, SPAR_STOWED);
    assert_true(previous_spar(&plan, (struct instant){NOON + 3600}, &spar));
    assert_int_equal(spar, SPAR_PORT);
    assert_false(previous_spar(&plan, (struct instant){NOON + 7200}, &spar));
}

/* A minute of latitude is a nautical mile but for half a hundredth: at 10 N
 * 1842.9 m (WGS84, calculated), so 10 nmi are 10.05 minutes. */
static void another_finish_is_another_passage(void **state) {
    (void)state;
    struct error error;
    assert_true(previous_check(
        &plan, (struct position){10.0 + 10.0 / 60.0, -40.0}, &error));
    assert_false(previous_check(
        &plan, (struct position){10.0 + 10.1 / 60.0, -40.0}, &error));
    assert_int_equal(error.status, STATUS_INPUT);
    assert_string_equal(
        error.text, "'old/plan.json' is a plan of another passage: it ends at "
                    "10 00.00 N 040 00.00 W, 10 nmi from the finish; give the "
                    "plan that is being sailed, or leave out --previous");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_next_work_is_the_first_that_is_not_past),
        cmocka_unit_test(the_rig_is_that_of_the_leg_under_way),
        cmocka_unit_test(another_finish_is_another_passage),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
