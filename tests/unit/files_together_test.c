/* Fields that do not cover each other: nothing is made up between them. */
#include "../support/check.h"

#include "../support/load.h"

/* 2 x 3 points a degree apart, the columns `first` to `last`. */
static struct grib_spec columns(double first, double last,
                                const double *values) {
    return (struct grib_spec){.edition = 2,
                              .ni = 3,
                              .nj = 2,
                              .first_lat = 50,
                              .last_lat = 49,
                              .first_lon = first,
                              .last_lon = last,
                              .values = values};
}

/* Wind in 0..360, waves in -180..180, and the other way round; over Greenwich
 * and over 180: one place has both. */
static void winds_and_waves_line_up_in_any_longitudes(void **state) {
    (void)state;
    static const double rising[6] = {1, 2, 3, 1, 2, 3};
    static const struct {
        double wind[2], waves[2], at_lon;
    } cases[] = {
        {{350, 352}, {-10, -8}, -9.5},    {{-10, -8}, {350, 352}, -9.5},
        {{359, 1}, {-1, 1}, -0.5},        {{-1, 1}, {359, 1}, -0.5},
        {{179, 181}, {179, -179}, 179.5}, {{179, -179}, {179, 181}, 179.5},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct grib_bytes bytes = {0};
        struct grib_spec wind =
            columns(cases[i].wind[0], cases[i].wind[1], rising);
        wind.category = 2;
        for (int part = 0; part < 2; part++) {
            wind.number = 2 + part;
            grib_add(&bytes, &wind);
        }
        struct grib_spec height =
            columns(cases[i].waves[0], cases[i].waves[1], rising);
        height.discipline = 10;
        height.number = 3;
        height.level_type = 1;
        grib_add(&bytes, &height);
        struct loaded loaded = load_bytes(&bytes, NULL);
        assert_true(loaded.good);
        struct weather weather =
            weather_at(&loaded, 49.5, cases[i].at_lon, 0.0);
        assert_near(weather.wind.east, 1.5, 1e-3);
        assert_true(weather.sea_height_m.known);
        assert_near(weather.sea_height_m.value, 1.5, 1e-3);
        loaded_free(&loaded);
    }
}

static void add_gust(struct grib_bytes *bytes, int lead, double mps) {
    struct grib_spec gust = {
        .edition = 2, .category = 2, .number = 22, .lead = lead, .fill = mps};
    grib_add(bytes, &gust);
}

/* Wind at 0, 3 and 6 h, gusts from 3 h on: before, there is none, and not 0. */
static void gusts_that_begin_later_are_unknown_before(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    for (int lead = 0; lead <= 6; lead += 3) {
        struct grib_spec wind = {.edition = 2, .lead = lead};
        grib_add_wind(&bytes, &wind, 8.0, 0.0);
    }
    add_gust(&bytes, 3, 12.0);
    add_gust(&bytes, 6, 14.0);
    struct loaded loaded = load_bytes(&bytes, NULL);
    assert_false(weather_at(&loaded, 49.5, -9.5, 0.0).gust_mps.known);
    assert_false(weather_at(&loaded, 49.5, -9.5, 2.9).gust_mps.known);
    assert_true(weather_at(&loaded, 49.5, -9.5, 0.0).wind_known);
    struct figure gust = weather_at(&loaded, 49.5, -9.5, 4.5).gust_mps;
    assert_true(gust.known);
    assert_near(gust.value, 13.0, 1e-3);
    loaded_free(&loaded);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(winds_and_waves_line_up_in_any_longitudes),
        cmocka_unit_test(gusts_that_begin_later_are_unknown_before),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
