#include "../support/check.h"

#include "earth/chart.h"

static struct mercator chart(double x, double y) {
    return (struct mercator){x, y};
}

static void an_edge_is_met_by_crossing_and_by_touching(void **state) {
    (void)state;
    const struct mercator edge[2] = {chart(1, 1), chart(3, 2)};
    static const struct {
        double ax, ay, bx, by;
        bool meets;
    } cases[] = {
        {2, 0, 2, 3, true},                           /* across */
        {2, 0, 2, 1.5, true},                         /* ends on it */
        {2, 1.5, 2, 0, true},                         /* starts on it */
        {2, 0, 2, 1.499, false}, {1, 0, 1, 3, true},  /* through an end */
        {0, 1, 1, 1, true},                           /* ends at an end */
        {0.9, 0, 0.9, 3, false}, {-1, 0, 5, 3, true}, /* along it */
        {-1, 0, 0, 0.5, false}, /* on its line, before it */
        {-1, 0, 1, 1, true},    /* on its line, up to it */
        {2, 1.5, 2, 1.5, true}, /* a place on it */
        {2, 1.6, 2, 1.6, false}, {-1, 0.1, 5, 3.1, false}, /* beside it */
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct mercator a = chart(cases[i].ax, cases[i].ay);
        struct mercator b = chart(cases[i].bx, cases[i].by);
        const struct mercator back[2] = {edge[1], edge[0]};
        assert_int_equal(chart_meets(a, b, edge), cases[i].meets);
        assert_int_equal(chart_meets(b, a, edge), cases[i].meets);
        assert_int_equal(chart_meets(a, b, back), cases[i].meets);
    }
}

static void the_first_place_of_a_meeting_is_told(void **state) {
    (void)state;
    const struct mercator edge[2] = {chart(1, 1), chart(3, 2)};
    assert_near(chart_meeting(chart(2, 0), chart(2, 3), edge), 0.5, 1e-15);
    assert_near(chart_meeting(chart(2, 3), chart(2, 0), edge), 0.5, 1e-15);
    assert_near(chart_meeting(chart(1, 1), chart(1, 0), edge), 0.0, 1e-15);
    /* along it: where it begins, from either end */
    assert_near(chart_meeting(chart(-1, 0), chart(7, 4), edge), 0.25, 1e-15);
    assert_near(chart_meeting(chart(7, 4), chart(-1, 0), edge), 0.5, 1e-15);
}

static void a_side_is_told_and_a_tie_is_none(void **state) {
    (void)state;
    struct mercator zero = chart(0, 0);
    assert_int_equal(chart_side(zero, chart(1, 0), chart(0.5, 1)), 1);
    assert_int_equal(chart_side(zero, chart(1, 0), chart(0.5, -1)), -1);
    assert_int_equal(chart_side(zero, chart(1, 1), chart(0.5, 0.5)), 0);
    /* a third that is no exact double: no side is invented */
    struct mercator a = {0.1, 0.3}, b = {0.7, 0.9};
    assert_int_equal(chart_side(a, b, chart_along(a, b, 1.0 / 3.0)), 0);
    /* but a micrometre is told */
    struct mercator off = chart_along(a, b, 1.0 / 3.0);
    off.y += 1.6e-13;
    assert_int_equal(chart_side(a, b, off), 1);
}

static void the_foot_stays_on_the_line(void **state) {
    (void)state;
    struct mercator a = chart(1, 1), b = chart(3, 1);
    assert_near(chart_foot(a, b, chart(2, 5)), 0.5, 0.0);
    assert_near(chart_foot(a, b, chart(0, 0)), 0.0, 0.0);
    assert_near(chart_foot(a, b, chart(9, 0)), 1.0, 0.0);
    struct mercator place = chart_along(a, a, chart_foot(a, a, chart(9, 0)));
    assert_near(chart_apart2(place, a), 0.0, 0.0);
}

static void boxes_touch_with_their_sides(void **state) {
    (void)state;
    struct chart_box box = chart_box_about(chart(1, 4), chart(3, 2), 0.0);
    struct chart_box beside = chart_box_about(chart(3, 4), chart(5, 6), 0.0);
    struct chart_box away = chart_box_about(chart(3.1, 4), chart(5, 6), 0.0);
    struct chart_box wider = chart_box_about(chart(3.1, 4), chart(5, 6), 0.1);
    assert_true(chart_boxes_touch(&box, &beside));
    assert_true(chart_boxes_touch(&beside, &box));
    assert_false(chart_boxes_touch(&box, &away));
    assert_true(chart_boxes_touch(&box, &wider));
    box = chart_box_with(box, chart(3.1, 0));
    assert_near(box.low.y, 0.0, 0.0);
    assert_near(box.high.y, 4.0, 0.0);
    assert_true(chart_boxes_touch(&box, &away));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_edge_is_met_by_crossing_and_by_touching),
        cmocka_unit_test(the_first_place_of_a_meeting_is_told),
        cmocka_unit_test(a_side_is_told_and_a_tie_is_none),
        cmocka_unit_test(the_foot_stays_on_the_line),
        cmocka_unit_test(boxes_touch_with_their_sides),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
