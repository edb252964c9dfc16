#include "../support/check.h"

#include "forecast/axis.h"

static struct axis make(const double *hours, size_t count,
                        struct arena *arena) {
    double *unix_s = arena_alloc(arena, count, sizeof *unix_s);
    for (size_t i = 0; i < count; i++)
        unix_s[i] = 1.7e9 + hours[i] * 3600.0;
    return axis_make(unix_s, count, arena);
}

/* The plain way: from the start, step by step. */
static size_t plain_search(const struct axis *axis, double unix_s) {
    size_t step = 0;
    while (step + 2 < axis->count && axis->unix_s[step + 1] <= unix_s)
        step++;
    return step;
}

static void any_spacing_is_found_as_by_a_plain_search(void **state) {
    (void)state;
    struct arena arena;
    struct seed seed = {41};
    arena_init(&arena);
    for (int round = 0; round < 50; round++) {
        double hours[60];
        size_t count = 2 + (size_t)seed_between(&seed, 0.0, 58.0);
        hours[0] = 0.0;
        for (size_t i = 1; i < count; i++)
            hours[i] = hours[i - 1] + seed_between(&seed, 0.1, 24.0);
        struct axis axis = make(hours, count, &arena);
        for (int i = 0; i < 200; i++) {
            double unix_s =
                seed_between(&seed, axis.unix_s[0], axis.unix_s[count - 1]);
            size_t step;
            double part;
            assert_int_equal(axis_find(&axis, unix_s, &step, &part),
                             AXIS_BETWEEN);
            assert_int_equal(step, plain_search(&axis, unix_s));
            double back = axis.unix_s[step] +
                          part * (axis.unix_s[step + 1] - axis.unix_s[step]);
            assert_near(back, unix_s, 1e-4);
        }
    }
    arena_free(&arena);
}

static void steps_themselves_have_no_part(void **state) {
    (void)state;
    static const double hours[] = {0, 1, 2, 3, 6, 9, 12, 24};
    struct arena arena;
    arena_init(&arena);
    struct axis axis = make(hours, 8, &arena);
    for (size_t i = 0; i < 8; i++) {
        size_t step;
        double part;
        assert_int_equal(axis_find(&axis, axis.unix_s[i], &step, &part),
                         AXIS_BETWEEN);
        assert_int_equal(step, i);
        assert_near(part, 0.0, 0.0);
    }
    arena_free(&arena);
}

static void before_and_after_are_told(void **state) {
    (void)state;
    static const double hours[] = {0, 6};
    struct arena arena;
    size_t step;
    double part;
    arena_init(&arena);
    struct axis axis = make(hours, 2, &arena);
    struct axis one = make(hours, 1, &arena);
    assert_int_equal(axis_find(&axis, axis.unix_s[0] - 2.0, &step, &part),
                     AXIS_BEFORE);
    assert_int_equal(axis_find(&axis, axis.unix_s[1] + 2.0, &step, &part),
                     AXIS_AFTER);
    /* a second is rounding */
    assert_int_equal(axis_find(&axis, axis.unix_s[0] - 0.5, &step, &part),
                     AXIS_BETWEEN);
    assert_int_equal(step, 0);
    assert_int_equal(axis_find(&axis, axis.unix_s[1] + 0.5, &step, &part),
                     AXIS_BETWEEN);
    assert_int_equal(step, 1);
    assert_int_equal(axis_find(&one, one.unix_s[0], &step, &part),
                     AXIS_BETWEEN);
    assert_int_equal(axis_find(&one, one.unix_s[0] + 10.0, &step, &part),
                     AXIS_AFTER);
    arena_free(&arena);
}

/* A minute step beside years: the table of buckets stays small. */
static void a_wide_axis_with_one_short_step_works(void **state) {
    (void)state;
    static const double hours[] = {0, 1.0 / 60.0, 50000};
    struct arena arena;
    size_t step;
    double part;
    arena_init(&arena);
    struct axis axis = make(hours, 3, &arena);
    assert_true(axis.bucket_count < 10000);
    axis_find(&axis, axis.unix_s[0] + 30.0, &step, &part);
    assert_int_equal(step, 0);
    assert_near(part, 0.5, 1e-6);
    axis_find(&axis, axis.unix_s[0] + 3600.0 * 25000.0, &step, &part);
    assert_int_equal(step, 1);
    arena_free(&arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(any_spacing_is_found_as_by_a_plain_search),
        cmocka_unit_test(steps_themselves_have_no_part),
        cmocka_unit_test(before_and_after_are_told),
        cmocka_unit_test(a_wide_axis_with_one_short_step_works),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
