#include "../support/check.h"

#include "../support/load.h"
#include "forecast/decode.h"
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Real files of weather centres and libraries' test suites: each is read, or
 * refused for the right reason. */

static struct loaded load_real(const char *name, char **path) {
    const char *found = check_real_file(name);
    if (!found)
        skip();
    *path = strdup(found);
    const char *paths[] = {*path};
    return load_files(paths, 1, NULL);
}

/* --- the zoo ---------------------------------------------------------------*/

static const struct {
    const char *name, *refused; /* words of the refusal; NULL: read */
} ZOO[] = {
    {"1-wind-series/madagascar-wind-7days.grb", NULL},
    {"1-wind-series/gfs-10uv-1deg-f000.grib2", NULL},
    {"1-wind-series/gfs-0p50-10uv-f003.grib2", NULL},
    {"1-wind-series/era5-iceland-10uv-msl.grib", NULL},
    {"1-wind-series/cmc-glb-ps30km-3steps.grib2", NULL},
    {"1-wind-series/ec-an-10u-13times.grib", "u without v at 2016-09-25"},
    {"1-wind-series/ec-an-10v-13times.grib", "v without u at 2016-09-25"},
    {"1-wind-series/ec-10u-without-v.grib", "u without v at 2018-10-01"},
    {"1-wind-series/ec-hres-10u-two-areas.grib", "u without v at 2024-11-06"},
    {"1-wind-series/ec-uv1000-500-4steps-global5deg.grib",
     "at 500 hPa, 1000 hPa"},
    {"2-waves/gdaswave-wcoast-f000.grib2", NULL},
    {"2-waves/gfswave-atlocn-f000.grib2", NULL},
    {"2-waves/ww3-multi1-at10m-f147.grib2", NULL},
    {"2-waves/madagascar-wave-7days.grb", "no wind"},
    {"2-waves/ecwam-swh-reduced-ll.grib1", "no wind"},
    {"2-waves/ecwam-swh-reduced-ll.grib2", "no wind"},
    {"2-waves/ecwam-wsp-reduced-ll.grib1", "no wind"},
    {"2-waves/ndfd-oceanic-waveh-1step.grib2", "no wind"},
    {"2-waves/ec-wave-2d-spectra.grib", "no wind"},
    {"3-gust-mslp/jma-msl-lambert.grib1", "no wind"},
    {"4-ensemble/wrf-ens-m1-10uv.grib1", NULL},
    {"4-ensemble/gefs-gep10-f078.grib2", NULL},
    {"4-ensemble/tigge-ecmwf-pf42.grib2", NULL},
    {"4-ensemble/tigge-ecmwf-cf.grib2", NULL},
    {"4-ensemble/cosmo-lam-m1-rotated-10uv.grib2", NULL},
    {"4-ensemble/ec-ens-mean-10si-msl.grib", "mean, spread or probability"},
    {"4-ensemble/ec-ens-spread-10si-msl.grib", "mean, spread or probability"},
    {"4-ensemble/ec-ens6-ztu-4steps.grib", "1000 hPa"},
    {"4-ensemble/nhc-wind-speed-probability.grib2", "template 4.9"},
    {"5-currents/marine-mix-wind-msl-wave-current.grb", NULL},
    {"5-currents/rtofs-atlantic-gdt204.grib2", "no wind"},
    {"6-zoo/damage/damage-9-bytes.grb", "no GRIB message"},
    {"6-zoo/damage/damage-begin-only.grib1", "cut short or damaged"},
    {"6-zoo/damage/damage-head-only.grib2", "cut short or damaged"},
    {"6-zoo/damage/damage-truncated-midmessage.grb", NULL},
    {"6-zoo/damage/damage-wrong-origin-10u.grib2", "u without v"},
    {"6-zoo/grids/grid-ll-10uv-20deg.grib1", NULL},
    {"6-zoo/grids/grid-rotated-ll-10uv-20deg.grib1", NULL},
    {"6-zoo/grids/grid-reduced-gg-10u.grib1", "u without v"},
    {"6-zoo/grids/grid-regular-gg-10u.grib1", "u without v"},
    {"6-zoo/grids/grid-polar-stereo-10uv.grib2", NULL},
    {"6-zoo/grids/grid-thinned-ll-10uv-jpeg.grib2", NULL},
    {"6-zoo/grids/grid-no-gds-eta1995.grib1", "only a number"},
    {"6-zoo/grids/grid-healpix.grib2", "no wind"},
    {"6-zoo/grids/grid-template-32769.grib2", "no wind"},
    {"6-zoo/multifield/gfs-2p5deg-f072-344fields.grib2", NULL},
    {"6-zoo/multifield/multi-u-v-one-message.grib2", "level type 220"},
    {"6-zoo/packing/gfs-10uv-simple.grib2", NULL},
    {"6-zoo/packing/gfs-10uv-complex-spdiff.grib2", NULL},
    {"6-zoo/packing/gfs-10u-constant.grib2", "u without v"},
    {"6-zoo/packing/lfpw-second-order-global-10uv.grib1", NULL},
    {"6-zoo/time/time-tri13-local.grib1", "level type 110"},
    {"6-zoo/wind-traps/wind-speed-300hPa-only.grib1", "300 hPa"},
    {"6-zoo/wind-traps/wind-10si-probability.grib2", "template 4.9"},
    {"6-zoo/wind-traps/wind-10uv-1x1-grid.grib2", "fewer than 2 x 2"},
    {"6-zoo/wind-traps/wind-satellite-quikscat.grb", "no wind"},
};

static void every_file_is_read_or_refused_for_its_reason(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof ZOO / sizeof *ZOO; i++) {
        char *path;
        struct loaded loaded = load_real(ZOO[i].name, &path);
        if (loaded.good != (ZOO[i].refused == NULL))
            print_error("%s: %s\n", ZOO[i].name, loaded.error.text);
        assert_int_equal(loaded.good, ZOO[i].refused == NULL);
        if (!loaded.good) {
            assert_int_equal(loaded.error.status, STATUS_INPUT);
            assert_contains(loaded.error.text, ZOO[i].refused);
            assert_contains(loaded.error.text, ZOO[i].name);
            assert_contains(loaded.error.text, ";");
        }
        loaded_free(&loaded);
        free(path);
    }
}

/* The rest of the folder: whatever comes, one line and no crash. */
static void no_file_at_all_takes_the_program_down(void **state) {
    (void)state;
    const char *folder = check_real_file(".");
    if (!folder)
        skip();
    char line[4200];
    snprintf(line, sizeof line, "find '%s' -type f | sort", folder);
    struct ran ran = check_shell(line);
    int files = 0;
    for (char *path = strtok(ran.out, "\n"); path; path = strtok(NULL, "\n")) {
        const char *paths[] = {path};
        struct loaded loaded = load_files(paths, 1, NULL);
        if (loaded.good)
            free(description_text(&loaded));
        else
            assert_null(strchr(loaded.error.text, '\n'));
        loaded_free(&loaded);
        files++;
    }
    assert_true(files > 50);
}

/* --- equalities ------------------------------------------------------------*/

struct decoded_file {
    struct arena arena;
    struct source source;
    struct batch batch;
};

static void decode_bytes(struct decoded_file *file, const uint8_t *bytes,
                         size_t size) {
    struct forecast_options options = forecast_defaults();
    struct error error;
    file->source =
        (struct source){.path = "made",
                        .bytes = bytes,
                        .size = size,
                        .scan = scan_bytes(bytes, size, &file->arena)};
    assert_true(batch_decode(&file->batch, &file->source, 1, &options,
                             &file->arena, &error));
}

static void decode_real(struct decoded_file *file, const char *name) {
    struct forecast_options options = forecast_defaults();
    const char *path = check_real_file(name);
    struct error error;
    arena_init(&file->arena);
    if (!path)
        skip();
    assert_true(source_open(&file->source, path, &file->arena, &error));
    assert_true(batch_decode(&file->batch, &file->source, 1, &options,
                             &file->arena, &error));
}

static void decoded_free(struct decoded_file *file) {
    batch_free(&file->batch);
    source_close(&file->source);
    arena_free(&file->arena);
}

static void assert_alike(const struct grib_field *a, const struct grib_field *b,
                         double tolerance) {
    assert_int_equal(a->fate, FATE_USED);
    assert_int_equal(b->fate, FATE_USED);
    assert_true(grid_same(&a->grid, &b->grid));
    for (size_t i = 0; i < grid_points(&a->grid); i++) {
        double left, right;
        assert_true(field_value(a, i, &left) == field_value(b, i, &right));
        assert_near(left, right, tolerance);
    }
}

static void one_pressure_field_in_three_packings_is_the_same(void **state) {
    (void)state;
    struct decoded_file simple, other;
    static const char *const names[] = {"3-gust-mslp/gefs-prmsl-jpeg.grib2",
                                        "3-gust-mslp/gefs-prmsl-ccsds.grib2"};
    decode_real(&simple, "3-gust-mslp/gefs-prmsl-simple.grib2");
    for (size_t i = 0; i < 2; i++) {
        decode_real(&other, names[i]);
        assert_int_equal(other.batch.fields[0].field.parameter.quantity,
                         QUANTITY_PRESSURE);
        assert_int_equal(other.batch.fields[0].field.member.number, 5);
        assert_alike(&simple.batch.fields[0].field,
                     &other.batch.fields[0].field, 0.0);
        decoded_free(&other);
    }
    decoded_free(&simple);
}

static void one_wind_in_two_packings_is_the_same(void **state) {
    (void)state;
    struct decoded_file simple, complex;
    decode_real(&simple, "6-zoo/packing/gfs-10uv-simple.grib2");
    decode_real(&complex, "6-zoo/packing/gfs-10uv-complex-spdiff.grib2");
    for (size_t i = 0; i < 2; i++)
        assert_alike(&simple.batch.fields[i].field,
                     &complex.batch.fields[i].field, 0.011);
    decoded_free(&complex);
    decoded_free(&simple);
}

/* Seven packings of one field of edition 1. It is a height at 5 hPa: its header
 * is changed into wind at 10 m and its decimal scale by 10,000, so that the
 * values are ones of wind. */
static void one_field_in_seven_packings_of_edition_1_is_the_same(void **state) {
    (void)state;
    enum { NUMBER = 16, LEVEL_TYPE = 17, LEVEL = 19, SCALE = 35, TEN_M = 105 };
    static const char *const names[] = {
        "simple",        "2nd-row-by-row", "2nd-general", "2nd-ext",
        "2nd-ext-boust", "2nd-spd2",       "2nd-spd3"};
    struct decoded_file file[7];
    uint8_t *copies[7];
    for (size_t i = 0; i < 7; i++) {
        char name[80];
        snprintf(name, sizeof name, "6-zoo/packing/pack-lfpw-%s.grib1",
                 names[i]);
        decode_real(&file[i], name);
        size_t size = file[i].source.scan.messages[0].length;
        copies[i] = malloc(size);
        memcpy(copies[i],
               file[i].source.bytes + file[i].source.scan.messages[0].offset,
               size);
        copies[i][NUMBER] = 33;
        copies[i][LEVEL_TYPE] = TEN_M;
        copies[i][LEVEL] = 10;
        copies[i][LEVEL - 1] = 0;
        copies[i][SCALE] = (uint8_t)(copies[i][SCALE] + 4);
        batch_free(&file[i].batch);
        source_close(&file[i].source);
        decode_bytes(&file[i], copies[i], size);
        assert_int_equal(file[i].batch.count, 1);
        if (i > 0)
            assert_alike(&file[0].batch.fields[0].field,
                         &file[i].batch.fields[0].field, 1e-5);
    }
    for (size_t i = 0; i < 7; i++) {
        batch_free(&file[i].batch);
        arena_free(&file[i].arena);
        free(copies[i]);
    }
}

/* --- the files of the passages ---------------------------------------------*/

static void the_wind_and_waves_of_seven_days_are_whole(void **state) {
    (void)state;
    const char *wind = check_real_file("1-wind-series/"
                                       "madagascar-wind-7days.grb");
    if (!wind)
        skip();
    char *first = strdup(wind);
    char *second = strdup(check_real_file("2-waves/madagascar-wave-7days.grb"));
    const char *paths[] = {first, second};
    struct loaded loaded = load_files(paths, 2, NULL);
    assert_true(loaded.good);
    assert_int_equal(forecast_warning_count(loaded.forecast), 0);
    for (int i = 0; i < 2; i++) {
        struct field_summary summary =
            forecast_summary(loaded.forecast, i ? QUANTITY_SEA : QUANTITY_WIND);
        char text[INSTANT_TEXT_SIZE];
        assert_int_equal(summary.steps, 27);
        assert_near(summary.longest_gap_s, 6.0 * 3600.0, 0.0);
        instant_print(summary.first, text);
        assert_string_equal(text, "2016-03-01T12:00:00Z");
        instant_print(summary.last, text);
        assert_string_equal(text, "2016-03-08T00:00:00Z");
    }
    /* off Reunion, open water; and the middle of Madagascar, masked */
    struct weather weather;
    double noon_s = 1456833600.0; /* 2016-03-01T12:00Z */
    assert_int_equal(forecast_at(loaded.forecast,
                                 (struct position){-21.5, 55.0},
                                 noon_s + 3600.0, &weather),
                     COVERAGE_INSIDE);
    assert_true(weather.sea.known);
    assert_true(weather.sea.height_m > 0.3 && weather.sea.height_m < 8.0);
    assert_int_equal(forecast_at(loaded.forecast,
                                 (struct position){-19.5, 46.3}, noon_s,
                                 &weather),
                     COVERAGE_OUTSIDE_AREA);
    loaded_free(&loaded);
    free(first);
    free(second);
}

static void the_sea_of_a_wave_model_comes_in_its_parts(void **state) {
    (void)state;
    char *path;
    struct loaded loaded =
        load_real("2-waves/gdaswave-wcoast-f000.grib2", &path);
    assert_true(loaded.good);
    for (int i = QUANTITY_SEA; i <= QUANTITY_SWELL_3; i++)
        assert_true(
            forecast_summary(loaded.forecast, (enum quantity)i).present);
    struct weather weather;
    forecast_at(
        loaded.forecast, (struct position){38.0, -130.0},
        (double)forecast_summary(loaded.forecast, QUANTITY_WIND).first.unix_s,
        &weather);
    assert_true(weather.wind_known && weather.sea.known);
    /* energies of the parts add up to that of the whole, to a fifth */
    double parts = 0.0;
    const struct wave_system *systems[] = {&weather.wind_sea, &weather.swell[0],
                                           &weather.swell[1],
                                           &weather.swell[2]};
    for (size_t i = 0; i < 4; i++) {
        if (systems[i]->known)
            parts += systems[i]->height_m * systems[i]->height_m;
    }
    assert_near(sqrt(parts), weather.sea.height_m, 0.2 * weather.sea.height_m);
    loaded_free(&loaded);
    free(path);
}

static void three_grids_in_one_file_each_serve(void **state) {
    (void)state;
    char *path;
    struct loaded loaded =
        load_real("5-currents/marine-mix-wind-msl-wave-current.grb", &path);
    struct weather weather;
    assert_true(loaded.good);
    /* west of Brittany; the areas cross Greenwich */
    forecast_at(
        loaded.forecast, (struct position){48.0, -8.0},
        (double)forecast_summary(loaded.forecast, QUANTITY_WIND).first.unix_s,
        &weather);
    assert_true(weather.wind_known);
    assert_true(weather.current_known);
    assert_true(weather.pressure_pa.known);
    assert_true(weather.sea.known);
    assert_true(vector_length(weather.current) < 3.0);
    assert_near(weather.pressure_pa.value, 101325.0, 6000.0);
    loaded_free(&loaded);
    free(path);
}

static void gust_ranges_of_six_hours_hold_over_them(void **state) {
    (void)state;
    struct decoded_file file;
    decode_real(&file, "3-gust-mslp/storm-joachim-gust-5ranges.grib");
    assert_int_equal(file.batch.count, 5);
    for (size_t i = 0; i < 5; i++) {
        const struct grib_field *field = &file.batch.fields[i].field;
        assert_int_equal(field->fate, FATE_USED);
        assert_int_equal(field->parameter.quantity, QUANTITY_GUST);
        assert_true(field->validity.interval);
        assert_near(instant_minus(field->validity.start, field->run),
                    (6.0 + 6.0 * (double)i) * 3600.0, 0.0);
        assert_near(instant_minus(field->validity.end, field->run),
                    (12.0 + 6.0 * (double)i) * 3600.0, 0.0);
    }
    decoded_free(&file);
}

static void fifty_one_members_are_told_apart(void **state) {
    (void)state;
    struct decoded_file file;
    int controls = 0, perturbed[51] = {0};
    decode_real(&file, "4-ensemble/ec-ens51-gust-stjude.grib1");
    for (size_t i = 0; i < file.batch.count; i++) {
        const struct grib_field *field = &file.batch.fields[i].field;
        if (field->fate != FATE_USED)
            continue;
        controls += field->member.kind == MEMBER_CONTROL;
        if (field->member.kind == MEMBER_PERTURBED)
            perturbed[field->member.number]++;
    }
    assert_int_equal(controls, 3);
    for (int number = 1; number <= 50; number++)
        assert_int_equal(perturbed[number], 3);
    decoded_free(&file);
}

static void a_truncated_file_gives_its_whole_messages(void **state) {
    (void)state;
    char *path;
    struct loaded loaded =
        load_real("6-zoo/damage/damage-truncated-midmessage.grb", &path);
    assert_true(loaded.good);
    assert_int_equal(forecast_summary(loaded.forecast, QUANTITY_WIND).steps,
                     18);
    char *warnings = warnings_text(&loaded);
    assert_contains(warnings, "at byte 59452 is cut short");
    assert_contains(warnings, "u without v at 2016-03-06T00:00:00Z");
    assert_contains(warnings, "the wind reaches to 2016-03-05T18:00:00Z");
    free(warnings);
    loaded_free(&loaded);
    free(path);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_file_is_read_or_refused_for_its_reason),
        cmocka_unit_test(no_file_at_all_takes_the_program_down),
        cmocka_unit_test(one_pressure_field_in_three_packings_is_the_same),
        cmocka_unit_test(one_wind_in_two_packings_is_the_same),
        cmocka_unit_test(one_field_in_seven_packings_of_edition_1_is_the_same),
        cmocka_unit_test(the_wind_and_waves_of_seven_days_are_whole),
        cmocka_unit_test(the_sea_of_a_wave_model_comes_in_its_parts),
        cmocka_unit_test(three_grids_in_one_file_each_serve),
        cmocka_unit_test(gust_ranges_of_six_hours_hold_over_them),
        cmocka_unit_test(fifty_one_members_are_told_apart),
        cmocka_unit_test(a_truncated_file_gives_its_whole_messages),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
