#include "../support/check.h"

#include "../support/shore_maker.h"

#include <math.h>

/* All in one tile, 10 to 20 degrees north and east, in units that are exact in
 * binary: 1/32 of a radian of chart. */
static const struct coast_box box = {11.0, 19.0, 11.0, 19.0};

#define UNIT (1.0 / 32.0)

static struct mercator at(double x, double y) {
    return (struct mercator){0.25 + x * UNIT, 0.25 + y * UNIT};
}

struct made {
    struct arena arena;
    struct shore shore;
};

static void make(struct made *made, const struct made_line *lines,
                 size_t count) {
    arena_init(&made->arena);
    shore_make(&made->shore, &box, lines, count, &made->arena);
}

/* A well-known trap of counting crossings: the way to the point runs through
 * a corner, or along an edge. */
static void a_corner_in_the_way_counts_once(void **state) {
    (void)state;
    const struct mercator diamond[] = {at(1, 0), at(0, 1), at(-1, 0), at(0, -1),
                                       at(1, 0)};
    static const struct {
        double x, y;
        enum coast_level level;
    } cases[] = {
        {0, 0, COAST_LAND},     {-2, 0, COAST_SEA},      {2, 0, COAST_SEA},
        {0, 2, COAST_SEA},      {0, -2, COAST_SEA},      {0.5, 0, COAST_LAND},
        {0, 1, COAST_LAND}, /* corners are land, and edges */
        {1, 0, COAST_LAND},     {-1, 0, COAST_LAND},     {0, -1, COAST_LAND},
        {0.5, 0.5, COAST_LAND}, {-0.5, 0.5, COAST_LAND}, {0.75, 0.5, COAST_SEA},
        {1, 1, COAST_SEA},      {-1, -1, COAST_SEA},
    };
    struct made made;
    make(&made, &(struct made_line){COAST_LAND, diamond, 5}, 1);
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++)
        assert_int_equal(shore_level(&made.shore, at(cases[i].x, cases[i].y)),
                         cases[i].level);
    arena_free(&made.arena);
}

static void a_place_level_with_an_edge_is_outside(void **state) {
    (void)state;
    const struct mercator square[] = {at(0, 0), at(1, 0), at(1, 1), at(0, 1),
                                      at(0, 0)};
    struct made made;
    make(&made, &(struct made_line){COAST_LAND, square, 5}, 1);
    assert_int_equal(shore_level(&made.shore, at(-1, 1)), COAST_SEA);
    assert_int_equal(shore_level(&made.shore, at(2, 1)), COAST_SEA);
    assert_int_equal(shore_level(&made.shore, at(-1, 0)), COAST_SEA);
    assert_int_equal(shore_level(&made.shore, at(1, 2)), COAST_SEA);
    assert_int_equal(shore_level(&made.shore, at(1, -1)), COAST_SEA);
    assert_int_equal(shore_level(&made.shore, at(0, 2)), COAST_SEA);
    assert_int_equal(shore_level(&made.shore, at(0.5, 0.5)), COAST_LAND);
    assert_int_equal(shore_level(&made.shore, at(0.5, 1)), COAST_LAND);
    assert_int_equal(shore_level(&made.shore, at(1, 0.5)), COAST_LAND);
    arena_free(&made.arena);
}

static void lakes_and_what_is_in_them_have_their_levels(void **state) {
    (void)state;
    struct mercator rings[4][5];
    struct made_line lines[4];
    for (int i = 0; i < 4; i++) {
        double r = 2.0 - 0.5 * i;
        const struct mercator ring[] = {at(-r, -r), at(r, -r), at(r, r),
                                        at(-r, r), at(-r, -r)};
        for (int k = 0; k < 5; k++)
            rings[i][k] = ring[k];
        lines[i] = (struct made_line){(enum coast_level)(i + 1), rings[i], 5};
    }
    struct made made;
    make(&made, lines, 4);
    static const struct {
        double x;
        enum coast_level level;
    } cases[] = {{2.25, COAST_SEA},         {2.0, COAST_LAND},
                 {1.75, COAST_LAND},        {1.5, COAST_LAND},
                 {1.25, COAST_LAKE},        {1.0, COAST_LAKE_ISLAND},
                 {0.75, COAST_LAKE_ISLAND}, {0.5, COAST_LAKE_ISLAND},
                 {0.25, COAST_POND}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        assert_int_equal(shore_level(&made.shore, at(cases[i].x, 0.0)),
                         cases[i].level);
        assert_int_equal(shore_level(&made.shore, at(0.0, -cases[i].x)),
                         cases[i].level);
    }
    arena_free(&made.arena);
}

/* Land that fills the south of two tiles and the corner between four. */
static void levels_agree_across_the_sides_of_tiles(void **state) {
    (void)state;
    struct arena arena;
    struct shore shore;
    arena_init(&arena);
    shore_begin(&shore, &(struct coast_box){5.0, 15.0, 5.0, 15.0}, 10.0,
                &arena);
    size_t wide = shore.tile_columns;
    assert_near(shore.south_deg, 0.0, 0.0);
    assert_near(shore.west_deg, 0.0, 0.0);
    /* an island about 10 N 10 E, a quarter of it in each of the four tiles */
    static const double quarters[4][3][2] = {
        {{1.0, 0.7}, {0.8, 0.8}, {0.7, 1}},
        {{0.3, 1.0}, {0.2, 0.8}, {0, 0.7}},
        {{0.7, 0.0}, {0.8, 0.2}, {1, 0.3}},
        {{0.0, 0.3}, {0.2, 0.2}, {0.3, 0}}};
    static const enum shore_side sides[4][2] = {{SHORE_EAST, SHORE_NORTH},
                                                {SHORE_NORTH, SHORE_WEST},
                                                {SHORE_SOUTH, SHORE_EAST},
                                                {SHORE_WEST, SHORE_SOUTH}};
    struct mercator points[4][3];
    struct shore_line lines[4];
    for (size_t i = 0; i < 4; i++) {
        size_t tile = i / 2 * wide + i % 2;
        for (int k = 0; k < 3; k++)
            points[i][k] =
                shore_place(&shore, tile, quarters[i][k][0], quarters[i][k][1]);
        lines[i] = (struct shore_line){.points = points[i],
                                       .count = 3,
                                       .level = COAST_LAND,
                                       .entry = sides[i][0],
                                       .exit = sides[i][1]};
        shore.tiles[tile].lines = &lines[i];
        shore.tiles[tile].line_count = 1;
        shore.tiles[tile].corner = i == 3 ? COAST_LAND : COAST_SEA;
    }
    shore_finish(&shore, &arena);
    for (double lat = 5.25; lat < 15.0; lat += 0.5) {
        for (double lon = 5.25; lon < 15.0; lon += 0.5) {
            double away = hypot(lat - 10.0, lon - 10.0);
            if (fabs(away - 2.9) < 0.3)
                continue;
            assert_int_equal(
                shore_level(&shore,
                            shore_chart(&shore, (struct position){lat, lon})),
                away < 2.9 ? COAST_LAND : COAST_SEA);
        }
    }
    static const struct position inside[] = {
        {10, 10}, {10, 8}, {8, 10}, {12, 10}, {10, 12}};
    for (size_t i = 0; i < sizeof inside / sizeof inside[0]; i++)
        assert_int_equal(shore_level(&shore, shore_chart(&shore, inside[i])),
                         COAST_LAND);
    arena_free(&arena);
}

static void a_box_covers_its_sides_and_nothing_else(void **state) {
    (void)state;
    static const struct {
        struct coast_box box;
        struct position place;
        bool is_covered;
    } cases[] = {
        {{10, 20, 30, 40}, {10, 30}, true},
        {{10, 20, 30, 40}, {20, 40}, true},
        {{10, 20, 30, 40}, {15, 40.001}, false},
        {{10, 20, 30, 40}, {15, 29.999}, false},
        {{10, 20, 30, 40}, {9.999, 35}, false},
        {{10, 20, 170, 190}, {15, -175}, true},
        {{10, 20, 170, 190}, {15, 175}, true},
        {{10, 20, 170, 190}, {15, -180}, true},
        {{10, 20, 170, 190}, {15, -169.9}, false},
        {{10, 20, 170, 190}, {15, 0}, false},
        {{-90, 90, -180, 180}, {90, 179.9}, true},
        {{-90, 90, -180, 180}, {-90, -180}, true},
        {{0, 10, -100, 100}, {5, 170}, true}, /* wider than half way round */
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct arena arena;
        struct shore shore;
        arena_init(&arena);
        shore_make(&shore, &cases[i].box, NULL, 0, &arena);
        assert_int_equal(shore_covers(&shore, cases[i].place),
                         cases[i].is_covered);
        arena_free(&arena);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_corner_in_the_way_counts_once),
        cmocka_unit_test(a_place_level_with_an_edge_is_outside),
        cmocka_unit_test(lakes_and_what_is_in_them_have_their_levels),
        cmocka_unit_test(levels_agree_across_the_sides_of_tiles),
        cmocka_unit_test(a_box_covers_its_sides_and_nothing_else),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
