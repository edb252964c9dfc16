#include "../support/check.h"

#include "earth/angle.h"
#include "earth/shore_raster.h"

#include <math.h>

static const struct raster_frame frames[] = {{-2.0, 3.0, -10.0, 10.0},
                                             {40.0, 60.0, 170.0, 200.0},
                                             {-90.0, 90.0, -200.0, 200.0},
                                             {80.0, 90.0, 0.0, 60.0}};

enum { FRAMES = sizeof frames / sizeof frames[0] };

static void
cells_are_a_tenth_of_a_degree_and_no_more_than_a_million(void **state) {
    (void)state;
    struct arena arena;
    struct shore_raster raster;
    arena_init(&arena);
    raster_begin(&raster, &frames[0], &arena);
    assert_near(raster.cells_per_deg, 10.0, 1e-9);
    assert_int_equal(raster.rows, 50);
    assert_int_equal(raster.columns, 200);
    for (int i = 0; i < FRAMES; i++) {
        raster_begin(&raster, &frames[i], &arena);
        assert_true(raster.rows * raster.columns < 1003000);
        assert_true(raster.cells_per_deg <= 10.0);
        for (size_t row = 0; row < raster.rows; row++)
            assert_true(raster.y[row] < raster.y[row + 1]);
    }
    arena_free(&arena);
}

static void a_place_is_in_its_row_and_column_whatever_is_guessed(void **state) {
    (void)state;
    struct seed seed = {4};
    for (int i = 0; i < FRAMES; i++) {
        struct arena arena;
        struct shore_raster raster;
        arena_init(&arena);
        raster_begin(&raster, &frames[i], &arena);
        for (int k = 0; k < 1000; k++) {
            double lat_deg =
                seed_between(&seed, fmax(frames[i].south_deg, -RASTER_STOP_DEG),
                             fmin(frames[i].north_deg, RASTER_STOP_DEG));
            double lon_deg =
                seed_between(&seed, frames[i].west_deg, frames[i].east_deg);
            double y = mercator_of((struct position){lat_deg, 0.0}).y;
            size_t guess = (size_t)seed_between(&seed, 0.0, 5000.0);
            double row = (lat_deg - raster.south_deg) * raster.cells_per_deg;
            double column = (lon_deg - raster.west_deg) * raster.cells_per_deg;
            assert_int_equal(raster_row(&raster, y, guess), (size_t)row);
            assert_int_equal(
                raster_column(&raster, lon_deg * RADIANS_PER_DEGREE),
                (size_t)column);
        }
        assert_int_equal(raster_row(&raster, -99.0, 7), 0);
        assert_int_equal(raster_row(&raster, 99.0, 7), raster.rows - 1);
        assert_int_equal(raster_column(&raster, -99.0), 0);
        assert_int_equal(raster_column(&raster, 99.0), raster.columns - 1);
        arena_free(&arena);
    }
}

static void a_window_is_what_a_box_touches(void **state) {
    (void)state;
    struct arena arena;
    struct shore_raster raster;
    struct raster_window window;
    arena_init(&arena);
    raster_begin(&raster, &frames[0], &arena);
    double degree = RADIANS_PER_DEGREE;
    /* at the equator y is nearly the latitude: rows 18 to 23, from 2 S */
    struct chart_box box = {{-0.05 * degree, -0.15 * degree},
                            {0.25 * degree, 0.35 * degree}};
    assert_true(raster_window(&raster, &box, 0, &window));
    assert_int_equal(window.south, 18);
    assert_int_equal(window.north, 23);
    assert_int_equal(window.west, 99);
    assert_int_equal(window.east, 102);
    /* one that reaches over the frame is cut, one beyond it is none */
    box = (struct chart_box){{-1.0, -1.0}, {1.0, 1.0}};
    assert_true(raster_window(&raster, &box, 0, &window));
    assert_int_equal(window.north, raster.rows - 1);
    assert_int_equal(window.east, raster.columns - 1);
    box = (struct chart_box){{0.5, 0.0}, {1.0, 0.1}};
    assert_false(raster_window(&raster, &box, 0, &window));
    box = (struct chart_box){{-1.0, 0.0}, {-0.5, 0.1}};
    assert_false(raster_window(&raster, &box, 0, &window));
    box = (struct chart_box){{0.0, 0.5}, {0.1, 0.6}};
    assert_false(raster_window(&raster, &box, 0, &window));
    box = (struct chart_box){{0.0, -0.6}, {0.1, -0.5}};
    assert_false(raster_window(&raster, &box, 0, &window));
    arena_free(&arena);
}

static bool cell_has(const struct shore_raster *raster, size_t cell,
                     size_t run) {
    for (uint32_t i = raster->first[cell]; i < raster->first[cell + 1]; i++) {
        if (raster->touching[i] == run)
            return true;
    }
    return false;
}

/* A ragged line over the whole frame, with long edges and short ones. */
static void
every_place_of_a_line_is_in_a_cell_that_knows_its_run(void **state) {
    (void)state;
    enum { POINTS = 400 };
    struct seed seed = {8};
    for (int i = 0; i < 2; i++) {
        struct arena arena;
        struct shore_raster raster;
        struct mercator points[POINTS];
        size_t edges = 0;
        arena_init(&arena);
        raster_begin(&raster, &frames[i], &arena);
        for (int k = 0; k < POINTS; k++) {
            double part = (double)k / POINTS;
            double spread = k % 50 < 25 ? 0.002 : 0.5;
            part = fmin(fmax(part + seed_between(&seed, -spread, spread), 0.0),
                        0.999);
            double high_deg = frames[i].north_deg - frames[i].south_deg;
            double wide_deg = frames[i].east_deg - frames[i].west_deg;
            struct position up = {frames[i].south_deg + part * high_deg, 0.0};
            points[k] = mercator_of(up);
            points[k].x = (frames[i].west_deg + (double)k / POINTS * wide_deg) *
                          RADIANS_PER_DEGREE;
        }
        raster_add_line(&raster, points, POINTS, &arena);
        raster_finish(&raster, &arena);
        for (size_t run = 0; run < raster.run_count; run++) {
            const struct shore_run *at = &raster.runs[run];
            edges += at->edges;
            for (int k = 0; k < 500; k++) {
                size_t edge =
                    (size_t)seed_between(&seed, 0.0, (double)at->edges);
                struct mercator place =
                    chart_along(at->points[edge], at->points[edge + 1],
                                seed_between(&seed, 0.0, 1.0));
                size_t cell = raster_row(&raster, place.y, 0) * raster.columns +
                              raster_column(&raster, place.x);
                assert_true(cell_has(&raster, cell, run));
                assert_near((double)raster.clear_m[cell], 0.0, 0.0);
                struct chart_box dot = {place, place};
                assert_true(chart_boxes_touch(&at->box, &dot));
            }
        }
        assert_int_equal(edges, POINTS - 1);
        arena_free(&arena);
    }
}

static void a_long_edge_is_in_no_cell_beside_it(void **state) {
    (void)state;
    struct arena arena;
    struct shore_raster raster;
    arena_init(&arena);
    raster_begin(&raster, &frames[0], &arena);
    /* from corner to corner: 50 rows, 200 columns */
    struct mercator line[2] = {mercator_of((struct position){-1.99, -9.99}),
                               mercator_of((struct position){2.99, 9.99})};
    raster_add_line(&raster, line, 2, &arena);
    raster_finish(&raster, &arena);
    uint32_t touched = raster.first[raster.rows * raster.columns];
    assert_in_range(touched, 200, 200 + 50 + 10);
    arena_free(&arena);
}

static void no_line_leaves_all_clear(void **state) {
    (void)state;
    struct arena arena;
    struct shore_raster raster;
    arena_init(&arena);
    raster_begin(&raster, &frames[1], &arena);
    raster_finish(&raster, &arena);
    for (size_t i = 0; i < raster.rows * raster.columns; i++)
        assert_near((double)raster.clear_m[i], SHORE_REACH_M, 1.0);
    arena_free(&arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(
            cells_are_a_tenth_of_a_degree_and_no_more_than_a_million),
        cmocka_unit_test(a_place_is_in_its_row_and_column_whatever_is_guessed),
        cmocka_unit_test(a_window_is_what_a_box_touches),
        cmocka_unit_test(every_place_of_a_line_is_in_a_cell_that_knows_its_run),
        cmocka_unit_test(a_long_edge_is_in_no_cell_beside_it),
        cmocka_unit_test(no_line_leaves_all_clear),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
