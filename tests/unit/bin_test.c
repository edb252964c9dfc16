#include "../support/check.h"

#include "earth/bin.h"

/* A bin of 20 degrees, 10 S to 10 N, 0 to 20 E, with one line from its west
 * side to its north side, land in the north-west corner; and what can be wrong.
 */

static int32_t pack(unsigned count, unsigned level, unsigned entry,
                    unsigned exit) {
    return (int32_t)(count << 9 | level << 6 | entry << 3 | exit);
}

enum { NORTH_WEST_IS_LAND = 1 };

struct made {
    struct arena arena;
    struct shore shore;
    int32_t packed[2];
    uint32_t first[2];
    uint16_t x[6], y[6];
    struct bin bin;
};

static void make(struct made *made) {
    static const struct coast_box box = {-1.0, 1.0, 9.0, 11.0};
    *made = (struct made){.packed = {pack(3, 1, SHORE_WEST, SHORE_NORTH)},
                          .first = {0, 3},
                          .x = {0, 30000, 32768},
                          .y = {32768, 36000, 65535}};
    made->bin = (struct bin){.corners = NORTH_WEST_IS_LAND,
                             .segment_count = 1,
                             .point_count = 3,
                             .packed = made->packed,
                             .first = made->first,
                             .x = made->x,
                             .y = made->y};
    arena_init(&made->arena);
    shore_begin(&made->shore, &box, 20.0, &made->arena);
    assert_int_equal(made->shore.tile_rows * made->shore.tile_columns, 1);
}

static const char *fill(struct made *made) {
    const char *wrong = bin_fill(&made->bin, &made->shore, 0, &made->arena);
    arena_free(&made->arena);
    return wrong;
}

static void a_good_bin_fills_its_tile(void **state) {
    (void)state;
    struct made made;
    make(&made);
    assert_null(bin_fill(&made.bin, &made.shore, 0, &made.arena));
    assert_int_equal(made.shore.tiles[0].corner, COAST_SEA);
    assert_int_equal(made.shore.tiles[0].line_count, 1);
    const struct shore_line *line = &made.shore.tiles[0].lines[0];
    assert_int_equal(line->count, 3);
    assert_int_equal(line->level, COAST_LAND);
    assert_int_equal(line->entry, SHORE_WEST);
    assert_int_equal(line->exit, SHORE_NORTH);
    struct position last = mercator_position(line->points[2]);
    assert_near(last.lat_deg, 10.0, 1e-9);
    assert_near(last.lon_deg, 20.0 * 32768.0 / 65535.0, 1e-9);
    arena_free(&made.arena);
}

static void an_empty_bin_is_good(void **state) {
    (void)state;
    struct made made;
    make(&made);
    made.bin.segment_count = made.bin.point_count = 0;
    made.bin.corners = 0;
    assert_null(fill(&made));
    make(&made);
    made.bin.segment_count = made.bin.point_count = 0;
    made.bin.corners = 1 << 9 | 1 << 6 | 1 << 3 | 1; /* all land */
    assert_null(fill(&made));
}

static void a_corner_has_no_fifth_level(void **state) {
    (void)state;
    struct made made;
    make(&made);
    made.bin.segment_count = made.bin.point_count = 0;
    made.bin.corners = 5 << 9 | 5 << 6 | 5 << 3 | 5;
    assert_string_equal(fill(&made), "levels that do not fit");
}

static void the_line_under_the_ice_is_left_out(void **state) {
    (void)state;
    struct made made;
    make(&made);
    made.packed[1] = pack(3, 6, SHORE_WEST, SHORE_EAST);
    made.x[5] = 65535;
    made.bin.segment_count = 2;
    made.bin.point_count = 6;
    assert_null(bin_fill(&made.bin, &made.shore, 0, &made.arena));
    assert_int_equal(made.shore.tiles[0].line_count, 1);
    arena_free(&made.arena);
}

static void what_does_not_fit_is_told(void **state) {
    (void)state;
    static const struct {
        int32_t corners, packed;
        uint32_t first;
        uint16_t x0;
        const char *wrong;
    } cases[] = {
        {1, 3 << 9 | 1 << 6 | 3 << 3 | 2, 0, 0, NULL},
        {1, 0 << 9 | 1 << 6 | 3 << 3 | 2, 0, 0, "a segment"},   /* no point */
        {1, 4 << 9 | 1 << 6 | 3 << 3 | 2, 0, 0, "a segment"},   /* too many */
        {1, 3 << 9 | 1 << 6 | 3 << 3 | 2, 1, 0, "a segment"},   /* too late */
        {1, 3 << 9 | 1 << 6 | 3 << 3 | 2, ~0U, 0, "a segment"}, /* far too */
        {1, -1, 0, 0, "a segment"},
        {1, 3 << 9 | 0 << 6 | 3 << 3 | 2, 0, 0, "a segment"}, /* level 0 */
        {1, 3 << 9 | 5 << 6 | 3 << 3 | 2, 0, 0, "a segment"}, /* level 5 */
        {1, 3 << 9 | 1 << 6 | 4 << 3 | 2, 0, 0, "a segment"}, /* half closed */
        {1, 3 << 9 | 1 << 6 | 5 << 3 | 5, 0, 0, "a segment"}, /* no side */
        {1, 3 << 9 | 1 << 6 | 4 << 3 | 4, 0, 0, "a loose end"},
        {1, 3 << 9 | 1 << 6 | 3 << 3 | 2, 0, 1, "a loose end"},
        {0, 3 << 9 | 1 << 6 | 3 << 3 | 2, 0, 0, "levels that do not fit"},
        {1, 3 << 9 | 2 << 6 | 3 << 3 | 2, 0, 0, "levels that do not fit"},
        {1 << 9, 3 << 9 | 1 << 6 | 3 << 3 | 2, 0, 0, "levels that do not fit"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct made made;
        make(&made);
        made.bin.corners = cases[i].corners;
        made.packed[0] = cases[i].packed;
        made.first[0] = cases[i].first;
        made.x[0] = cases[i].x0;
        const char *wrong = fill(&made);
        if (!cases[i].wrong)
            assert_null(wrong);
        else if (!wrong)
            fail_msg("case %zu: '%s' not seen", i, cases[i].wrong);
        else
            assert_string_equal(wrong, cases[i].wrong);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_good_bin_fills_its_tile),
        cmocka_unit_test(an_empty_bin_is_good),
        cmocka_unit_test(a_corner_has_no_fifth_level),
        cmocka_unit_test(the_line_under_the_ice_is_left_out),
        cmocka_unit_test(what_does_not_fit_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
