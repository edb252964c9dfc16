#include "../support/check.h"

#include "plan/alike.h"

enum { HOUR_S = 3600, MOST = 8 };

/* A plan of works: s and S set the spar to port and starboard, g and G gybe it
 * there, o stows it, each with its hour. */
struct made {
    struct plan plan;
    struct plan_change changes[MOST];
};

static void make(struct made *made, const char *works, const int *hours) {
    *made = (struct made){.plan = {.change_count = 0}};
    for (; works[made->plan.change_count]; made->plan.change_count++) {
        char work = works[made->plan.change_count];
        struct plan_change *change = &made->changes[made->plan.change_count];
        change->kind = work == 'o'                  ? CHANGE_STOW
                       : work == 's' || work == 'S' ? CHANGE_SET
                                                    : CHANGE_GYBE;
        change->to.spar = work == 'o'                  ? SPAR_STOWED
                          : work == 's' || work == 'g' ? SPAR_PORT
                                                       : SPAR_STARBOARD;
        change->deck_work = true;
        change->at.unix_s = (int64_t)hours[made->plan.change_count] * HOUR_S;
    }
    made->plan.changes = made->changes;
}

/* `expected`: for each work of the first the place in the second, or -1. */
static void check(const char *first, const int *first_h, const char *second,
                  const int *second_h, const int *expected) {
    struct made a, b;
    struct arena arena;
    arena_init(&arena);
    make(&a, first, first_h);
    make(&b, second, second_h);
    const size_t *alike = alike_changes(&a.plan, &b.plan, &arena);
    for (size_t i = 0; i < a.plan.change_count; i++)
        assert_int_equal(alike[i],
                         expected[i] < 0 ? ALIKE_NONE : (size_t)expected[i]);
    arena_free(&arena);
}

static void the_same_works_are_each_other(void **state) {
    (void)state;
    check("sGo", (int[]){2, 10, 40}, "sGo", (int[]){3, 8, 44},
          (int[]){0, 1, 2});
}

static void one_that_is_missing_stays_alone(void **state) {
    (void)state;
    check("sGgo", (int[]){2, 10, 20, 40}, "so", (int[]){3, 44},
          (int[]){0, -1, -1, 1});
    check("so", (int[]){3, 44}, "sGgo", (int[]){2, 10, 20, 40}, (int[]){0, 3});
    check("s", (int[]){2}, "", NULL, (int[]){-1});
}

static void the_other_side_is_another_work(void **state) {
    (void)state;
    check("so", (int[]){2, 40}, "So", (int[]){2, 40}, (int[]){-1, 1});
}

static void of_several_the_nearest_in_time_is_taken(void **state) {
    (void)state;
    /* the two sets are of one kind; hour 30 is nearer to 28 than hour 2 */
    check("so", (int[]){30, 40}, "soso", (int[]){2, 10, 28, 41}, (int[]){2, 3});
    check("soso", (int[]){2, 10, 28, 41}, "so", (int[]){4, 12},
          (int[]){0, 1, -1, -1});
}

static void order_is_kept(void **state) {
    (void)state;
    /* either may be matched, not both: the pair of works that lies nearer */
    check("sG", (int[]){2, 10}, "Gs", (int[]){9, 12}, (int[]){-1, 0});
}

static void work_from_the_cockpit_does_not_count(void **state) {
    (void)state;
    struct made a, b;
    struct arena arena;
    arena_init(&arena);
    make(&a, "s", (int[]){2});
    make(&b, "s", (int[]){2});
    a.changes[0].kind = b.changes[0].kind = CHANGE_ROLL;
    a.changes[0].deck_work = b.changes[0].deck_work = false;
    assert_int_equal(alike_changes(&a.plan, &b.plan, &arena)[0], ALIKE_NONE);
    arena_free(&arena);
}

static void a_mainsail_gybe_goes_by_the_boom(void **state) {
    (void)state;
    struct plan_change a = {.kind = CHANGE_MAINSAIL_GYBE, .deck_work = true};
    struct plan_change b = a;
    assert_true(alike_work(&a, &b));
    b.to.wind_starboard = true;
    assert_false(alike_work(&a, &b));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_same_works_are_each_other),
        cmocka_unit_test(one_that_is_missing_stays_alone),
        cmocka_unit_test(the_other_side_is_another_work),
        cmocka_unit_test(of_several_the_nearest_in_time_is_taken),
        cmocka_unit_test(order_is_kept),
        cmocka_unit_test(work_from_the_cockpit_does_not_count),
        cmocka_unit_test(a_mainsail_gybe_goes_by_the_boom),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
