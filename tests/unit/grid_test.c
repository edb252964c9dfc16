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

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(grids_that_cannot_be_say_why),
        cmocka_unit_test(a_region_is_not_wrapped),
        cmocka_unit_test(the_cell_lies_round_the_place),
        cmocka_unit_test(a_wrong_increment_is_overruled_by_the_corners),
        cmocka_unit_test(rounding_to_a_thousandth_is_the_same_grid),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
