/* `sparwise boat --roll-seen` from outside: the keys that it prints, pasted
 * into the boat file, give the roll that was seen. */
#include "../support/check.h"
#include "../support/scratch.h"

#include "base/text.h"
#include <stdlib.h>
#include <string.h>

#define EXAMPLE "'TWA 170, 16 kn, 2 m 7 s from 065, spar stowed: often 10'"

static struct ran seen(const char *boat, const char *rest) {
    return check_run(
        arena_print(&arena, "boat '%s' --roll-seen %s", boat, rest));
}

/* A copy of a boat file with its polars beside it, and lines behind it. */
static const char *boat_with(const char *more) {
    static const char *const polars[] = {"wanderer-12-stowed.csv",
                                         "wanderer-12-spar.csv"};
    struct error error;
    for (int i = 0; i < 2; i++)
        check_write(polars[i],
                    text_load(&arena,
                              arena_print(&arena, "polars/%s", polars[i]),
                              1 << 20, &error));
    char *boat = text_load(&arena, "polars/wanderer-12.ini", 1 << 20, &error);
    assert_non_null(boat);
    return check_write("wanderer-12.ini",
                       arena_print(&arena, "%s%s", boat, more));
}

/* From "[boat]" on to the empty line. */
static const char *pasted(const char *report) {
    const char *keys = strstr(report, "[boat]\n");
    assert_non_null(keys);
    const char *rest = strstr(keys, "\n\n");
    assert_non_null(rest);
    return arena_print(&arena, "\n%.*s", (int)(rest + 1 - keys), keys);
}

/* The number before " by the boat file". */
static double before_deg(const char *report) {
    const char *number = strstr(report, " by the boat file");
    assert_non_null(number);
    while (number[-1] != ' ')
        number--;
    return strtod(number, NULL);
}

static void the_example_is_fitted(void **state) {
    (void)state;
    struct ran ran = seen(boat_with(""), EXAMPLE);
    assert_int_equal(ran.status, 0);
    assert_string_equal(ran.err, "");
    assert_contains(pasted(ran.out), "[boat]\nsail_roll_run_loose = ");
    assert_contains(ran.out, "sail_roll_reach stays at 0.25");
}

/* A degree more than she rolls now, which is no bound. */
static void keys_that_are_pasted_give_the_roll_that_was_seen(void **state) {
    (void)state;
    const char *boat = boat_with("");
    double told_deg = before_deg(seen(boat, EXAMPLE).out) + 1.0;
    const char *line = arena_print(
        &arena, "'TWA 170, 16 kn, 2 m 7 s from 065, spar stowed: often %.1f'",
        told_deg);
    struct ran ran = seen(boat, line);
    assert_int_equal(ran.status, 0);
    ran = seen(boat_with(pasted(ran.out)), line);
    assert_int_equal(ran.status, 0);
    assert_string_equal(ran.err, "");
    assert_near(before_deg(ran.out), told_deg, 1e-9);
}

static void several_are_fitted_together(void **state) {
    (void)state;
    struct ran ran = seen(boat_with(""), EXAMPLE
                          " --roll-seen 'TWA 175 port, 18 kn, 2 m 7 s from 10, "
                          "spar to windward: at times 9'");
    assert_int_equal(ran.status, 0);
    const char *keys = pasted(ran.out);
    assert_contains(keys, "sail_roll_run_loose = ");
    assert_contains(keys, "sail_roll_run_spar = ");
    assert_null(strstr(keys, "sail_roll_reach"));
}

static void a_bad_observation_is_wrong_usage_and_one_line(void **state) {
    (void)state;
    struct ran ran = seen("polars/wanderer-12.ini", EXAMPLE
                          " --roll-seen 'TWA 170, 16, 2 m 7 s, spar stowed: "
                          "often 10'");
    assert_int_equal(ran.status, 2);
    assert_string_equal(ran.out, "");
    assert_contains(ran.err, "sparwise: --roll-seen, observation 2: '16' is "
                             "not understood; ");
    assert_ptr_equal(strchr(ran.err, '\n'), ran.err + strlen(ran.err) - 1);
    ran = seen("polars/wanderer-12.ini",
               "'TWA 9, 16 kn, 2 m 7 s, spar stowed: often 10'");
    assert_int_equal(ran.status, 2);
    assert_contains(ran.err, "observation 1: with the spar stowed the boat's "
                             "polar has no speed at TWA 9 in 16 kn");
    assert_int_equal(check_run("plan --roll-seen x").status, 2);
}

#define TEST(name)                                                             \
    cmocka_unit_test_setup_teardown(name, scratch_begin, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(the_example_is_fitted),
        TEST(keys_that_are_pasted_give_the_roll_that_was_seen),
        TEST(several_are_fitted_together),
        TEST(a_bad_observation_is_wrong_usage_and_one_line),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
