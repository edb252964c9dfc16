#include "../support/check.h"

#include "../support/load.h"
#include <stdlib.h>
#include <string.h>

static void add_wave(struct grib_bytes *bytes, int number, int lead,
                     double value) {
    struct grib_spec spec = {.edition = 2,
                             .discipline = 10,
                             .number = number,
                             .level_type = 1,
                             .lead = lead,
                             .fill = value};
    grib_add(bytes, &spec);
}

static void assert_page(const char *text) {
    for (const char *line = text; *line;) {
        size_t length = strcspn(line, "\n");
        /* a path may be longer than the page */
        assert_true(length <= 80 || memchr(line, '/', length));
        for (size_t i = 0; i < length; i++)
            assert_true(line[i] >= ' ' && line[i] <= '~');
        line += length + (line[length] == '\n');
    }
}

static void a_description_tells_fields_steps_area_and_run(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    for (int lead = 0; lead <= 12; lead += 3) {
        struct grib_spec spec = {.edition = 2, .lead = lead};
        grib_add_wind(&bytes, &spec, 5.0, 0.0);
    }
    struct loaded loaded = load_bytes(&bytes, NULL);
    char *text = description_text(&loaded);
    assert_page(text);
    assert_contains(text, "10 messages");
    assert_contains(text, "wind: u and v (10 m)");
    assert_contains(text, "2024-02-28 18:00 to 2024-02-29 06:00 UTC, "
                          "5 steps, 3 h apart");
    assert_contains(text, "49 N to 50 N, 10 W to 9 W, every 1 x 1 degrees");
    assert_contains(text, "run 2024-02-28 18:00");
    free(text);
    loaded_free(&loaded);
}

static void a_description_says_what_a_plan_will_miss(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    struct grib_spec spec = {.edition = 2};
    for (int lead = 0; lead <= 6; lead += 6) {
        spec.lead = lead;
        grib_add_wind(&bytes, &spec, 5.0, 0.0);
    }
    add_wave(&bytes, 3, 0, 2.0);
    add_wave(&bytes, 11, 0, 8.0);
    struct loaded loaded = load_bytes(&bytes, NULL);
    char *text = description_text(&loaded);
    assert_page(text);
    assert_contains(text, "A plan will miss\n  gust: ");
    assert_contains(text, "waves: the sea is estimated from the wind");
    assert_contains(text, "combined sea: its direction");
    assert_contains(text, "combined sea after 2024-02-28 18:00 UTC");
    assert_contains(text, "current: ");
    free(text);
    loaded_free(&loaded);
}

static void unknown_parameters_are_listed_with_their_numbers(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    struct grib_spec wind = {.edition = 2};
    struct grib_spec local = {
        .edition = 1, .centre = 98, .table = 2, .number = 180};
    grib_add_wind(&bytes, &wind, 5.0, 0.0);
    add_wave(&bytes, 192, 0, 1.0);
    grib_add(&bytes, &local);
    struct loaded loaded = load_bytes(&bytes, NULL);
    assert_true(loaded.good);
    assert_int_equal(forecast_warning_count(loaded.forecast), 0);
    char *text = description_text(&loaded);
    assert_contains(text, "discipline 10, category 0, number 192 (surface)");
    assert_contains(text, "table 2, number 180");
    free(text);
    loaded_free(&loaded);
}

static void the_samples_miss_what_they_should(void **state) {
    (void)state;
    const char *paths[] = {"grib-samples/trade-crossing.grib2"};
    struct loaded loaded = load_files(paths, 1, NULL);
    assert_true(loaded.good);
    assert_int_equal(forecast_warning_count(loaded.forecast), 0);
    char *text = description_text(&loaded);
    assert_page(text);
    assert_contains(text, "gust: greatest over an interval");
    assert_contains(text, "second swell: ");
    assert_contains(text, "combined sea: its period and direction");
    free(text);
    loaded_free(&loaded);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_description_tells_fields_steps_area_and_run),
        cmocka_unit_test(a_description_says_what_a_plan_will_miss),
        cmocka_unit_test(unknown_parameters_are_listed_with_their_numbers),
        cmocka_unit_test(the_samples_miss_what_they_should),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
