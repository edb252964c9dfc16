#include "../support/check.h"

#include "../support/load.h"
#include "forecast/tile.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A field that is not linear, so that every point counts. */
static double value_of(int column, int row, int step) {
    return 5.0 * sin(0.9 * column) + 4.0 * cos(1.7 * row) + 0.5 * step;
}

/* u of that value, v of its negative, over the whole globe every ten degrees:
 * 36 columns that wrap, 19 rows. A few points of u alone are masked. */
enum { COLUMNS = 36, ROWS = 19, STEPS = 3, HOLE = 9999 };

static bool is_masked(int column, int row) {
    return (column == 20 && row == 11) || (column == 0 && row == 3);
}

static struct loaded load_globe(bool masked) {
    struct grib_bytes bytes = {0};
    static double values[COLUMNS * ROWS];
    for (int step = 0; step < STEPS; step++) {
        for (int part = 0; part < 2; part++) {
            struct grib_spec spec = {.edition = 2,
                                     .category = 2,
                                     .number = 2 + part,
                                     .lead = 6 * step,
                                     .ni = COLUMNS,
                                     .nj = ROWS,
                                     .first_lat = 90,
                                     .last_lat = -90,
                                     .last_lon = 350,
                                     .values = values,
                                     .bits = 24,
                                     .masked = masked && part == 0,
                                     .hole = HOLE};
            for (int row = 0; row < ROWS; row++) {
                for (int column = 0; column < COLUMNS; column++) {
                    double value = value_of(column, row, step);
                    if (spec.masked && is_masked(column, row))
                        value = HOLE;
                    else if (part == 1)
                        value = -value;
                    values[(ROWS - 1 - row) * COLUMNS + column] = value;
                }
            }
            grib_add(&bytes, &spec);
        }
    }
    return load_bytes(&bytes, NULL);
}

/* In the middle of every cell, over the seams of tiles and of the globe. */
static void every_cell_has_its_corners(void **state) {
    (void)state;
    struct loaded loaded = load_globe(false);
    for (int column = 0; column < COLUMNS; column++) {
        for (int row = 0; row + 1 < ROWS; row++) {
            int east = (column + 1) % COLUMNS;
            double mean =
                0.25 *
                (value_of(column, row, 1) + value_of(east, row, 1) +
                 value_of(column, row + 1, 1) + value_of(east, row + 1, 1));
            struct weather weather = weather_at(&loaded, -85.0 + 10.0 * row,
                                                5.0 + 10.0 * column, 6.0);
            assert_true(weather.wind_known);
            assert_near(weather.wind.east, mean, 1e-4);
            assert_near(weather.wind.north, -mean, 1e-4);
        }
    }
    loaded_free(&loaded);
}

/* v is there where u is masked: neither counts. */
static void half_a_vector_is_none(void **state) {
    (void)state;
    struct loaded loaded = load_globe(true);
    double mean =
        (value_of(21, 11, 0) + value_of(20, 12, 0) + value_of(21, 12, 0)) / 3.0;
    struct weather weather = weather_at(&loaded, 25.0, 205.0, 0.0);
    assert_true(weather.wind_known);
    assert_near(weather.wind.east, mean, 1e-4);
    assert_near(weather.wind.north, -mean, 1e-4);
    assert_int_equal(coverage_at(&loaded, 20.0, 200.0, 0.0),
                     COVERAGE_OUTSIDE_AREA);
    /* the first column, from its west */
    mean = (value_of(35, 3, 0) + value_of(35, 4, 0) + value_of(0, 4, 0)) / 3.0;
    weather = weather_at(&loaded, -55.0, -5.0, 0.0);
    assert_near(weather.wind.east, mean, 1e-4);
    loaded_free(&loaded);
}

/* Whoever comes first fills a tile; what is in it is the same. */
static void threads_find_the_same(void **state) {
    (void)state;
    enum { PLACES = 3000 };
    static struct weather alone[PLACES], together[PLACES];
    for (int threads = 1; threads <= 4; threads += 3) {
        struct loaded loaded = load_globe(true);
        struct weather *found = threads == 1 ? alone : together;
        double start_s = (double)forecast_run(loaded.forecast).unix_s;
#pragma omp parallel for num_threads(threads) schedule(dynamic, 1)
        for (int i = 0; i < PLACES; i++) {
            struct position place = {-89.0 + (i * 7 % 178),
                                     -180.0 + (i * 13 % 360)};
            memset(&found[i], 0, sizeof found[i]);
            forecast_at(loaded.forecast, place, start_s + 12.0 * i, &found[i]);
        }
        loaded_free(&loaded);
    }
    assert_memory_equal(alone, together, sizeof alone);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_cell_has_its_corners),
        cmocka_unit_test(half_a_vector_is_none),
        cmocka_unit_test(threads_find_the_same),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
