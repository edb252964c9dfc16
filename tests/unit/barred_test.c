#include "../support/check.h"

#include "plan/barred.h"
#include "voyage/cost.h"

static const struct position off_shore = {15.2, -30.5};

/* 2026-03-17 03:40 UTC */
static const struct instant at_night = {1773718800};

static struct plan_change change_of(enum light light, bool barred) {
    return (struct plan_change){.kind = CHANGE_STOW,
                                .deck_work = true,
                                .at = at_night,
                                .position = off_shore,
                                .light = light,
                                .outside_limits = true,
                                .barred = barred};
}

static void what_is_excused_or_by_day_passes(void **state) {
    (void)state;
    struct error error;
    struct plan_change changes[] = {change_of(LIGHT_NIGHT, false),
                                    change_of(LIGHT_DAY, true),
                                    change_of(LIGHT_TWILIGHT, true)};
    struct plan plan = {.changes = changes, .change_count = 3};
    assert_true(barred_check(&plan, &error));
    plan.change_count = 0;
    assert_true(barred_check(&plan, &error));
}

static void work_in_the_dark_is_named_with_what_it_would_cost(void **state) {
    (void)state;
    struct error error;
    struct plan_change changes[] = {change_of(LIGHT_DAY, false),
                                    change_of(LIGHT_NIGHT, true),
                                    change_of(LIGHT_NIGHT, true)};
    struct plan plan = {.changes = changes, .change_count = 3, .ease = 2.0};
    plan.summary.elapsed_s = 90.0 * 3600.0;
    plan.summary.cost_s = 100.0 * 3600.0 + 2.0 * COST_FORBIDDEN_WORK_S;
    plan.summary.hardship_s = 3.0 * 3600.0;
    assert_false(barred_check(&plan, &error));
    assert_int_equal(error.status, STATUS_NO_ROUTE);
    assert_string_equal(
        error.text,
        "no plan with deck_work daylight-only: stowing the spar at "
        "2026-03-17T03:40:00Z, 15 12.00 N 030 30.00 W, would send someone "
        "forward in the dark; this way takes 90.0 h and costs 100.0 h "
        "(weighed), 6.0 h of that for work; deck_work daylight-first allows "
        "it, and may find another way; depart at another time");
}

/* A gybe of the mainsail is never charged for being forbidden. */
static void
for_a_mainsail_gybe_a_second_preventer_is_the_way_out(void **state) {
    (void)state;
    struct error error;
    struct plan_change gybe = change_of(LIGHT_NIGHT, true);
    gybe.kind = CHANGE_MAINSAIL_GYBE;
    struct plan plan = {.changes = &gybe, .change_count = 1, .ease = 1.0};
    plan.summary.cost_s = 9.0 * 3600.0;
    assert_false(barred_check(&plan, &error));
    assert_contains(error.text, ": gybing the mainsail at 2026-03-17T03:40");
    assert_contains(error.text, "costs 9.0 h (weighed)");
    assert_contains(error.text, "rig a second preventer");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_excused_or_by_day_passes),
        cmocka_unit_test(work_in_the_dark_is_named_with_what_it_would_cost),
        cmocka_unit_test(for_a_mainsail_gybe_a_second_preventer_is_the_way_out),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
