#include "../support/check.h"

#include "forecast/grid.h"
#include <math.h>

static struct grid_corners corners_of(double west, double east, long ni) {
    return (struct grid_corners){.ni = ni,
                                 .nj = 3,
                                 .first_lat_deg = 50.0,
                                 .first_lon_deg = west,
                                 .last_lat_deg = 48.0,
                                 .last_lon_deg = east};
}

static void grids_that_cannot_be_say_why(void **state) {
    (void)state;
    struct grid_corners good = corners_of(0.0, 4.0, 5);
    struct grid grid;
    assert_null(grid_make(&good, &grid));
    struct grid_corners bad = good;
    bad.ni = 1;
    assert_contains(grid_make(&bad, &grid), "fewer than 2 x 2");
    bad = good;
    bad.nj = -1;
    assert_contains(grid_make(&bad, &grid), "fewer than 2 x 2");
    bad = good;
    bad.ni = 20000;
    bad.nj = 20000;
    assert_contains(grid_make(&bad, &grid), "limit");
    bad.ni = 5000; /* 20 million, and a row more */
    bad.nj = GRID_POINTS_LIMIT / 5000;
    assert_null(grid_make(&bad, &grid));
    bad.nj++;
    assert_contains(grid_make(&bad, &grid), "the limit of 20 million");
    bad = good;
    bad.ni = 2147483647;
    bad.nj = 2147483647;
    assert_contains(grid_make(&bad, &grid), "limit");
    bad = good;
    bad.first_lat_deg = 91.0;
    assert_contains(grid_make(&bad, &grid), "not on the earth");
    bad = good;
    bad.first_lon_deg = nan("");
    assert_contains(grid_make(&bad, &grid), "not on the earth");
    bad = good;
    bad.last_lat_deg = 50.0;
    assert_contains(grid_make(&bad, &grid), "no height");
    bad = good;
    bad.north_going = true;
    assert_contains(grid_make(&bad, &grid), "disagree");
}

static void a_region_is_not_wrapped(void **state) {
    (void)state;
    struct grid_corners corners = corners_of(10.0, 30.0, 21);
    struct grid grid;
    struct grid_cell cell;
    assert_null(grid_make(&corners, &grid));
    assert_false(grid.wraps);
    assert_false(grid_find(&grid, (struct position){49.0, 9.5}, &cell));
    assert_false(grid_find(&grid, (struct position){49.0, 30.5}, &cell));
    assert_false(grid_find(&grid, (struct position){49.0, -170.0}, &cell));
    assert_true(grid_find(&grid, (struct position){49.0, 10.0}, &cell));
    assert_true(grid_find(&grid, (struct position){50.0, 30.0}, &cell));
    assert_true(grid_find(&grid, (struct position){48.0, 30.0}, &cell));
    assert_false(grid_find(&grid, (struct position){47.9, 20.0}, &cell));
    assert_false(grid_find(&grid, (struct position){nan(""), 20.0}, &cell));
}

/* For any place the corners lie round it, and their mean is the place. */
static void the_cell_lies_round_the_place(void **state) {
    (void)state;
    static const struct {
        double west, east;
        long ni;
    } cases[] = {{0.0, 4.0, 5},     {178.0, 182.0, 9}, {-180.0, 179.0, 360},
                 {0.0, 359.0, 360}, {-3.0, 3.0, 13},   {359.0, 1.0, 5}};
    struct seed seed = {13};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct grid_corners corners =
            corners_of(cases[i].west, cases[i].east, cases[i].ni);
        struct grid grid;
        assert_null(grid_make(&corners, &grid));
        double span = grid.lon_step_deg * (grid.wraps ? grid.ni : grid.ni - 1);
        for (int k = 0; k < 300; k++) {
            double east = seed_between(&seed, 0.0, span);
            double lon = remainder(grid.west_deg + east, 360.0);
            struct position place = {seed_between(&seed, 48.0, 50.0),
                                     lon >= 180.0 ? lon - 360.0 : lon};
            struct grid_cell cell;
            double lat_sum = 0.0, turn_sum = 0.0, weights = 0.0;
            assert_true(grid_find(&grid, place, &cell));
            for (int corner = 0; corner < 4; corner++) {
                struct position at =
                    grid_position(&grid, grid_corner(&grid, &cell, corner));
                double turn = remainder(at.lon_deg - place.lon_deg, 360.0);
                assert_true(fabs(turn) <= grid.lon_step_deg + 1e-9);
                lat_sum += cell.weight[corner] * at.lat_deg;
                turn_sum += cell.weight[corner] * turn;
                weights += cell.weight[corner];
            }
            assert_near(weights, 1.0, 1e-12);
            assert_near(lat_sum, place.lat_deg, 1e-9);
            assert_near(turn_sum, 0.0, 1e-9);
        }
    }
}

static void a_wrong_increment_is_overruled_by_the_corners(void **state) {
    (void)state;
    struct grid_corners corners = corners_of(0.0, 355.0, 72);
    struct grid grid;
    corners.lon_step_deg = 3.0;
    assert_null(grid_make(&corners, &grid));
    assert_near(grid.lon_step_deg, 5.0, 1e-12);
    assert_true(grid.wraps);
}

static void rounding_to_a_thousandth_is_the_same_grid(void **state) {
    (void)state;
    struct grid_corners exact = corners_of(0.0, 4.0 / 3.0, 5);
    struct grid_corners rounded = corners_of(0.0, 1.333, 5);
    struct grid_corners shifted = corners_of(0.1, 4.0 / 3.0 + 0.1, 5);
    struct grid a, b, c;
    assert_null(grid_make(&exact, &a));
    assert_null(grid_make(&rounded, &b));
    assert_null(grid_make(&shifted, &c));
    assert_true(grid_same(&a, &b));
    assert_false(grid_same(&a, &c));
}

/* So many columns and 1,000 rows, 0.1 degree apart, from 0 N 10 W on. */
static struct grid large(int columns) {
    return (struct grid){.ni = columns,
                         .nj = 1000,
                         .south_deg = 0.0,
                         .west_deg = -10.0,
                         .lat_step_deg = 0.1,
                         .lon_step_deg = 0.1};
}

static void a_grid_is_cut_above_the_limit_alone(void **state) {
    (void)state;
    static const struct grid_bounds wanted = {20.03, 30.0, -3.01, 4.02};
    struct grid grid = large(GRID_CUT_POINTS / 1000);
    struct grid_part part;
    assert_false(grid_cut(&grid, &wanted, &part));
    assert_int_equal(grid.ni, GRID_CUT_POINTS / 1000);
    grid = large(GRID_CUT_POINTS / 1000 + 1);
    assert_true(grid_cut(&grid, &wanted, &part));
    assert_int_equal(part.row, 200);
    assert_int_equal(part.column, 69);
    assert_int_equal(grid.nj, 101);
    assert_int_equal(grid.ni, 141 - 69 + 1);
    assert_near(grid.south_deg, 20.0, 1e-9);
    assert_near(grid.west_deg, -3.1, 1e-9);
    assert_int_equal(part.whole.ni, GRID_CUT_POINTS / 1000 + 1);
}

/* Beyond its columns, its rows, all of them, or most of it. */
static void a_grid_that_does_not_cover_what_is_wanted_stays(void **state) {
    (void)state;
    static const struct grid_bounds cases[] = {{20.0, 30.0, -10.5, 4.0},
                                               {20.0, 30.0, 80.0, 100.5},
                                               {-0.5, 30.0, -3.0, 4.0},
                                               {-30.0, -20.0, -3.0, 4.0},
                                               {10.0, 70.0, -9.0, 95.0}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct grid grid = large(1100), before = grid;
        struct grid_part part;
        assert_false(grid_cut(&grid, &cases[i], &part));
        assert_memory_equal(&grid, &before, sizeof grid);
        assert_int_equal(part.row + part.column, 0);
    }
}

/* Rows end where the grid does; columns go on over its seam. */
static void a_cut_goes_over_the_seam_of_a_globe(void **state) {
    (void)state;
    static const struct grid_bounds wanted = {-95.0, -80.0, 350.0, 370.0};
    struct grid grid = {.ni = 3600,
                        .nj = 1801,
                        .south_deg = -90.0,
                        .west_deg = 0.0,
                        .lat_step_deg = 0.1,
                        .lon_step_deg = 0.1,
                        .wraps = true};
    struct grid_part part;
    assert_true(grid_cut(&grid, &wanted, &part));
    assert_near(grid.south_deg, -90.0, 1e-9);
    assert_near(grid.west_deg, -10.0, 0.11);
    assert_true(grid.ni >= 201 && grid.ni <= 203 && !grid.wraps);
    assert_true(grid.nj >= 101 && grid.nj <= 102);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(grids_that_cannot_be_say_why),
        cmocka_unit_test(a_region_is_not_wrapped),
        cmocka_unit_test(the_cell_lies_round_the_place),
        cmocka_unit_test(a_wrong_increment_is_overruled_by_the_corners),
        cmocka_unit_test(rounding_to_a_thousandth_is_the_same_grid),
        cmocka_unit_test(a_grid_is_cut_above_the_limit_alone),
        cmocka_unit_test(a_grid_that_does_not_cover_what_is_wanted_stays),
        cmocka_unit_test(a_cut_goes_over_the_seam_of_a_globe),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
