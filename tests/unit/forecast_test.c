#include "../support/check.h"

#include "../support/load.h"
#include "base/units.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Messages are made for each case: two rows, two or more columns, run of
 * 2024-02-28 18:00 unless it says otherwise. */

static struct instant first_wind(const struct loaded *loaded) {
    assert_true(loaded->good);
    return forecast_summary(loaded->forecast, QUANTITY_WIND).first;
}

static void assert_starts(const struct grib_spec *spec, const char *expected) {
    struct grib_bytes bytes = {0};
    char text[INSTANT_TEXT_SIZE];
    grib_add_wind(&bytes, spec, 5.0, 0.0);
    struct loaded loaded = load_bytes(&bytes, NULL);
    instant_print(first_wind(&loaded), text);
    assert_string_equal(text, expected);
    loaded_free(&loaded);
}

static const struct grib_spec AT_10_M = {.edition = 2};

/* --- time ------------------------------------------------------------------*/

static void lead_times_are_read_in_the_unit_of_the_message(void **state) {
    (void)state;
    static const struct {
        struct grib_spec spec;
        const char *valid;
    } cases[] = {
        {{.edition = 2, .unit_is_minutes = true, .lead = 90},
         "2024-02-28T19:30:00Z"},
        {{.edition = 1, .unit_is_minutes = true, .lead = 90},
         "2024-02-28T19:30:00Z"},
        {{.edition = 2, .unit = 13, .lead = 5400}, "2024-02-28T19:30:00Z"},
        {{.edition = 2, .unit_is_minutes = true, .lead = 260},
         "2024-02-28T22:20:00Z"},
        {{.edition = 2, .unit = 10, .lead = 5}, "2024-02-29T09:00:00Z"},
        {{.edition = 1, .unit = 10, .lead = 5}, "2024-02-29T09:00:00Z"},
        {{.edition = 2, .unit = 2, .lead = 2}, "2024-03-01T18:00:00Z"},
        {{.edition = 1, .unit = 2, .lead = 2}, "2024-03-01T18:00:00Z"},
        {{.edition = 1, .unit = 13, .lead = 6}, "2024-02-28T19:30:00Z"},
        {{.edition = 1, .unit = 14, .lead = 3}, "2024-02-28T19:30:00Z"},
        {{.edition = 2, .unit = 11, .lead = 1}, "2024-02-29T00:00:00Z"},
        {{.edition = 2, .unit = 12, .lead = 1}, "2024-02-29T06:00:00Z"},
        /* a lead before the run: an analysis of what was */
        {{.edition = 2, .lead = -3}, "2024-02-28T15:00:00Z"},
        {{.edition = 2, .run = {2023, 2, 28, 18, 0, 0}, .lead = 6},
         "2023-03-01T00:00:00Z"},
        {{.edition = 1, .run = {2000, 12, 31, 18, 0, 0}, .lead = 240},
         "2001-01-10T18:00:00Z"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_starts(&cases[i].spec, cases[i].valid);
}

static void minutes_and_hours_make_one_axis(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    for (int minutes = 0; minutes <= 45; minutes += 15) {
        struct grib_spec spec = {
            .edition = 2, .unit_is_minutes = true, .lead = minutes};
        grib_add_wind(&bytes, &spec, minutes, 0.0);
    }
    struct grib_spec hour = {.edition = 2, .lead = 1};
    grib_add_wind(&bytes, &hour, 60.0, 0.0);
    struct loaded loaded = load_bytes(&bytes, NULL);
    struct field_summary summary =
        forecast_summary(loaded.forecast, QUANTITY_WIND);
    assert_int_equal(summary.steps, 5);
    assert_near(summary.longest_gap_s, 900.0, 0.0);
    assert_near(summary.shortest_gap_s, 900.0, 0.0);
    assert_near(weather_at(&loaded, 49.5, -9.5, 52.5 / 60.0).wind.east, 52.5,
                0.01);
    loaded_free(&loaded);
}

static void wind_at(struct grib_bytes *bytes, int lead, double east) {
    struct grib_spec spec = AT_10_M;
    spec.lead = lead;
    grib_add_wind(bytes, &spec, east, 0.0);
}

static void steps_are_interpolated_and_a_missing_one_is_told(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    wind_at(&bytes, 3, 4.0);
    wind_at(&bytes, 6, 5.0);
    wind_at(&bytes, 12, 11.0);
    wind_at(&bytes, 15, 12.0);
    struct loaded loaded = load_bytes(&bytes, NULL);
    assert_near(weather_at(&loaded, 49.5, -9.5, 9.0).wind.east, 8.0, 1e-3);
    char *warnings = warnings_text(&loaded);
    assert_contains(warnings, "nothing between 2024-02-29T00:00:00Z and "
                              "2024-02-29T06:00:00Z (6 h)");
    free(warnings);
    loaded_free(&loaded);
}

static void a_change_from_3_to_6_hours_is_no_missing_step(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    const int leads[] = {0, 3, 6, 12, 18};
    for (size_t i = 0; i < 5; i++)
        wind_at(&bytes, leads[i], 5.0);
    struct loaded loaded = load_bytes(&bytes, NULL);
    struct field_summary summary =
        forecast_summary(loaded.forecast, QUANTITY_WIND);
    assert_int_equal(forecast_warning_count(loaded.forecast), 0);
    assert_near(summary.shortest_gap_s, 3.0 * 3600.0, 0.0);
    assert_near(summary.longest_gap_s, 6.0 * 3600.0, 0.0);
    loaded_free(&loaded);
}

static void a_hole_is_not_bridged_and_no_value_goes_past_the_end(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    const int leads[] = {0, 3, 6, 30};
    for (size_t i = 0; i < 4; i++)
        wind_at(&bytes, leads[i], 5.0);
    struct forecast_options wide = forecast_defaults();
    wide.gap_limit_s = 24.0 * 3600.0;
    const char *path = save_bytes(&bytes, "hole.grib");
    struct loaded strict = load_files(&path, 1, NULL);
    struct loaded loose = load_files(&path, 1, &wide);
    assert_int_equal(coverage_at(&strict, 49.5, -9.5, 6.0), COVERAGE_INSIDE);
    assert_int_equal(coverage_at(&strict, 49.5, -9.5, 18.0), COVERAGE_HOLE);
    assert_false(weather_at(&strict, 49.5, -9.5, 18.0).wind_known);
    assert_int_equal(coverage_at(&strict, 49.5, -9.5, 30.0), COVERAGE_INSIDE);
    assert_int_equal(coverage_at(&strict, 49.5, -9.5, 30.1), COVERAGE_AFTER);
    assert_int_equal(coverage_at(&strict, 49.5, -9.5, -0.1), COVERAGE_BEFORE);
    assert_int_equal(coverage_at(&strict, 55.0, -9.5, 3.0),
                     COVERAGE_OUTSIDE_AREA);
    assert_int_equal(coverage_at(&loose, 49.5, -9.5, 18.0), COVERAGE_INSIDE);
    char *warnings = warnings_text(&strict);
    assert_contains(warnings, "nothing is carried across");
    free(warnings);
    loaded_free(&strict);
    loaded_free(&loose);
}

/* --- gusts -----------------------------------------------------------------*/

static void add_gust(struct grib_bytes *bytes, int start, int end, double mps) {
    struct grib_spec spec = {
        .edition = 2, .category = 2, .number = 22, .lead = start, .fill = mps};
    int hour = 18 + end;
    if (end > start) {
        spec.product = 8;
        const struct grib_setting interval[] = {
            {"typeOfStatisticalProcessing", 2},
            {"indicatorOfUnitForTimeRange", 1},
            {"lengthOfTimeRange", end - start},
            {"yearOfEndOfOverallTimeInterval", 2024},
            {"monthOfEndOfOverallTimeInterval", 2},
            {"dayOfEndOfOverallTimeInterval", hour >= 24 ? 29 : 28},
            {"hourOfEndOfOverallTimeInterval", hour % 24}};
        memcpy(spec.early, interval, sizeof interval);
    }
    grib_add(bytes, &spec);
}

static void assert_gust(const struct loaded *loaded, double hours, double mps,
                        bool coarse) {
    struct weather weather = weather_at(loaded, 49.5, -9.5, hours);
    assert_true(weather.gust_mps.known);
    assert_near(weather.gust_mps.value, mps, 1e-3);
    assert_int_equal(weather.gust_coarse, coarse);
}

static void the_shortest_interval_that_covers_a_gust_wins(void **state) {
    (void)state;
    for (int order = 0; order < 2; order++) {
        struct grib_bytes bytes = {0};
        wind_at(&bytes, 0, 5.0);
        if (order == 0)
            add_gust(&bytes, 0, 6, 25.0);
        add_gust(&bytes, 6, 6, 15.0);
        add_gust(&bytes, 3, 6, 20.0);
        if (order == 1)
            add_gust(&bytes, 0, 6, 25.0);
        wind_at(&bytes, 6, 5.0);
        struct loaded loaded = load_bytes(&bytes, NULL);
        assert_gust(&loaded, 4.5, 20.0, false);
        assert_gust(&loaded, 1.0, 25.0, true);
        assert_gust(&loaded, 6.0, 20.0, false);
        assert_true(forecast_summary(loaded.forecast, QUANTITY_GUST).interval);
        loaded_free(&loaded);
    }
}

static void
an_instantaneous_gust_counts_where_there_is_no_interval(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    for (int lead = 0; lead <= 6; lead += 3)
        wind_at(&bytes, lead, 5.0);
    add_gust(&bytes, 3, 3, 12.0);
    add_gust(&bytes, 6, 6, 14.0);
    struct loaded loaded = load_bytes(&bytes, NULL);
    assert_false(weather_at(&loaded, 49.5, -9.5, 0.0).gust_mps.known);
    assert_gust(&loaded, 4.5, 13.0, false);
    loaded_free(&loaded);
}

static void an_averaged_wind_is_no_wind(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    struct grib_spec spec = {.edition = 2,
                             .product = 8,
                             .early = {{"typeOfStatisticalProcessing", 0},
                                       {"indicatorOfUnitForTimeRange", 1},
                                       {"lengthOfTimeRange", 6}}};
    grib_add_wind(&bytes, &spec, 5.0, 5.0);
    struct loaded loaded = load_bytes(&bytes, NULL);
    assert_false(loaded.good);
    assert_int_equal(loaded.error.status, STATUS_INPUT);
    assert_contains(loaded.error.text, "average");
    loaded_free(&loaded);
}

static void a_maximum_since_the_step_before_starts_there(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    wind_at(&bytes, 0, 5.0);
    wind_at(&bytes, 6, 5.0);
    /* ECMWF table 128, number 49: "since previous post-processing" */
    for (int lead = 3; lead <= 6; lead += 3) {
        struct grib_spec gust = {.edition = 1,
                                 .centre = 98,
                                 .table = 128,
                                 .number = 49,
                                 .level_type = 1,
                                 .lead = lead,
                                 .fill = 10.0 + lead};
        grib_add(&bytes, &gust);
    }
    struct loaded loaded = load_bytes(&bytes, NULL);
    assert_gust(&loaded, 1.0, 13.0, false);
    assert_gust(&loaded, 2.9, 13.0, false);
    assert_gust(&loaded, 3.1, 16.0, false);
    loaded_free(&loaded);
}

/* --- missing points --------------------------------------------------------*/

#define HOLE 9999.0

static struct grib_spec height_spec(const double *values) {
    return (struct grib_spec){.edition = 2,
                              .discipline = 10,
                              .category = 0,
                              .number = 3,
                              .level_type = 1,
                              .values = values,
                              .masked = true,
                              .hole = HOLE};
}

static void masked_corners_drop_out(void **state) {
    (void)state;
    static const struct {
        double values[4];
        bool known, near_mask;
    } cases[] = {
        {{2.0, 2.0, 2.0, 2.0}, true, false},
        {{2.0, HOLE, 2.0, 2.0}, true, false},
        {{HOLE, HOLE, HOLE, 2.0}, true, true},
        {{HOLE, HOLE, HOLE, HOLE}, false, false},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct grib_bytes bytes = {0};
        struct grib_spec spec = height_spec(cases[i].values);
        wind_at(&bytes, 0, 5.0);
        grib_add(&bytes, &spec);
        struct loaded loaded = load_bytes(&bytes, NULL);
        struct weather weather = weather_at(&loaded, 49.5, -9.5, 0.0);
        assert_true(weather.wind_known);
        assert_int_equal(weather.sea_height_m.known, cases[i].known);
        assert_int_equal(weather.waves_near_mask, cases[i].near_mask);
        if (cases[i].known)
            assert_near(weather.sea_height_m.value, 2.0, 1e-4);
        loaded_free(&loaded);
    }
}

static void wind_is_not_known_where_all_corners_are_masked(void **state) {
    (void)state;
    static const double values[6] = {5.0, 5.0, 9999.0, 5.0, 5.0, 9999.0};
    struct grib_bytes bytes = {0};
    for (int number = 2; number <= 3; number++) {
        struct grib_spec spec = {.edition = 2,
                                 .category = 2,
                                 .number = number,
                                 .ni = 3,
                                 .first_lat = 50,
                                 .first_lon = -10,
                                 .last_lat = 49,
                                 .last_lon = -8,
                                 .values = values,
                                 .masked = true,
                                 .hole = HOLE};
        grib_add(&bytes, &spec);
    }
    struct loaded loaded = load_bytes(&bytes, NULL);
    assert_near(weather_at(&loaded, 49.5, -8.5, 0.0).wind.east, 5.0, 1e-3);
    assert_int_equal(coverage_at(&loaded, 49.5, -8.0, 0.0),
                     COVERAGE_OUTSIDE_AREA);
    loaded_free(&loaded);
}

static void
a_value_that_comes_and_goes_is_taken_from_the_nearer_step(void **state) {
    (void)state;
    static const double there[4] = {1.0, 1.0, 1.0, 1.0};
    static const double gone[4] = {9999.0, 9999.0, 9999.0, 9999.0};
    struct grib_bytes bytes = {0};
    for (int lead = 0; lead <= 6; lead += 6) {
        struct grib_spec spec = height_spec(lead == 0 ? there : gone);
        spec.lead = lead;
        wind_at(&bytes, lead, 5.0);
        grib_add(&bytes, &spec);
    }
    struct loaded loaded = load_bytes(&bytes, NULL);
    assert_true(weather_at(&loaded, 49.5, -9.5, 2.0).sea_height_m.known);
    assert_false(weather_at(&loaded, 49.5, -9.5, 4.0).sea_height_m.known);
    loaded_free(&loaded);
}

/* --- vectors ---------------------------------------------------------------*/

static void vectors_are_interpolated_as_components(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    /* 10 m/s from 350 and from 010: between them from 000, and slower */
    for (int lead = 0; lead <= 6; lead += 6) {
        struct vector_mps wind = vector_from(lead == 0 ? 350.0 : 10.0, 10.0);
        struct grib_spec spec = {.edition = 2, .lead = lead};
        grib_add_wind(&bytes, &spec, wind.east, wind.north);
    }
    struct loaded loaded = load_bytes(&bytes, NULL);
    struct weather weather = weather_at(&loaded, 49.2, -9.7, 3.0);
    assert_angle_near(vector_direction_from(weather.wind), 0.0, 0.01);
    assert_near(vector_length(weather.wind),
                10.0 * cos(10.0 * RADIANS_PER_DEGREE), 1e-3);
    loaded_free(&loaded);
}

static void components_follow_the_wind_convention(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    /* 20 kn from 045: u = v = -7.2753 m/s (computed from u = -S sin D) */
    grib_add_wind(&bytes, &AT_10_M, -7.2753, -7.2753);
    struct loaded loaded = load_bytes(&bytes, NULL);
    struct vector_mps wind = weather_at(&loaded, 49.5, -9.5, 0.0).wind;
    assert_angle_near(vector_direction_from(wind), 45.0, 1e-3);
    assert_near(mps_to_kn(vector_length(wind)), 20.0, 1e-3);
    loaded_free(&loaded);
}

/* Bilinear within a cell, linear in time, against plain arithmetic. */
static void samples_are_bilinear(void **state) {
    (void)state;
    static const double north_first[4] = {1.0, 2.0, 4.0, 8.0};
    struct grib_bytes bytes = {0};
    struct seed seed = {20240228};
    for (int lead = 0; lead <= 6; lead += 6) {
        double later[4];
        for (int i = 0; i < 4; i++)
            later[i] = north_first[i] * (lead == 0 ? 1.0 : 3.0);
        struct grib_spec spec = {.edition = 2,
                                 .category = 2,
                                 .number = 2,
                                 .lead = lead,
                                 .values = later,
                                 .bits = 24};
        grib_add(&bytes, &spec);
        spec.number = 3;
        grib_add(&bytes, &spec);
    }
    struct loaded loaded = load_bytes(&bytes, NULL);
    for (int i = 0; i < 200; i++) {
        double x = seed_between(&seed, 0.0, 1.0);
        double y = seed_between(&seed, 0.0, 1.0);
        double t = seed_between(&seed, 0.0, 1.0);
        double south = 4.0 + x * 4.0, north = 1.0 + x;
        double expected = (south + y * (north - south)) * (1.0 + 2.0 * t);
        struct weather weather =
            weather_at(&loaded, 49.0 + y, -10.0 + x, 6.0 * t);
        assert_near(weather.wind.east, expected, 1e-4);
        assert_near(weather.wind.north, expected, 1e-4);
    }
    loaded_free(&loaded);
}

/* --- more than one grid --------------------------------------------------- */

static void the_finest_grid_that_covers_the_place_wins(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    struct grib_spec wide = {.edition = 2,
                             .first_lat = 60,
                             .first_lon = -20,
                             .last_lat = 40,
                             .last_lon = 0};
    for (int lead = 0; lead <= 12; lead += 6) {
        wide.lead = lead;
        grib_add_wind(&bytes, &wide, 3.0, 0.0);
    }
    wind_at(&bytes, 0, 8.0); /* one degree, to +6 h only */
    wind_at(&bytes, 6, 8.0);
    struct loaded loaded = load_bytes(&bytes, NULL);
    assert_near(weather_at(&loaded, 49.5, -9.5, 3.0).wind.east, 8.0, 1e-3);
    assert_near(weather_at(&loaded, 45.0, -9.5, 3.0).wind.east, 3.0, 1e-3);
    /* where the fine one has ended the wide one goes on */
    assert_near(weather_at(&loaded, 49.5, -9.5, 9.0).wind.east, 3.0, 1e-3);
    assert_int_equal(coverage_at(&loaded, 49.5, -9.5, 13.0), COVERAGE_AFTER);
    struct area area = forecast_area(loaded.forecast, QUANTITY_WIND);
    assert_near(area.south_deg, 49.0, 1e-9);
    assert_near(area.north_deg, 50.0, 1e-9);
    assert_near(area.west_deg, -10.0, 1e-9);
    assert_near(area.east_deg, -9.0, 1e-9);
    assert_near(area.lat_step_deg, 1.0, 1e-9);
    loaded_free(&loaded);
}

static void what_is_not_there_is_not_present(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    wind_at(&bytes, 0, 5.0);
    struct loaded loaded = load_bytes(&bytes, NULL);
    struct weather weather = weather_at(&loaded, 49.5, -9.5, 0.0);
    assert_false(weather.gust_mps.known);
    assert_false(weather.pressure_pa.known);
    assert_false(weather.current_known);
    assert_false(weather.sea.known);
    assert_false(weather.wind_sea.known);
    assert_false(weather.swell[2].known);
    for (int i = 1; i < QUANTITY_COUNT; i++)
        assert_false(
            forecast_summary(loaded.forecast, (enum quantity)i).present);
    struct area none = forecast_area(loaded.forecast, QUANTITY_SEA);
    assert_near(none.lat_step_deg, 0.0, 0.0);
    loaded_free(&loaded);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lead_times_are_read_in_the_unit_of_the_message),
        cmocka_unit_test(minutes_and_hours_make_one_axis),
        cmocka_unit_test(steps_are_interpolated_and_a_missing_one_is_told),
        cmocka_unit_test(a_change_from_3_to_6_hours_is_no_missing_step),
        cmocka_unit_test(a_hole_is_not_bridged_and_no_value_goes_past_the_end),
        cmocka_unit_test(the_shortest_interval_that_covers_a_gust_wins),
        cmocka_unit_test(
            an_instantaneous_gust_counts_where_there_is_no_interval),
        cmocka_unit_test(an_averaged_wind_is_no_wind),
        cmocka_unit_test(a_maximum_since_the_step_before_starts_there),
        cmocka_unit_test(masked_corners_drop_out),
        cmocka_unit_test(wind_is_not_known_where_all_corners_are_masked),
        cmocka_unit_test(
            a_value_that_comes_and_goes_is_taken_from_the_nearer_step),
        cmocka_unit_test(vectors_are_interpolated_as_components),
        cmocka_unit_test(components_follow_the_wind_convention),
        cmocka_unit_test(samples_are_bilinear),
        cmocka_unit_test(the_finest_grid_that_covers_the_place_wins),
        cmocka_unit_test(what_is_not_there_is_not_present),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
