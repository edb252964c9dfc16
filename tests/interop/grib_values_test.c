#include "../support/check.h"

#include "../support/load.h"
#include "forecast/decode.h"
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Our values against those that the GRIB library's own tool prints
 * (grib_get_data), at seeded points. */

enum { POINTS_A_FIELD = 60, FIELDS_A_FILE = 3 };

struct listing {
    char *text;
    char **lines; /* "lat lon value" */
    size_t count;
};

/* What the tool prints for field `number`, from 1; points without a value are
 * left out. */
static struct listing list_field(const char *path, size_t number) {
    char line[4200];
    struct listing listing = {0};
    snprintf(line, sizeof line,
             "grib_get_data -L '%%.7f %%.7f ' -F '%%.9e' -w count=%zu '%s'",
             number, path);
    struct ran ran = check_shell(line);
    listing.text = ran.out;
    for (char *at = strchr(ran.out, '\n'); at && at[1];
         at = strchr(at + 1, '\n'))
        listing.count++;
    listing.lines = calloc(listing.count + 1, sizeof *listing.lines);
    size_t i = 0;
    for (char *at = strchr(ran.out, '\n'); at && at[1] && i < listing.count;
         at = strchr(at + 1, '\n'))
        listing.lines[i++] = at + 1;
    return listing;
}

/* Our value at a point of the grid; false where it is not known. */
static bool value_at(const struct grib_field *field, struct position position,
                     double *value) {
    struct grid_cell cell;
    int nearest = 0;
    assert_true(grid_find(&field->grid, position, &cell));
    for (int i = 1; i < 4; i++) {
        if (cell.weight[i] > cell.weight[nearest])
            nearest = i;
    }
    assert_true(cell.weight[nearest] > 0.99);
    size_t point = grid_corner(&field->grid, &cell, nearest);
    return field_value(field, point, value);
}

static void compare_field(const struct grib_field *field, const char *path,
                          size_t number, struct seed *seed) {
    struct listing listing = list_field(path, number);
    size_t points = grid_points(&field->grid), there = points;
    for (size_t i = 0; i < points; i++) {
        double value;
        there -= !field_value(field, i, &value);
    }
    /* a column that repeats the first is printed twice */
    assert_true(listing.count >= there);
    for (int i = 0; i < POINTS_A_FIELD && listing.count > 0; i++) {
        size_t pick = (size_t)seed_between(seed, 0.0, (double)listing.count);
        double lat, lon, theirs, ours;
        assert_int_equal(
            sscanf(listing.lines[pick], "%lf %lf %lf", &lat, &lon, &theirs), 3);
        struct position position = {lat, angle_wrap_longitude(lon)};
        if (!value_at(field, position, &ours)) {
            assert_true(field->wild > 0);
            continue;
        }
        assert_near(ours, theirs, 1e-6 * fabs(theirs) + 1e-6);
    }
    free(listing.lines);
}

/* Some of the used fields of a file, picked by the seed. */
static void compare_file(const char *path, struct seed *seed) {
    struct forecast_options options = forecast_defaults();
    struct arena arena;
    struct source source;
    struct error error;
    struct batch batch;
    size_t used = 0;
    arena_init(&arena);
    assert_true(source_open(&source, path, &arena, &error));
    assert_true(batch_decode(&batch, &source, 1, &options, &arena, &error));
    assert_int_equal(batch.loss_count, 0);
    for (size_t i = 0; i < batch.count; i++)
        used += batch.fields[i].field.fate == FATE_USED;
    assert_true(used > 0);
    int fields = check_is_long() ? 10 * FIELDS_A_FILE : FIELDS_A_FILE;
    for (int k = 0; k < fields; k++) {
        size_t i = (size_t)seed_between(seed, 0.0, (double)batch.count);
        while (batch.fields[i].field.fate != FATE_USED)
            i = (i + 1) % batch.count;
        compare_field(&batch.fields[i].field, path, i + 1, seed);
    }
    batch_free(&batch);
    source_close(&source);
    arena_free(&arena);
}

static void samples_have_the_values_that_the_tool_prints(void **state) {
    (void)state;
    struct seed seed = {2026};
    compare_file("grib-samples/trade-crossing.grib2", &seed);
    compare_file("grib-samples/coastal-hop.grib2", &seed);
    compare_file("grib-samples/dateline-hop.grib2", &seed);
}

static void real_files_have_the_values_that_the_tool_prints(void **state) {
    (void)state;
    static const char *const names[] = {
        "1-wind-series/madagascar-wind-7days.grb",
        "2-waves/madagascar-wave-7days.grb",
        "2-waves/gdaswave-wcoast-f000.grib2",
        "2-waves/gfswave-global-swell-complex.grib2",
        "2-waves/mfwam-swell-ccsds.grib2",
        "2-waves/ecmwf-aifs-wave-ccsds.grib2",
        "3-gust-mslp/storm-joachim-gust-5ranges.grib",
        "4-ensemble/tigge-ecmwf-cf.grib2",
        "5-currents/marine-mix-wind-msl-wave-current.grb",
        "6-zoo/packing/lfpw-second-order-global-10uv.grib1",
        "6-zoo/packing/gfs-10uv-complex-spdiff.grib2",
        "6-zoo/multifield/gfs-2p5deg-f072-344fields.grib2",
        "6-zoo/longitudes/lon-prmsl-across-antimeridian.grib2",
        "6-zoo/longitudes/lon-shifted-27W-45E.grib1",
    };
    struct seed seed = {2016};
    size_t there = 0;
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        const char *path = check_real_file(names[i]);
        if (!path)
            continue;
        there++;
        char *copy = strdup(path);
        compare_file(copy, &seed);
        free(copy);
    }
    if (there == 0)
        skip();
}

/* Through the whole of the load: the wind at grid points of the crossing. */
static void a_loaded_wind_is_what_the_tool_prints(void **state) {
    (void)state;
    const char *path = "grib-samples/trade-crossing.grib2";
    struct loaded loaded = load_files(&path, 1, NULL);
    struct listing east = list_field(path, 1), north = list_field(path, 2);
    struct seed seed = {10};
    assert_true(loaded.good);
    double start_s =
        (double)forecast_summary(loaded.forecast, QUANTITY_WIND).first.unix_s;
    assert_int_equal(east.count, north.count);
    for (int i = 0; i < 100; i++) {
        size_t pick = (size_t)seed_between(&seed, 0.0, (double)east.count);
        double lat, lon, u, v;
        struct weather weather;
        assert_int_equal(
            sscanf(east.lines[pick], "%lf %lf %lf", &lat, &lon, &u), 3);
        assert_int_equal(sscanf(north.lines[pick], "%*f %*f %lf", &v), 1);
        struct position position = {lat, angle_wrap_longitude(lon)};
        assert_int_equal(
            forecast_at(loaded.forecast, position, start_s, &weather),
            COVERAGE_INSIDE);
        assert_near(weather.wind.east, u, 1e-5);
        assert_near(weather.wind.north, v, 1e-5);
    }
    free(east.lines);
    free(north.lines);
    loaded_free(&loaded);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(samples_have_the_values_that_the_tool_prints),
        cmocka_unit_test(real_files_have_the_values_that_the_tool_prints),
        cmocka_unit_test(a_loaded_wind_is_what_the_tool_prints),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
