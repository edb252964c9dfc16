/* Natural roll periods against published rules. */
#include "../support/check.h"

#include "sea/roll.h"

/* IMO 2008 IS Code, MSC.267(85), Part A 2.3 (seen in re-typings that name it):
 * T = 2 C B / sqrt(GM). Inputs of the first row from one of them; the second
 * and third, a 10 m yacht without and with her keel, are beyond the formula's
 * B/d < 3.5 or below its 24 m, and show what the draft does. */
static void periods_follow_the_stability_code(void **state) {
    (void)state;
    static const struct {
        double beam_m, draft_m, length_m, gm_m, period_s, tolerance_s;
    } rows[] = {{32.2, 11.0, 190.0, 1.0, 23.0956, 5e-5},
                {3.5, 0.6, 10.0, 1.1, 3.356, 5e-4},
                {3.5, 1.9, 10.0, 1.1, 2.744, 5e-4}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        assert_near(roll_period_from_gm_s(rows[i].beam_m, rows[i].draft_m,
                                          rows[i].length_m, rows[i].gm_m),
                    rows[i].period_s, rows[i].tolerance_s);
}

/* Seamanship Secrets, citing Vigor: a sailing yacht with a ballast ratio up to
 * 25 % rolls in beam(ft) / 3.3 * 0.95 s; 11.5 ft gives 3.31 s. */
static void periods_follow_the_rule_of_the_beam(void **state) {
    (void)state;
    assert_near(roll_period_from_beam_s(11.5 * 0.3048), 3.31, 5e-3);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(periods_follow_the_stability_code),
        cmocka_unit_test(periods_follow_the_rule_of_the_beam),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
