#include "../support/check.h"

#include "base/once.h"

static void the_first_to_ask_makes_it(void **state) {
    (void)state;
    _Atomic uint8_t it = 0;
    assert_true(once_begin(&it));
    once_end(&it, ONCE_MADE + 2);
    assert_false(once_begin(&it));
    assert_int_equal(once_made(&it), ONCE_MADE + 2);
}

enum { THINGS = 2000, ASKERS = 4 };

/* All ask for all; each is made once, and whoever asks sees it made. */
static void many_threads_make_each_thing_once(void **state) {
    (void)state;
    static _Atomic uint8_t states[THINGS];
    static int things[THINGS], makings[THINGS];
    int unmade = 0;
#pragma omp parallel for num_threads(ASKERS) schedule(static, 1) \
    reduction(+ : unmade)
    for (int asker = 0; asker < ASKERS; asker++)
        for (int i = 0; i < THINGS; i++) {
            if (once_begin(&states[i])) {
                makings[i]++;
                things[i] = i + 1;
                once_end(&states[i], ONCE_MADE);
            }
            unmade += things[i] != i + 1;
        }
    assert_int_equal(unmade, 0);
    for (int i = 0; i < THINGS; i++)
        assert_int_equal(makings[i], 1);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_first_to_ask_makes_it),
        cmocka_unit_test(many_threads_make_each_thing_once),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
