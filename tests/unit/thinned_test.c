#include "../support/check.h"
#include "../support/scratch.h"

#include "plan/thinned.h"
#include <math.h>
#include <string.h>

static void places_on_a_straight_line_are_left_out(void **state) {
    (void)state;
    const struct mercator line[] = {{0, 0}, {1, 0}, {2, 0}, {3, 0}, {3, 2}};
    struct mercator kept[5];
    assert_int_equal(thinned_line(line, 5, 0.01, kept, &arena), 3);
    assert_near(kept[1].x, 3.0, 0.0);
    assert_near(kept[1].y, 0.0, 0.0);
    assert_near(kept[2].y, 2.0, 0.0);
}

static void short_lines_stay(void **state) {
    (void)state;
    const struct mercator line[] = {{0, 0}, {1e-9, 0}};
    struct mercator kept[2];
    assert_int_equal(thinned_line(line, 0, 1.0, kept, &arena), 0);
    assert_int_equal(thinned_line(line, 1, 1.0, kept, &arena), 1);
    assert_int_equal(thinned_line(line, 2, 1.0, kept, &arena), 2);
}

static double off_lines(struct mercator place, const struct mercator *points,
                        size_t count) {
    double least2 = HUGE_VAL;
    for (size_t i = 0; i + 1 < count; i++) {
        double t = chart_foot(points[i], points[i + 1], place);
        struct mercator foot = chart_along(points[i], points[i + 1], t);
        least2 = fmin(least2, chart_apart2(foot, place));
    }
    return sqrt(least2);
}

/* Of ragged lines, some of which end where they begin. */
static void no_place_is_further_off_than_asked(void **state) {
    (void)state;
    enum { COUNT = 200 };
    struct seed seed = {41};
    for (int round = 0; round < 50; round++) {
        struct mercator line[COUNT], kept[COUNT];
        double off = seed_between(&seed, 0.05, 2.0);
        for (int i = 0; i < COUNT; i++)
            line[i] = (struct mercator){0.1 * i + seed_between(&seed, -1, 1),
                                        seed_between(&seed, -1, 1)};
        if (round % 2)
            line[COUNT - 1] = line[0];
        size_t left = thinned_line(line, COUNT, off, kept, &arena);
        assert_in_range(left, 2, COUNT);
        assert_memory_equal(&kept[0], &line[0], sizeof *line);
        assert_memory_equal(&kept[left - 1], &line[COUNT - 1], sizeof *line);
        for (int i = 0; i < COUNT; i++)
            assert_true(off_lines(line[i], kept, left) <= off * (1 + 1e-12));
    }
}

static void what_is_outside_goes_to_the_edge(void **state) {
    (void)state;
    const struct chart_box box = {{0, 0}, {2, 1}};
    struct mercator in = thinned_into((struct mercator){-5, 0.5}, 6.0, &box);
    assert_near(in.x, 1.0, 0.0);
    assert_near(in.y, 0.5, 0.0);
    in = thinned_into((struct mercator){7, -3}, 0.0, &box);
    assert_near(in.x, 2.0, 0.0);
    assert_near(in.y, 0.0, 0.0);
}

#define TEST(name)                                                             \
    cmocka_unit_test_setup_teardown(name, scratch_begin, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(places_on_a_straight_line_are_left_out),
        TEST(short_lines_stay),
        TEST(no_place_is_further_off_than_asked),
        TEST(what_is_outside_goes_to_the_edge),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
