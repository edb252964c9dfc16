/* Large grids are cut to what is wanted of them: there the weather is the same,
 * beyond it there is none, and the area is still that of the file. */
#include "../support/check.h"

#include "../support/load.h"
#include "forecast/grid.h"
#include <math.h>
#include <stdlib.h>

enum { COLUMNS = 1440, ROWS = 721, POINTS = COLUMNS * ROWS };
static const double STEP_DEG = 0.25;

/* The sea off Portugal, over Greenwich. */
static const struct grid_bounds wanted = {30.1, 45.3, -19.9, 2.2};

static double *values_made(size_t count) {
    double *values = malloc(count * sizeof *values);
    assert_non_null(values);
    for (size_t i = 0; i < count; i++)
        values[i] = 8.0 + 6.0 * sin(0.01 * (double)i) + (double)(i % 7);
    return values;
}

static struct grib_spec globe(const double *values) {
    return (struct grib_spec){.ni = COLUMNS,
                              .nj = ROWS,
                              .first_lat = 90.0,
                              .first_lon = 0.0,
                              .last_lat = -90.0,
                              .last_lon = 360.0 - STEP_DEG,
                              .values = values,
                              .bits = 12};
}

static const char *save_wind(struct grib_spec spec, const char *name) {
    struct grib_bytes bytes = {0};
    spec.category = 2;
    for (int lead = 0; lead <= 6; lead += 6) {
        spec.lead = lead;
        for (spec.number = 2; spec.number <= 3; spec.number++)
            grib_add(&bytes, &spec);
    }
    return save_bytes(&bytes, name);
}

static void same_at(const struct loaded *whole, const struct loaded *part,
                    double lat_deg, double lon_deg) {
    for (double hours = 0.0; hours <= 6.0; hours += 2.5) {
        struct weather a = weather_at(whole, lat_deg, lon_deg, hours);
        struct weather b = weather_at(part, lat_deg, lon_deg, hours);
        assert_int_equal(a.wind_known, b.wind_known);
        assert_near(b.wind.east, a.wind.east, 1e-4);
        assert_near(b.wind.north, a.wind.north, 1e-4);
    }
}

static void same_area(const struct loaded *whole, const struct loaded *part) {
    struct area a = forecast_area(whole->forecast, QUANTITY_WIND);
    struct area b = forecast_area(part->forecast, QUANTITY_WIND);
    assert_near(b.south_deg, a.south_deg, 1e-9);
    assert_near(b.north_deg, a.north_deg, 1e-9);
    assert_near(b.east_deg - b.west_deg, 360.0, 1e-6);
    assert_near(a.east_deg - a.west_deg, 360.0, 1e-6);
    assert_near(b.lat_step_deg, a.lat_step_deg, 1e-12);
}

/* The corners, the middle and seeded places; then what is beyond. */
static void compare(const char *path) {
    struct forecast_options options = forecast_defaults();
    struct loaded whole = load_files(&path, 1, &options);
    options.wanted = &wanted;
    struct loaded part = load_files(&path, 1, &options);
    struct seed seed = {12};
    assert_true(whole.good && part.good);
    same_at(&whole, &part, wanted.south_deg, wanted.west_deg);
    same_at(&whole, &part, wanted.north_deg, wanted.east_deg);
    for (int i = 0; i < 200; i++)
        same_at(&whole, &part,
                seed_between(&seed, wanted.south_deg, wanted.north_deg),
                seed_between(&seed, wanted.west_deg, wanted.east_deg));
    assert_int_equal(coverage_at(&whole, 40.0, 10.0, 0.0), COVERAGE_INSIDE);
    assert_int_equal(coverage_at(&part, 40.0, 10.0, 0.0),
                     COVERAGE_OUTSIDE_AREA);
    assert_int_equal(coverage_at(&part, 46.0, 0.0, 0.0), COVERAGE_OUTSIDE_AREA);
    assert_int_equal(coverage_at(&part, 29.0, 0.0, 0.0), COVERAGE_OUTSIDE_AREA);
    same_area(&whole, &part);
    loaded_free(&whole);
    loaded_free(&part);
}

static void a_globe_in_any_packing_is_cut(void **state) {
    (void)state;
    static const char *const packings[] = {"grid_simple", "grid_ieee"};
    double *values = values_made(POINTS);
    for (size_t i = 0; i < sizeof packings / sizeof *packings; i++) {
        struct grib_spec spec = globe(values);
        spec.packing = packings[i];
        compare(save_wind(spec, "globe.grib2"));
    }
    free(values);
}

/* With a bitmap, from the other end, and with an absurd value far away. */
static void masks_orders_and_wild_values_change_nothing(void **state) {
    (void)state;
    double *values = values_made(POINTS);
    struct grib_spec spec = globe(values);
    for (size_t i = 0; i < POINTS; i += 3)
        values[i] = -77.0;
    spec.masked = true;
    spec.hole = -77.0;
    compare(save_wind(spec, "masked.grib2"));
    spec.masked = false;
    spec.bits = 16;
    values[POINTS - 1] = 300.0;
    spec.early[0] = (struct grib_setting){"jScansPositively", 1};
    spec.first_lat = -90.0;
    spec.last_lat = 90.0;
    compare(save_wind(spec, "turned.grib2"));
    free(values);
}

static void rows_of_one_latitude_are_cut(void **state) {
    (void)state;
    enum { NI = 1600, NJ = 800 };
    static const struct grib_key grid[] = {
        {"N", NJ / 2},
        {"Ni", NI},
        {"Nj", NJ},
        {"latitudeOfFirstGridPointInDegrees", 89.828},
        {"latitudeOfLastGridPointInDegrees", -89.828},
        {"longitudeOfFirstGridPointInDegrees", 0.0},
        {"longitudeOfLastGridPointInDegrees", 360.0 - 360.0 / NI},
        {"iDirectionIncrementInDegrees", 360.0 / NI},
        {NULL, 0.0}};
    double *values = values_made((size_t)NI * NJ);
    struct grib_spec spec = {.sample = "regular_gg_pl_grib2",
                             .grid = grid,
                             .points = (size_t)NI * NJ,
                             .values = values};
    compare(save_wind(spec, "gaussian.grib2"));
    free(values);
}

/* It may be meant for the other side of the line: the weather there is still
 * known. */
static void a_globe_whose_rows_are_not_all_there_stays_whole(void **state) {
    (void)state;
    static const struct grid_bounds south = {-58.0, -32.0, -37.0, -4.0};
    double *values = values_made(POINTS);
    struct grib_spec spec = globe(values);
    spec.first_lat = 80.0;
    spec.last_lat = 0.0;
    const char *path = save_wind(spec, "north.grib2");
    struct forecast_options options = forecast_defaults();
    options.wanted = &south;
    struct loaded loaded = load_files(&path, 1, &options);
    assert_true(loaded.good);
    assert_int_equal(coverage_at(&loaded, 45.0, -20.0, 0.0), COVERAGE_INSIDE);
    assert_int_equal(coverage_at(&loaded, 44.0, 150.0, 0.0), COVERAGE_INSIDE);
    loaded_free(&loaded);
    free(values);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_globe_in_any_packing_is_cut),
        cmocka_unit_test(masks_orders_and_wild_values_change_nothing),
        cmocka_unit_test(rows_of_one_latitude_are_cut),
        cmocka_unit_test(a_globe_whose_rows_are_not_all_there_stays_whole),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
