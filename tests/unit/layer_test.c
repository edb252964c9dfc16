#include "../support/check.h"

#include "../support/load.h"
#include "forecast/layer.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const struct civil AT_00 = {2024, 2, 28, 0, 0, 0};
static const struct civil AT_06 = {2024, 2, 28, 6, 0, 0};

static void add_part(struct grib_bytes *bytes, int number, struct civil run,
                     int lead, double value) {
    struct grib_spec spec = {.edition = 2,
                             .category = 2,
                             .number = number,
                             .run = run,
                             .lead = lead,
                             .fill = value};
    grib_add(bytes, &spec);
}

static void add_u(struct grib_bytes *bytes, struct civil run, int lead,
                  double value) {
    add_part(bytes, 2, run, lead, value);
}

static void add_v(struct grib_bytes *bytes, struct civil run, int lead,
                  double value) {
    add_part(bytes, 3, run, lead, value);
}

/* 2024-02-28T12:00Z seen from the hour that weather_at() counts from. */
enum { AT_NOON = -6 };

/* --- runs ------------------------------------------------------------------*/

static void the_newest_run_wins_in_any_order(void **state) {
    (void)state;
    for (int order = 0; order < 2; order++) {
        struct grib_bytes bytes = {0};
        for (int i = 0; i < 2; i++) {
            bool old = (i == 0) == (order == 0);
            add_u(&bytes, old ? AT_00 : AT_06, old ? 12 : 6, old ? 5.0 : 7.0);
            add_v(&bytes, old ? AT_00 : AT_06, old ? 12 : 6, 0.0);
        }
        struct loaded loaded = load_bytes(&bytes, NULL);
        assert_near(weather_at(&loaded, 49.5, -9.5, AT_NOON).wind.east, 7.0,
                    1e-3);
        char *warnings = warnings_text(&loaded);
        assert_contains(warnings, "runs 2024-02-28T00:00:00Z and "
                                  "2024-02-28T06:00:00Z overlap");
        assert_contains(warnings, "1 valid time");
        char run[INSTANT_TEXT_SIZE];
        instant_print(forecast_run(loaded.forecast), run);
        assert_string_equal(run, "2024-02-28T06:00:00Z");
        free(warnings);
        loaded_free(&loaded);
    }
}

static void u_is_never_paired_with_v_of_another_run(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    add_u(&bytes, AT_00, 12, 5.0);
    add_v(&bytes, AT_06, 6, 5.0);
    struct loaded loaded = load_bytes(&bytes, NULL);
    assert_false(loaded.good);
    assert_contains(loaded.error.text, "u without v at 2024-02-28T12:00:00Z");
    loaded_free(&loaded);
}

static void an_older_run_fills_the_steps_that_the_newer_lacks(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    add_u(&bytes, AT_00, 3, 5.0);
    add_v(&bytes, AT_00, 3, 0.0);
    add_u(&bytes, AT_06, 3, 7.0);
    add_v(&bytes, AT_06, 3, 0.0);
    struct loaded loaded = load_bytes(&bytes, NULL);
    assert_near(weather_at(&loaded, 49.5, -9.5, -15.0).wind.east, 5.0, 1e-3);
    assert_near(weather_at(&loaded, 49.5, -9.5, -9.0).wind.east, 7.0, 1e-3);
    assert_int_equal(forecast_warning_count(loaded.forecast), 0);
    loaded_free(&loaded);
}

/* --- duplicates ------------------------------------------------------------*/

static void exact_duplicates_are_counted_and_ignored(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    for (int i = 0; i < 2; i++) {
        add_u(&bytes, AT_00, 12, 5.0);
        add_v(&bytes, AT_00, 12, 0.0);
    }
    struct loaded loaded = load_bytes(&bytes, NULL);
    assert_near(weather_at(&loaded, 49.5, -9.5, AT_NOON).wind.east, 5.0, 1e-3);
    char *warnings = warnings_text(&loaded);
    assert_contains(warnings, "2 fields are there twice; counted once");
    free(warnings);
    loaded_free(&loaded);
}

static void of_unlike_duplicates_the_last_is_used(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    add_u(&bytes, AT_00, 12, 5.0);
    add_v(&bytes, AT_00, 12, 0.0);
    add_u(&bytes, AT_00, 12, 6.0);
    struct loaded loaded = load_bytes(&bytes, NULL);
    assert_near(weather_at(&loaded, 49.5, -9.5, AT_NOON).wind.east, 6.0, 1e-3);
    char *warnings = warnings_text(&loaded);
    assert_contains(warnings, "unlike values");
    free(warnings);
    loaded_free(&loaded);
}

/* --- pairs -----------------------------------------------------------------*/

static void pairs_are_found_in_any_order_of_the_file(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    for (int lead = 0; lead <= 6; lead += 3)
        add_u(&bytes, AT_00, lead, 1.0 + lead);
    for (int lead = 0; lead <= 6; lead += 3)
        add_v(&bytes, AT_00, lead, 10.0 + lead);
    struct loaded loaded = load_bytes(&bytes, NULL);
    for (int lead = 0; lead <= 6; lead += 3) {
        struct vector_mps wind =
            weather_at(&loaded, 49.5, -9.5, lead - 18).wind;
        assert_near(wind.east, 1.0 + lead, 1e-3);
        assert_near(wind.north, 10.0 + lead, 1e-3);
    }
    loaded_free(&loaded);
}

/* u is 1 in the west and 2 in the east at 10 and 9 W; v is 4 and 6 at 9.5 and
 * 8.5 W, half a cell east of it: 5 at 9 W, where u is 2. West of 9.5 W there is
 * no v, so no wind. */
static void v_on_a_shifted_grid_comes_to_the_points_of_u(void **state) {
    (void)state;
    static const double u_values[] = {1, 2, 1, 2}, v_values[] = {4, 6, 4, 6};
    struct grib_bytes bytes = {0};
    struct grib_spec u = {.edition = 2,
                          .category = 2,
                          .number = 2,
                          .run = AT_00,
                          .lead = 12,
                          .first_lat = 50,
                          .first_lon = -10,
                          .last_lat = 49,
                          .last_lon = -9,
                          .values = u_values};
    struct grib_spec v = u;
    v.number = 3;
    v.first_lon = -9.5;
    v.last_lon = -8.5;
    v.values = v_values;
    grib_add(&bytes, &v);
    grib_add(&bytes, &u);
    struct loaded loaded = load_bytes(&bytes, NULL);
    struct vector_mps wind = weather_at(&loaded, 49.5, -9.0, AT_NOON).wind;
    assert_near(wind.east, 2.0, 1e-3);
    assert_near(wind.north, 5.0, 1e-3);
    assert_int_equal(coverage_at(&loaded, 49.5, -10.0, AT_NOON),
                     COVERAGE_OUTSIDE_AREA);
    char *text = warnings_text(&loaded);
    assert_contains(text, "shifted against one another at 1 time; v is ");
    free(text);
    loaded_free(&loaded);
}

static void one_column_more_makes_no_difference(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    static const double values[] = {4, 6, 8, 4, 6, 8};
    struct grib_spec v = {.edition = 2,
                          .category = 2,
                          .number = 3,
                          .run = AT_00,
                          .lead = 12,
                          .ni = 3,
                          .first_lat = 50,
                          .first_lon = -10,
                          .last_lat = 49,
                          .last_lon = -8,
                          .values = values};
    add_u(&bytes, AT_00, 12, 5.0);
    grib_add(&bytes, &v);
    struct loaded loaded = load_bytes(&bytes, NULL);
    struct vector_mps wind = weather_at(&loaded, 49.5, -9.5, AT_NOON).wind;
    assert_near(wind.east, 5.0, 1e-3);
    assert_near(wind.north, 5.0, 1e-3);
    loaded_free(&loaded);
}

static void components_on_unlike_grids_are_refused(void **state) {
    (void)state;
    /* two cells off; twice as fine */
    static const struct {
        double west, east;
        int ni;
    } cases[] = {{-8.0, -7.0, 2}, {-10.0, -9.0, 3}};
    for (size_t i = 0; i < 2; i++) {
        struct grib_bytes bytes = {0};
        struct grib_spec v = {.edition = 2,
                              .category = 2,
                              .number = 3,
                              .run = AT_00,
                              .lead = 12,
                              .ni = cases[i].ni,
                              .first_lat = 50,
                              .first_lon = cases[i].west,
                              .last_lat = 49,
                              .last_lon = cases[i].east};
        add_u(&bytes, AT_00, 12, 5.0);
        grib_add(&bytes, &v);
        struct loaded loaded = load_bytes(&bytes, NULL);
        assert_false(loaded.good);
        assert_contains(loaded.error.text, "u without v");
        assert_contains(loaded.error.text, "different grids");
        loaded_free(&loaded);
    }
}

static void wind_and_waves_may_lie_on_different_grids(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    struct grib_spec waves = {.edition = 2,
                              .discipline = 10,
                              .number = 3,
                              .level_type = 1,
                              .run = AT_00,
                              .lead = 12,
                              .ni = 3,
                              .nj = 3,
                              .first_lat = 50,
                              .first_lon = -10,
                              .last_lat = 49,
                              .last_lon = -9,
                              .fill = 2.5};
    add_u(&bytes, AT_00, 12, 5.0);
    add_v(&bytes, AT_00, 12, 0.0);
    grib_add(&bytes, &waves);
    struct loaded loaded = load_bytes(&bytes, NULL);
    struct weather weather = weather_at(&loaded, 49.3, -9.3, AT_NOON);
    assert_near(weather.wind.east, 5.0, 1e-3);
    assert_near(weather.sea_height_m.value, 2.5, 1e-3);
    loaded_free(&loaded);
}

static void speed_and_direction_become_components(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    add_part(&bytes, 1, AT_00, 12, 10.0);  /* speed */
    add_part(&bytes, 0, AT_00, 12, 270.0); /* from */
    struct grib_spec current = {.edition = 2,
                                .discipline = 10,
                                .category = 1,
                                .level_type = 1,
                                .run = AT_00,
                                .lead = 12,
                                .fill = 90.0};
    grib_add(&bytes, &current); /* number 0: towards */
    current.number = 1;
    current.fill = 0.5;
    grib_add(&bytes, &current);
    struct loaded loaded = load_bytes(&bytes, NULL);
    struct weather weather = weather_at(&loaded, 49.5, -9.5, AT_NOON);
    assert_near(weather.wind.east, 10.0, 1e-3);
    assert_near(weather.wind.north, 0.0, 1e-3);
    assert_true(weather.current_known);
    assert_near(weather.current.east, 0.5, 1e-3);
    assert_near(weather.current.north, 0.0, 1e-3);
    loaded_free(&loaded);
}

static void speed_without_direction_is_no_wind(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    add_part(&bytes, 1, AT_00, 12, 10.0);
    struct loaded loaded = load_bytes(&bytes, NULL);
    assert_false(loaded.good);
    assert_contains(loaded.error.text, "wind speed without direction");
    loaded_free(&loaded);
}

/* --- levels ----------------------------------------------------------------*/

static void add_level(struct grib_bytes *bytes, int type, int level,
                      double mps) {
    struct grib_spec spec = {.edition = 2, .level_type = type, .level = level};
    grib_add_wind(bytes, &spec, mps, 0.0);
}

static void ten_metres_go_before_other_levels_in_any_order(void **state) {
    (void)state;
    for (int order = 0; order < 2; order++) {
        struct grib_bytes bytes = {0};
        for (int i = 0; i < 2; i++) {
            if (i == order)
                add_level(&bytes, 103, 10, 8.0);
            else
                add_level(&bytes, 103, 100, 13.0);
        }
        struct loaded loaded = load_bytes(&bytes, NULL);
        assert_near(weather_at(&loaded, 49.5, -9.5, 0.0).wind.east, 8.0, 1e-3);
        char *description = description_text(&loaded);
        assert_contains(description, "category 2, number 2 (100 m): a level");
        free(description);
        loaded_free(&loaded);
    }
}

static void wind_aloft_alone_is_refused_with_its_levels(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    add_level(&bytes, 103, 100, 13.0);
    add_level(&bytes, 100, 85000, 20.0);
    struct loaded loaded = load_bytes(&bytes, NULL);
    assert_false(loaded.good);
    assert_int_equal(loaded.error.status, STATUS_INPUT);
    assert_contains(loaded.error.text, "100 m, 850 hPa");
    loaded_free(&loaded);
}

static void the_surface_stands_in_for_ten_metres(void **state) {
    (void)state;
    struct grib_bytes surface = {0}, both = {0};
    add_level(&surface, 1, 0, 9.0);
    add_level(&both, 1, 0, 9.0);
    add_level(&both, 103, 10, 8.0);
    struct loaded one = load_bytes(&surface, NULL);
    struct loaded two = load_bytes(&both, NULL);
    assert_near(weather_at(&one, 49.5, -9.5, 0.0).wind.east, 9.0, 1e-3);
    assert_near(weather_at(&two, 49.5, -9.5, 0.0).wind.east, 8.0, 1e-3);
    char *warnings = warnings_text(&two);
    assert_contains(warnings, "at the surface is not");
    free(warnings);
    loaded_free(&one);
    loaded_free(&two);
}

static void ten_metres_may_be_written_in_centimetres(void **state) {
    (void)state;
    struct grib_bytes first = {0}, second = {0};
    struct grib_spec edition_1 = {
        .edition = 1, .level_type = 125, .level = 1000};
    struct grib_spec edition_2 = {
        .edition = 2,
        .early = {{"scaleFactorOfFirstFixedSurface", 2},
                  {"scaledValueOfFirstFixedSurface", 1000}}};
    grib_add_wind(&first, &edition_1, 6.0, 0.0);
    grib_add_wind(&second, &edition_2, 6.0, 0.0);
    struct loaded one = load_bytes(&first, NULL);
    struct loaded two = load_bytes(&second, NULL);
    assert_near(weather_at(&one, 49.5, -9.5, 0.0).wind.east, 6.0, 1e-3);
    assert_near(weather_at(&two, 49.5, -9.5, 0.0).wind.east, 6.0, 1e-3);
    loaded_free(&one);
    loaded_free(&two);
}

/* --- members ---------------------------------------------------------------*/

static void add_member(struct grib_bytes *bytes, int type, int number,
                       double mps) {
    struct grib_spec spec = {.edition = 2,
                             .product = 1,
                             .early = {{"typeOfEnsembleForecast", type},
                                       {"perturbationNumber", number},
                                       {"numberOfForecastsInEnsemble", 3}}};
    grib_add_wind(bytes, &spec, mps, 0.0);
}

static void of_an_ensemble_the_control_is_used(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    add_member(&bytes, 3, 1, 11.0);
    add_member(&bytes, 3, 2, 12.0);
    add_member(&bytes, 1, 0, 10.0);
    struct loaded loaded = load_bytes(&bytes, NULL);
    assert_near(weather_at(&loaded, 49.5, -9.5, 0.0).wind.east, 10.0, 1e-3);
    char *warnings = warnings_text(&loaded);
    assert_contains(warnings, "wind: 3 members (the control, 1 to 2) are "
                              "there; the control is used");
    char *description = description_text(&loaded);
    assert_contains(description,
                    "Members\n  wind: 3 members (the control, 1 to 2)\n");
    free(warnings);
    free(description);
    loaded_free(&loaded);
}

static void a_single_member_is_used_and_said(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    add_member(&bytes, 3, 7, 11.0);
    struct loaded loaded = load_bytes(&bytes, NULL);
    assert_near(weather_at(&loaded, 49.5, -9.5, 0.0).wind.east, 11.0, 1e-3);
    char *warnings = warnings_text(&loaded);
    assert_contains(warnings, "only member 7 of an ensemble");
    free(warnings);
    loaded_free(&loaded);
}

static void u_is_never_paired_with_v_of_another_member(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    for (int number = 1; number <= 2; number++) {
        struct grib_spec spec = {.edition = 2,
                                 .product = 1,
                                 .category = 2,
                                 .number = 1 + number,
                                 .early = {{"typeOfEnsembleForecast", 3},
                                           {"perturbationNumber", number},
                                           {"numberOfForecastsInEnsemble", 3}}};
        grib_add(&bytes, &spec);
    }
    struct loaded loaded = load_bytes(&bytes, NULL);
    assert_false(loaded.good);
    assert_contains(loaded.error.text, "u without v");
    loaded_free(&loaded);
}

/* Of two steps with 3 and 4 at one corner of the second, masked elsewhere. */
static double strongest(const struct loaded *loaded, double west_deg,
                        double east_deg) {
    struct grid_bounds within = {49.0, 50.0, west_deg, east_deg};
    return forecast_strongest_current_mps(loaded->forecast, &within);
}

static void the_strongest_current_is_that_of_one_point(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    struct grib_spec spec = {.edition = 2,
                             .discipline = 10,
                             .category = 1,
                             .level_type = 1,
                             .hole = 9999.0};
    for (int step = 0; step < 2; step++) {
        double east[4] = {0.5, -0.1, 0.2, 0.3}, north[4] = {0.2, 0.1, 0.0, 0.4};
        if (step == 1) {
            east[2] = 9999.0;
            north[1] = -4.0;
            north[2] = 9.0; /* half a vector counts for nothing */
            east[1] = 3.0;
        }
        spec.lead = 6 * step;
        spec.masked = step == 1;
        spec.number = 2;
        spec.values = east;
        grib_add(&bytes, &spec);
        spec.masked = false;
        spec.number = 3;
        spec.values = north;
        grib_add(&bytes, &spec);
        struct grib_spec wind = {.edition = 2, .lead = spec.lead};
        grib_add_wind(&bytes, &wind, 7.0, 7.0);
    }
    struct loaded loaded = load_bytes(&bytes, NULL);
    assert_near(strongest(&loaded, -180.0, 180.0), 5.0, 1e-3);
    assert_near(strongest(&loaded, -9.5, -9.5), 5.0, 1e-3);
    assert_near(strongest(&loaded, 350.5, 350.6), 5.0, 1e-3);
    /* only the western column, of 0.5 and 0.2, is as near as a cell */
    assert_near(strongest(&loaded, -12.0, -10.5), hypot(0.5, 0.2), 1e-3);
    assert_near(strongest(&loaded, -14.0, -12.0), 0.0, 0.0);
    struct grid_bounds north = {52.0, 53.0, -180.0, 180.0};
    assert_near(forecast_strongest_current_mps(loaded.forecast, &north), 0.0,
                0.0);
    loaded_free(&loaded);
}

static void without_a_current_the_strongest_is_none(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    struct grib_spec wind = {.edition = 2};
    grib_add_wind(&bytes, &wind, 7.0, 7.0);
    struct loaded loaded = load_bytes(&bytes, NULL);
    assert_near(strongest(&loaded, -180.0, 180.0), 0.0, 0.0);
    loaded_free(&loaded);
}

/* --- limits ---------------------------------------------------------------*/

/* Where the lead time stands in a message of edition 2: octets 19 to 22 of
 * section 4, which follows sections 0, 1 and 3 (WMO, regulation 92). */
static size_t lead_at(const uint8_t *message) {
    size_t at = 16;
    while (message[at + 4] != 4)
        at += (size_t)message[at + 2] << 8 | message[at + 3];
    return at + 18;
}

/* Winds of so many steps, an hour apart, all of them copies of the first; what
 * is warned of. */
static char *steps_warned(int steps, double *hours) {
    struct grib_bytes bytes = {0};
    add_u(&bytes, AT_00, 0, 5.0);
    size_t second = bytes.size;
    add_v(&bytes, AT_00, 0, 0.0);
    size_t pair = bytes.size;
    uint8_t *copy = malloc(pair);
    assert_non_null(copy);
    memcpy(copy, bytes.bytes, pair);
    for (int i = 1; i < steps; i++) {
        size_t leads[] = {lead_at(copy), second + lead_at(copy + second)};
        for (int k = 0; k < 2; k++) {
            copy[leads[k] + 2] = (uint8_t)(i >> 8);
            copy[leads[k] + 3] = (uint8_t)(i & 0xff);
        }
        grib_add_bytes(&bytes, copy, pair);
    }
    free(copy);
    struct loaded loaded = load_bytes(&bytes, NULL);
    assert_true(loaded.good);
    struct field_summary wind =
        forecast_summary(loaded.forecast, QUANTITY_WIND);
    *hours = instant_minus(wind.last, wind.first) / 3600.0;
    char *warnings = warnings_text(&loaded);
    loaded_free(&loaded);
    return warnings;
}

static void steps_up_to_the_limit_are_used(void **state) {
    (void)state;
    double hours;
    char *warnings = steps_warned(LAYER_STEPS, &hours);
    assert_null(strstr(warnings, "steps"));
    assert_near(hours, LAYER_STEPS - 1, 0.0);
    free(warnings);
    warnings = steps_warned(LAYER_STEPS + 1, &hours);
    assert_contains(warnings, "wind has more than 2000 steps; the later ones "
                              "are not used");
    assert_near(hours, LAYER_STEPS - 1, 0.0);
    free(warnings);
}

/* The wind, and gusts on grids of their own, further and further south. */
static char *grids_warned(int grids) {
    struct grib_bytes bytes = {0};
    struct grib_spec wind = {.edition = 2};
    grib_add_wind(&bytes, &wind, 5.0, 0.0);
    for (int i = 1; i < grids; i++) {
        struct grib_spec gust = {.edition = 2,
                                 .category = 2,
                                 .number = 22,
                                 .first_lat = 50.0 - 0.25 * i,
                                 .last_lat = 49.0 - 0.25 * i,
                                 .first_lon = 350.0,
                                 .last_lon = 351.0,
                                 .fill = 9.0};
        grib_add(&bytes, &gust);
    }
    struct loaded loaded = load_bytes(&bytes, NULL);
    assert_true(loaded.good);
    char *warnings = warnings_text(&loaded);
    loaded_free(&loaded);
    return warnings;
}

static void grids_up_to_the_limit_are_used(void **state) {
    (void)state;
    char *warnings = grids_warned(LAYER_GRIDS);
    assert_null(strstr(warnings, "grids"));
    free(warnings);
    warnings = grids_warned(LAYER_GRIDS + 1);
    assert_contains(warnings, "fields lie on more than 200 grids; 1 of them "
                              "are not used");
    free(warnings);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_newest_run_wins_in_any_order),
        cmocka_unit_test(u_is_never_paired_with_v_of_another_run),
        cmocka_unit_test(an_older_run_fills_the_steps_that_the_newer_lacks),
        cmocka_unit_test(exact_duplicates_are_counted_and_ignored),
        cmocka_unit_test(of_unlike_duplicates_the_last_is_used),
        cmocka_unit_test(pairs_are_found_in_any_order_of_the_file),
        cmocka_unit_test(v_on_a_shifted_grid_comes_to_the_points_of_u),
        cmocka_unit_test(one_column_more_makes_no_difference),
        cmocka_unit_test(components_on_unlike_grids_are_refused),
        cmocka_unit_test(wind_and_waves_may_lie_on_different_grids),
        cmocka_unit_test(speed_and_direction_become_components),
        cmocka_unit_test(speed_without_direction_is_no_wind),
        cmocka_unit_test(ten_metres_go_before_other_levels_in_any_order),
        cmocka_unit_test(wind_aloft_alone_is_refused_with_its_levels),
        cmocka_unit_test(the_surface_stands_in_for_ten_metres),
        cmocka_unit_test(ten_metres_may_be_written_in_centimetres),
        cmocka_unit_test(of_an_ensemble_the_control_is_used),
        cmocka_unit_test(a_single_member_is_used_and_said),
        cmocka_unit_test(u_is_never_paired_with_v_of_another_member),
        cmocka_unit_test(the_strongest_current_is_that_of_one_point),
        cmocka_unit_test(without_a_current_the_strongest_is_none),
        cmocka_unit_test(steps_up_to_the_limit_are_used),
        cmocka_unit_test(grids_up_to_the_limit_are_used),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
