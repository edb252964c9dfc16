#include "../support/check.h"

#include "../support/grib_maker.h"
#include "../support/load.h"
#include "forecast/decode.h"
#include <eccodes.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <time.h>
#include <unistd.h>

#ifdef __has_feature
#define HAS_FEATURE(name) __has_feature(name)
#else
#define HAS_FEATURE(name) 0
#endif
#if defined(__SANITIZE_ADDRESS__) || HAS_FEATURE(address_sanitizer)
enum { UNDER_SANITIZER = 1 };
#else
enum { UNDER_SANITIZER = 0 };
#endif

/* A source of bytes that no file holds. */
static struct source source_of(const struct grib_bytes *bytes,
                               struct arena *arena) {
    return (struct source){.path = "made",
                           .bytes = bytes->bytes,
                           .size = bytes->size,
                           .scan =
                               scan_bytes(bytes->bytes, bytes->size, arena)};
}

static void count_call(void *context) {
    int *calls = context;
    ++*calls;
}

/* However many children there are, what is done meanwhile is done once. */
static void fields_come_in_the_order_of_the_files(void **state) {
    (void)state;
    struct forecast_options options = forecast_defaults();
    int calls = 0;
    options.meanwhile = count_call;
    options.context = &calls;
    struct grib_bytes bytes[2] = {{0}, {0}};
    struct source sources[2];
    struct arena arena;
    struct batch batch;
    struct error error;
    struct grib_spec u = {.edition = 2, .category = 2, .number = 2};
    struct grib_spec v = {.edition = 2, .category = 2, .number = 3};
    arena_init(&arena);
    for (int file = 0; file < 2; file++) {
        for (int lead = 0; lead < 20; lead++) {
            u.lead = v.lead = lead;
            grib_add_joined(&bytes[file], &u, &v, false);
        }
        sources[file] = source_of(&bytes[file], &arena);
    }
    assert_true(batch_decode(&batch, sources, 2, &options, &arena, &error));
    assert_int_equal(calls, 1);
    assert_int_equal(batch.count, 80);
    assert_int_equal(batch.loss_count, 0);
    for (size_t i = 0; i < batch.count; i++) {
        const struct decoded *decoded = &batch.fields[i];
        assert_int_equal(decoded->source, i / 40);
        assert_int_equal(decoded->message, i % 40 / 2);
        assert_int_equal(decoded->number, i % 2 + 1);
        assert_int_equal(decoded->field.parameter.part,
                         i % 2 ? PART_NORTH : PART_EAST);
    }
    batch_free(&batch);
    grib_free(&bytes[0]);
    grib_free(&bytes[1]);
    arena_free(&arena);
}

/* The whole of a load, as text: description, warnings, samples. */
static char *fingerprint(const char *path, int workers) {
    struct forecast_options options = forecast_defaults();
    options.workers = workers;
    struct loaded loaded = load_files(&path, 1, &options);
    char *description = description_text(&loaded), *text = NULL;
    struct seed seed = {53};
    size_t size;
    FILE *stream = open_memstream(&text, &size);
    fputs(description, stream);
    for (int i = 0; i < 500; i++) {
        double lat = seed_between(&seed, 48.0, 51.0);
        double lon = seed_between(&seed, -11.0, -8.0);
        struct weather weather =
            weather_at(&loaded, lat, lon, seed_between(&seed, 0.0, 50.0));
        fprintf(stream, "%a %a %d\n", weather.wind.east, weather.wind.north,
                weather.wind_known);
    }
    fclose(stream);
    free(description);
    loaded_free(&loaded);
    return text;
}

static void the_number_of_workers_changes_nothing(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    for (int lead = 0; lead < 48; lead += 3) {
        struct grib_spec spec = {.edition = lead % 2 ? 1 : 2, .lead = lead};
        grib_add_wind(&bytes, &spec, 5.0 + lead, 3.0);
    }
    const char *path = save_bytes(&bytes, "workers.grib");
    char *one = fingerprint(path, 1);
    for (int workers = 2; workers <= 5; workers++) {
        char *more = fingerprint(path, workers);
        assert_string_equal(one, more);
        free(more);
    }
    free(one);
}

/* A header that was there before is answered from memory; the values are the
 * message's own, in whatever packing. */
static void every_step_has_its_own_values_in_every_packing(void **state) {
    (void)state;
    static const char *const packings[] = {NULL, "grid_jpeg", "grid_ccsds",
                                           "grid_ieee"};
    for (size_t kind = 0; kind < sizeof packings / sizeof *packings; kind++) {
        struct grib_bytes bytes = {0};
        double values[16];
        for (int step = 0; step < 5; step++) {
            struct grib_spec spec = {.edition = 2,
                                     .category = 2,
                                     .lead = 6 * step,
                                     .ni = 4,
                                     .nj = 4,
                                     .values = values,
                                     .packing = packings[kind]};
            for (int part = 0; part < 2; part++) {
                for (int i = 0; i < 16; i++)
                    values[i] = 3.0 * step + 0.25 * i - 20.0 * part;
                spec.number = 2 + part;
                grib_add(&bytes, &spec);
            }
        }
        struct loaded loaded = load_bytes(&bytes, NULL);
        for (int step = 0; step < 5; step++) {
            /* the first point of the file is the north-west corner */
            struct weather weather =
                weather_at(&loaded, 50.0, -10.0, 6.0 * step);
            assert_near(weather.wind.east, 3.0 * step, 1e-3);
            assert_near(weather.wind.north, 3.0 * step - 20.0, 1e-3);
            weather = weather_at(&loaded, 49.0, -9.0, 6.0 * step);
            assert_near(weather.wind.east, 3.0 * step + 3.75, 1e-3);
        }
        loaded_free(&loaded);
    }
}

static void what_is_spared_is_not_there(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    struct forecast_options options = forecast_defaults();
    struct grib_spec wind = {.edition = 2};
    struct grib_spec pressure = {.edition = 2,
                                 .category = 3,
                                 .number = 1,
                                 .level_type = 101,
                                 .fill = 101000.0};
    options.spared = 1U << QUANTITY_PRESSURE;
    for (int lead = 0; lead < 12; lead += 6) {
        wind.lead = pressure.lead = lead;
        grib_add_wind(&bytes, &wind, 5.0, 0.0);
        grib_add(&bytes, &pressure);
    }
    const char *path = save_bytes(&bytes, "spared.grib");
    for (int spares = 0; spares < 2; spares++) {
        struct loaded loaded = load_files(&path, 1, spares ? &options : NULL);
        struct weather weather = weather_at(&loaded, 49.5, -9.5, 3.0);
        assert_true(weather.wind_known);
        assert_true(weather.pressure_pa.known == !spares);
        assert_int_equal(forecast_warning_count(loaded.forecast), 0);
        loaded_free(&loaded);
    }
}

/* --- damage ----------------------------------------------------------------*/

/* A pressure field in JPEG 2000; flips in the head of its image abort or crash
 * the library of release 2.28. */
static void add_pressure_image(struct grib_bytes *bytes, int at, int bit) {
    double values[36];
    for (int i = 0; i < 36; i++)
        values[i] = 101000.0 + 37.0 * i;
    struct grib_spec spec = {.edition = 2,
                             .category = 3,
                             .number = 1,
                             .level_type = 101,
                             .ni = 6,
                             .nj = 6,
                             .first_lat = 50,
                             .first_lon = 350,
                             .last_lat = 45,
                             .last_lon = 355,
                             .values = values,
                             .packing = "grid_jpeg"};
    size_t start = grib_add(bytes, &spec);
    bytes->bytes[start + (size_t)at] ^= (uint8_t)(1 << bit);
}

static void a_message_that_kills_its_child_is_lost_alone(void **state) {
    (void)state;
    enum { RELEASE_2_28 = 22800, IMAGE_WIDTH_AT = 186 };
    struct grib_bytes bytes = {0};
    struct grib_spec spec = {.edition = 2};
    if (codes_get_api_version() != RELEASE_2_28) {
        print_message("skipped: another release of the library\n");
        skip();
    }
    for (int bit = 0; bit < 8; bit++)
        add_pressure_image(&bytes, IMAGE_WIDTH_AT + 1, bit);
    grib_add_wind(&bytes, &spec, 5.0, 0.0);
    for (int bit = 0; bit < 8; bit++)
        add_pressure_image(&bytes, IMAGE_WIDTH_AT, bit);
    const char *path = save_bytes(&bytes, "image.grib");
    for (int workers = 1; workers <= 3; workers++) {
        struct forecast_options options = forecast_defaults();
        options.workers = workers;
        struct loaded loaded = load_files(&path, 1, &options);
        assert_true(loaded.good);
        assert_near(weather_at(&loaded, 49.5, -9.5, 0.0).wind.east, 5.0, 1e-3);
        char *warnings = warnings_text(&loaded);
        /* which of the images do it depends on what lies beside them in
         * memory, and so on every change of the program */
        assert_contains(warnings, " is lost: it is damaged, and the GRIB "
                                  "library broke down on it");
        assert_contains(warnings, "image.grib");
        free(warnings);
        loaded_free(&loaded);
    }
}

/* The parent has mapped and scanned it, then it gets shorter. */
static void a_file_cut_short_while_it_is_read_is_told_as_that(void **state) {
    (void)state;
    struct arena arena;
    struct error error;
    struct source source;
    struct batch batch;
    struct grib_bytes bytes = {0};
    struct grib_spec spec = {.edition = 2};
    grib_add_wind(&bytes, &spec, 5.0, 0.0);
    while (bytes.size < 3 * (size_t)sysconf(_SC_PAGESIZE))
        grib_add_wind(&bytes, &spec, 5.0, 0.0);
    const char *path = save_bytes(&bytes, "shorter.grib");
    struct forecast_options options = forecast_defaults();
    arena_init(&arena);
    assert_true(source_open(&source, path, &arena, &error));
    assert_int_equal(truncate(path, sysconf(_SC_PAGESIZE)), 0);
    assert_true(batch_decode(&batch, &source, 1, &options, &arena, &error));
    assert_true(batch.count > 0 && batch.loss_count > 0);
    assert_contains(batch.losses[batch.loss_count - 1].cause,
                    "its file was cut short");
    batch_free(&batch);
    source_close(&source);
    arena_free(&arena);
}

/* Every bit of the header turned, one message each: whatever the library makes
 * of them, the sound message at the end is read. Each step of the loop is a
 * load, so a few bytes of each message at a time. */
static void flipped_bits_never_take_the_rest_with_them(void **state) {
    (void)state;
    static const char *const packings[] = {NULL, "grid_jpeg", "grid_ccsds"};
    int stride = check_is_long() ? 1 : 5;
    double values[16];
    for (int i = 0; i < 16; i++)
        values[i] = 0.7 * i;
    for (size_t kind = 0; kind < 4; kind++) {
        struct grib_bytes model = {0}, all = {0};
        bool first = kind == 3;
        struct grib_spec spec = {.edition = first ? 1 : 2,
                                 .category = 2,
                                 .number = first ? 33 : 2,
                                 .ni = 4,
                                 .nj = 4,
                                 .values = values,
                                 .packing = first ? NULL : packings[kind]};
        struct grib_spec sound = {.edition = 2, .lead = 12};
        grib_add(&model, &spec);
        for (size_t bit = 64; bit < 8 * (model.size - 4);
             bit += (size_t)stride) {
            size_t start = all.size;
            grib_add_bytes(&all, model.bytes, model.size);
            all.bytes[start + bit / 8] ^= (uint8_t)(1 << bit % 8);
        }
        grib_add_wind(&all, &sound, 5.0, 1.0);
        struct loaded loaded = load_bytes(&all, NULL);
        assert_true(loaded.good);
        assert_near(weather_at(&loaded, 49.5, -9.5, 12.0).wind.east, 5.0, 1e-3);
        loaded_free(&loaded);
        grib_free(&model);
    }
}

static void absurd_sizes_cost_neither_time_nor_memory(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    struct grib_spec wind = {.edition = 2};
    struct grib_spec huge = {
        .edition = 2, .category = 3, .number = 1, .level_type = 101};
    struct timespec start, end;
    struct rusage usage;
    huge.late[0] = (struct grib_setting){"Ni", 20000};
    huge.late[1] = (struct grib_setting){"Nj", 20000};
    huge.late[2] = (struct grib_setting){"numberOfDataPoints", 400000000};
    huge.late[3] = (struct grib_setting){"numberOfValues", 400000000};
    grib_add(&bytes, &huge);
    grib_add_wind(&bytes, &wind, 5.0, 0.0);
    grib_add(&bytes, &huge);
    clock_gettime(CLOCK_MONOTONIC, &start);
    struct loaded loaded = load_bytes(&bytes, NULL);
    clock_gettime(CLOCK_MONOTONIC, &end);
    assert_true(loaded.good);
    getrusage(RUSAGE_CHILDREN, &usage);
    /* a few seconds on a loaded machine under the sanitizers */
    assert_true(end.tv_sec - start.tv_sec <= 5);
    if (!UNDER_SANITIZER)
        assert_true(usage.ru_maxrss < 100 * 1024);
    char *warnings = warnings_text(&loaded);
    assert_contains(warnings, "limit of 20 million");
    free(warnings);
    loaded_free(&loaded);
}

static void sections_that_do_not_add_up_are_damage(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    struct grib_spec u = {.edition = 2, .category = 2, .number = 2};
    struct grib_spec v = {.edition = 2, .category = 2, .number = 3};
    struct grib_spec wind = {.edition = 2, .lead = 6};
    grib_add_joined(&bytes, &u, &v, true); /* no bitmap to take again */
    grib_add_wind(&bytes, &wind, 5.0, 0.0);
    struct loaded loaded = load_bytes(&bytes, NULL);
    assert_true(loaded.good);
    char *warnings = warnings_text(&loaded);
    assert_contains(warnings, "sections that don't add up");
    assert_contains(warnings, "u without v at 2024-02-28T18:00:00Z");
    free(warnings);
    loaded_free(&loaded);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        /* first: the greatest child of all is asked for */
        cmocka_unit_test(absurd_sizes_cost_neither_time_nor_memory),
        cmocka_unit_test(fields_come_in_the_order_of_the_files),
        cmocka_unit_test(the_number_of_workers_changes_nothing),
        cmocka_unit_test(every_step_has_its_own_values_in_every_packing),
        cmocka_unit_test(what_is_spared_is_not_there),
        cmocka_unit_test(a_message_that_kills_its_child_is_lost_alone),
        cmocka_unit_test(a_file_cut_short_while_it_is_read_is_told_as_that),
        cmocka_unit_test(flipped_bits_never_take_the_rest_with_them),
        cmocka_unit_test(sections_that_do_not_add_up_are_damage),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
