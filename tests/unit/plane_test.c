#include "../support/check.h"

#include "earth/plane.h"

/* Ends of two segments as letters of a picture, a-b and c-d; the picture is
 * checked by eye. Upper row first. */
struct picture {
    const char *rows[5];
    bool meet;
};

static struct plane_point find(const struct picture *picture, char letter) {
    for (int row = 0; row < 5; row++)
        for (int column = 0; picture->rows[row][column]; column++)
            if (picture->rows[row][column] == letter)
                return (struct plane_point){column, 4 - row};
    fail_msg("no '%c' in the picture", letter);
    return (struct plane_point){0, 0};
}

static const struct picture pictures[] = {
    {{"a   d", /* a cross */
      "     ", /**/
      "     ", /**/
      "     ", /**/
      "c   b"},
     true},
    {{"a    ", /* side by side */
      "     ", /**/
      "c    ", /**/
      "     ", /**/
      "  d b"},
     false},
    {{"a   c", /* the end of one on the middle of the other */
      "     ", /**/
      "  d  ", /**/
      "     ", /**/
      "    b"},
     true},
    {{"a   c", /* the line would meet, the segment ends before */
      "   d ", /**/
      "     ", /**/
      "     ", /**/
      "    b"},
     false},
    {{"     ", /* on one line, apart */
      "     ", /**/
      "ab cd", /**/
      "     ", /**/
      "     "},
     false},
    {{"     ", /* on one line, one over the other */
      "     ", /**/
      "ac bd", /**/
      "     ", /**/
      "     "},
     true},
    {{"a    ", /* on one slanting line, apart */
      " b   ", /**/
      "     ", /**/
      "   c ", /**/
      "    d"},
     false},
};

static void pictures_agree(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof pictures / sizeof pictures[0]; i++) {
        const struct picture *p = &pictures[i];
        struct plane_point a = find(p, 'a'), b = find(p, 'b');
        struct plane_point c = find(p, 'c'), d = find(p, 'd');
        bool answers[] = {plane_meet(a, b, c, d), plane_meet(b, a, c, d),
                          plane_meet(c, d, a, b), plane_meet(d, c, b, a)};
        for (int k = 0; k < 4; k++)
            if (answers[k] != p->meet)
                fail_msg("picture %zu, order %d", i, k);
    }
}

static void a_shared_end_is_a_meeting(void **state) {
    (void)state;
    struct plane_point a = {0.1, 0.7}, b = {3.3, -1.9}, c = {-2.0, 8.0};
    assert_true(plane_meet(a, b, b, c));
    assert_true(plane_meet(a, a, a, c));
    assert_true(plane_meet(a, a, a, a));
    assert_false(plane_meet(a, a, b, c));
}

static void the_nearest_place_is_a_foot_or_an_end(void **state) {
    (void)state;
    struct plane_point a = {0, 0}, b = {4, 0};
    static const struct {
        struct plane_point at, nearest;
    } cases[] = {
        {{1, 3}, {1, 0}},
        {{-2, 1}, {0, 0}},
        {{9, -5}, {4, 0}},
        {{2, 0}, {2, 0}},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct plane_point near = plane_nearest(cases[i].at, a, b);
        assert_near(near.x, cases[i].nearest.x, 0.0);
        assert_near(near.y, cases[i].nearest.y, 0.0);
    }
    struct plane_point same = plane_nearest(b, a, a);
    assert_near(same.x, 0.0, 0.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pictures_agree),
        cmocka_unit_test(a_shared_end_is_a_meeting),
        cmocka_unit_test(the_nearest_place_is_a_foot_or_an_end),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
