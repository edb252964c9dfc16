#include "../support/check.h"

#include "../support/grib_maker.h"
#include "../support/load.h"
#include "forecast/decode.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* One field, read in this process: the bytes are known to be good. */
struct one {
    struct grib_reader reader;
    struct grib_field field;
};

static void read_one(struct one *one, const struct grib_spec *spec) {
    struct grib_bytes bytes = {0};
    *one = (struct one){0};
    grib_add(&bytes, spec);
    grib_read(&one->reader, bytes.bytes, bytes.size, &one->field);
    grib_free(&bytes);
}

static double value_at(const struct one *one, int column, int row) {
    size_t point = (size_t)(row * one->field.grid.ni + column);
    assert_true(one->field.known[point]);
    return (double)one->field.values[point];
}

/* --- scanning ------------------------------------------------------------- */

/* Values 1..6 in the order of the file on 49-50N, 350-352E; where each stands
 * follows from the flags (WMO Manual on Codes, flag table 3.4). */
static void every_scanning_mode_puts_values_in_their_place(void **state) {
    (void)state;
    static const double values[6] = {1, 2, 3, 4, 5, 6};
    static const struct {
        int mode;
        double rows[2][3]; /* south row first, west to east */
    } cases[] = {
        {0x00, {{4, 5, 6}, {1, 2, 3}}}, {0x40, {{1, 2, 3}, {4, 5, 6}}},
        {0x80, {{6, 5, 4}, {3, 2, 1}}}, {0xc0, {{3, 2, 1}, {6, 5, 4}}},
        {0x20, {{2, 4, 6}, {1, 3, 5}}}, {0x60, {{1, 3, 5}, {2, 4, 6}}},
        {0x10, {{6, 5, 4}, {1, 2, 3}}}, {0x50, {{1, 2, 3}, {6, 5, 4}}},
        {0x70, {{1, 4, 5}, {2, 3, 6}}},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        bool west = cases[i].mode & 0x80, north = cases[i].mode & 0x40;
        struct grib_spec spec = {.edition = 2,
                                 .category = 2,
                                 .number = 2,
                                 .ni = 3,
                                 .nj = 2,
                                 .first_lat = north ? 49 : 50,
                                 .last_lat = north ? 50 : 49,
                                 .first_lon = west ? 352 : 350,
                                 .last_lon = west ? 350 : 352,
                                 .values = values,
                                 .early = {{"scanningMode", cases[i].mode}}};
        struct one one;
        read_one(&one, &spec);
        assert_int_equal(one.field.fate, FATE_USED);
        assert_near(one.field.grid.south_deg, 49.0, 1e-9);
        assert_near(one.field.grid.west_deg, -10.0, 1e-9);
        for (int row = 0; row < 2; row++) {
            for (int column = 0; column < 3; column++)
                assert_near(value_at(&one, column, row),
                            cases[i].rows[row][column], 1e-3);
        }
        grib_reader_free(&one.reader);
    }
}

static void u_and_v_of_unlike_scanning_make_the_right_vectors(void **state) {
    (void)state;
    static const double values[6] = {1, 2, 3, 4, 5, 6};
    struct grib_bytes bytes = {0};
    struct grib_spec spec = {.edition = 2,
                             .category = 2,
                             .number = 2,
                             .ni = 3,
                             .first_lat = 50,
                             .first_lon = 350,
                             .last_lat = 49,
                             .last_lon = 352,
                             .values = values};
    grib_add(&bytes, &spec);
    spec.number = 3;
    spec.first_lat = 49;
    spec.last_lat = 50;
    spec.early[0] = (struct grib_setting){"scanningMode", 0x40};
    grib_add(&bytes, &spec);
    struct loaded loaded = load_bytes(&bytes, NULL);
    struct vector_mps corner = weather_at(&loaded, 50.0, -10.0, 0.0).wind;
    assert_near(corner.east, 1.0, 1e-3);
    assert_near(corner.north, 4.0, 1e-3);
    corner = weather_at(&loaded, 49.0, -8.0, 0.0).wind;
    assert_near(corner.east, 6.0, 1e-3);
    assert_near(corner.north, 3.0, 1e-3);
    loaded_free(&loaded);
}

/* --- longitudes ----------------------------------------------------------- */

static void areas_over_greenwich_and_180_are_whole(void **state) {
    (void)state;
    static const double five[10] = {1, 2, 3, 4, 5, 1, 2, 3, 4, 5};
    static const double three[6] = {1, 2, 3, 1, 2, 3};
    static const struct {
        int edition, ni;
        double first, last, at_lon, expected;
    } cases[] = {
        {2, 5, 178, 182, -179.5, 3.5},  {2, 5, 178, -178, -179.5, 3.5},
        {1, 5, 178, -178, -179.5, 3.5}, {1, 5, 178, 182, -179.5, 3.5},
        {2, 3, 359, 1, 0.0, 2.0},       {2, 3, 359, 1, -0.5, 1.5},
        {2, 3, -1, 1, 0.0, 2.0},        {2, 3, -1, 1, -0.5, 1.5},
        {1, 3, 359, 1, -0.5, 1.5},      {1, 3, -1, 1, 0.0, 2.0},
        {1, 3, -1, 1, -0.5, 1.5},       {2, 5, 538, 542, -179.5, 3.5},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct grib_bytes bytes = {0};
        bool first = cases[i].edition == 1;
        struct grib_spec spec = {.edition = cases[i].edition,
                                 .category = 2,
                                 .ni = cases[i].ni,
                                 .first_lat = 50,
                                 .first_lon = cases[i].first,
                                 .last_lat = 49,
                                 .last_lon = cases[i].last,
                                 .values = cases[i].ni == 5 ? five : three};
        for (int part = 0; part < 2; part++) {
            spec.number = (first ? 33 : 2) + part;
            grib_add(&bytes, &spec);
        }
        struct loaded loaded = load_bytes(&bytes, NULL);
        assert_near(weather_at(&loaded, 49.5, cases[i].at_lon, 0.0).wind.east,
                    cases[i].expected, 1e-3);
        assert_int_equal(
            coverage_at(&loaded, 49.5, cases[i].at_lon + 90.0, 0.0),
            COVERAGE_OUTSIDE_AREA);
        loaded_free(&loaded);
    }
}

/* A globe of columns whose value is the distance from 0 in longitude. */
static struct loaded globe(int columns, double first, double last) {
    struct grib_bytes bytes = {0};
    double *values = calloc((size_t)columns * 2, sizeof *values);
    for (int i = 0; i < 2 * columns; i++) {
        double lon = first + i % columns;
        values[i] = fabs(remainder(lon, 360.0));
        if (values[i] > 149.0)
            values[i] = 149.0;
    }
    struct grib_spec spec = {.edition = 2,
                             .category = 2,
                             .ni = columns,
                             .first_lat = 50,
                             .first_lon = first,
                             .last_lat = 49,
                             .last_lon = last,
                             .values = values,
                             .bits = 24};
    for (int part = 2; part <= 3; part++) {
        spec.number = part;
        grib_add(&bytes, &spec);
    }
    free(values);
    return load_bytes(&bytes, NULL);
}

static void a_repeated_last_column_changes_nothing(void **state) {
    (void)state;
    static const struct {
        int columns;
        double first, last;
    } cases[] = {{360, 0.0, 359.0},    {361, 0.0, 360.0},
                 {361, 0.0, 360.001},  {361, -180.0, 180.0},
                 {360, -180.0, 179.0}, {360, 180.0, 539.0}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct loaded loaded =
            globe(cases[i].columns, cases[i].first, cases[i].last);
        assert_near(weather_at(&loaded, 49.5, -0.5, 0.0).wind.east, 0.5, 1e-3);
        assert_near(weather_at(&loaded, 49.5, 0.25, 0.0).wind.east, 0.25, 1e-3);
        assert_near(weather_at(&loaded, 49.5, 100.5, 0.0).wind.east, 100.5,
                    0.01);
        assert_near(weather_at(&loaded, 49.5, -179.9, 0.0).wind.east, 149.0,
                    0.01);
        struct area area = forecast_area(loaded.forecast, QUANTITY_WIND);
        assert_near(area.east_deg - area.west_deg, 360.0, 1e-9);
        loaded_free(&loaded);
    }
}

/* --- editions --------------------------------------------------------------
 */

static void one_wind_is_made_of_two_editions(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    /* thirds of a degree: rounded to 0.001 in edition 1 */
    struct grib_spec u = {.edition = 1,
                          .number = 33,
                          .ni = 4,
                          .first_lat = 50,
                          .first_lon = -10,
                          .last_lat = 49.667,
                          .last_lon = -9,
                          .fill = 6.0};
    struct grib_spec v = u;
    v.edition = 2;
    v.category = 2;
    v.number = 3;
    v.last_lat = 49.0 + 2.0 / 3.0;
    v.fill = 8.0;
    grib_add(&bytes, &u);
    grib_add(&bytes, &v);
    struct loaded loaded = load_bytes(&bytes, NULL);
    struct weather weather = weather_at(&loaded, 49.8, -9.4, 0.0);
    assert_near(vector_length(weather.wind), 10.0, 1e-3);
    loaded_free(&loaded);
}

static void waves_of_one_edition_join_wind_of_the_other(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    struct grib_spec wind = {.edition = 1};
    struct grib_spec waves = {.edition = 2,
                              .discipline = 10,
                              .number = 3,
                              .level_type = 1,
                              .fill = 2.0};
    grib_add_wind(&bytes, &wind, 5.0, 0.0);
    grib_add(&bytes, &waves);
    struct loaded loaded = load_bytes(&bytes, NULL);
    struct weather weather = weather_at(&loaded, 49.5, -9.5, 0.0);
    assert_true(weather.wind_known);
    assert_near(weather.sea_height_m.value, 2.0, 1e-3);
    loaded_free(&loaded);
}

/* In one child: values of the first message stay packed, as long as it is not
 * constant; the library unpacks those of the next one. */
static void values_of_one_edition_follow_those_of_the_other(void **state) {
    (void)state;
    static const double values[] = {4.0, 6.0, 4.0, 6.0};
    struct forecast_options options = forecast_defaults();
    struct grib_bytes bytes = {0};
    struct grib_spec spec = {.category = 2, .number = 2, .values = values};
    grib_add(&bytes, &spec);
    spec.number = 3;
    grib_add(&bytes, &spec);
    spec = (struct grib_spec){.edition = 1, .lead = 6};
    grib_add_wind(&bytes, &spec, 7.0, 0.0);
    options.workers = 1;
    struct loaded loaded = load_bytes(&bytes, &options);
    assert_true(loaded.good);
    assert_near(weather_at(&loaded, 49.5, -9.5, 0.0).wind.east, 5.0, 1e-3);
    assert_near(weather_at(&loaded, 49.5, -9.5, 6.0).wind.east, 7.0, 1e-3);
    loaded_free(&loaded);
}

static void both_parts_in_one_message_are_found(void **state) {
    (void)state;
    for (int reuse = 0; reuse < 2; reuse++) {
        struct grib_bytes bytes = {0};
        struct grib_spec u = {.edition = 2,
                              .category = 2,
                              .number = 2,
                              .fill = 1.0,
                              .masked = reuse == 1,
                              .hole = 9999.0};
        struct grib_spec v = u;
        v.number = 3;
        v.fill = 11.0;
        static const double holed_u[4] = {1.0, 1.0, 1.0, 9999.0};
        static const double holed_v[4] = {11.0, 11.0, 11.0, 9999.0};
        if (reuse) {
            u.values = holed_u;
            v.values = holed_v;
        }
        grib_add_joined(&bytes, &u, &v, reuse == 1);
        struct loaded loaded = load_bytes(&bytes, NULL);
        struct vector_mps wind = weather_at(&loaded, 50.0, -10.0, 0.0).wind;
        /* |(1, 11)| and atan2(-1, -11) */
        assert_near(vector_length(wind), 11.05, 0.005);
        assert_angle_near(vector_direction_from(wind), 185.2, 0.05);
        assert_int_equal(coverage_at(&loaded, 49.0, -9.0, 0.0),
                         reuse ? COVERAGE_OUTSIDE_AREA : COVERAGE_INSIDE);
        loaded_free(&loaded);
    }
}

/* --- missing values
 * ---------------------------------------------------------*/

static void an_absurd_number_in_the_data_is_missing(void **state) {
    (void)state;
    static const double values[4] = {2.0, 9999.0, 2.0, 2.0};
    struct grib_spec spec = {.edition = 2,
                             .discipline = 10,
                             .number = 3,
                             .level_type = 1,
                             .values = values,
                             .bits = 24};
    struct one one;
    read_one(&one, &spec);
    assert_int_equal(one.field.fate, FATE_USED);
    assert_int_equal(one.field.wild, 1);
    assert_int_equal(one.field.missing, 0);
    assert_near(value_at(&one, 0, 1), 2.0, 1e-3);
    assert_false(one.field.known[3]); /* the north-east corner */
    grib_reader_free(&one.reader);
}

/* Memory goes, what the reader was told stays. */
static void a_reader_set_free_is_to_read_the_same(void **state) {
    (void)state;
    static const struct grid_bounds wanted = {40.0, 50.0, -10.0, 0.0};
    struct grib_spec spec = {.category = 2, .number = 2};
    struct one one;
    read_one(&one, &spec);
    one.reader.spared = 5;
    one.reader.placings.wanted = &wanted;
    grib_reader_free(&one.reader);
    assert_null(one.reader.raw);
    assert_int_equal(one.reader.spared, 5);
    assert_ptr_equal(one.reader.placings.wanted, &wanted);
}

static void missing_values_of_complex_packing_are_missing(void **state) {
    (void)state;
    struct forecast_options options = forecast_defaults();
    /* land is masked in the groups of complex packing, with no bitmap; the
     * library reads such messages but does not write them, so this is a
     * file of a weather centre */
    const char *path =
        check_real_file("2-waves/gfswave-global-swell-complex.grib2");
    if (!path)
        skip();
    struct arena arena;
    arena_init(&arena);
    struct source source;
    struct error error;
    struct batch batch;
    assert_true(source_open(&source, path, &arena, &error));
    assert_true(batch_decode(&batch, &source, 1, &options, &arena, &error));
    assert_int_equal(batch.count, 1);
    const struct grib_field *field = &batch.fields[0].field;
    assert_int_equal(field->fate, FATE_USED);
    assert_int_equal(field->parameter.quantity, QUANTITY_SWELL_3);
    assert_true(field->missing > 300000); /* all land at least */
    assert_int_equal(field->wild, 0);
    batch_free(&batch);
    source_close(&source);
    arena_free(&arena);
}

static void a_true_9999_is_a_value(void **state) {
    (void)state;
    static const double values[4] = {99990.0, 100010.0, 99990.0, 99999.0};
    struct grib_spec spec = {.edition = 2,
                             .category = 3,
                             .number = 1,
                             .level_type = 101,
                             .values = values};
    struct one one;
    read_one(&one, &spec);
    assert_int_equal(one.field.fate, FATE_USED);
    assert_int_equal(one.field.missing + one.field.wild, 0);
    assert_near(value_at(&one, 1, 0), 99999.0, 0.1);
    grib_reader_free(&one.reader);
}

static void values_flattened_by_an_absurd_one_are_damage(void **state) {
    (void)state;
    static const double values[4] = {5.0, 9.999e20, 6.0, 7.0};
    struct grib_spec spec = {
        .edition = 2, .category = 2, .number = 2, .values = values};
    struct one one;
    read_one(&one, &spec);
    assert_int_equal(one.field.fate, FATE_DAMAGED);
    assert_contains(one.field.cause, "flattened");
    grib_reader_free(&one.reader);
}

static void limits_of_nature_hold_for_every_quantity(void **state) {
    (void)state;
    static const struct {
        struct grib_spec spec;
        double good, bad;
    } cases[] = {
        {{.edition = 2, .category = 2, .number = 2}, -149.0, -151.0},
        {{.edition = 2, .category = 2, .number = 22}, 149.0, 151.0},
        {{.edition = 2, .category = 3, .number = 1, .level_type = 101},
         87000.0,
         870.0},
        {{.edition = 2, .discipline = 10, .number = 3, .level_type = 1},
         39.0,
         41.0},
        {{.edition = 2, .discipline = 10, .number = 11, .level_type = 1},
         59.0,
         61.0},
        {{.edition = 2, .discipline = 10, .number = 10, .level_type = 1},
         360.0,
         370.0},
        {{.edition = 2,
          .discipline = 10,
          .category = 1,
          .number = 2,
          .level_type = 1},
         -9.0,
         11.0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        double values[4] = {cases[i].good, cases[i].good, cases[i].bad,
                            cases[i].good};
        struct grib_spec spec = cases[i].spec;
        spec.values = values;
        spec.bits = 24;
        struct one one;
        read_one(&one, &spec);
        assert_int_equal(one.field.wild, 1);
        assert_false(one.field.known[0]);
        assert_near(value_at(&one, 1, 1), cases[i].good, 0.01);
        grib_reader_free(&one.reader);
    }
}

/* --- sizes
 * ------------------------------------------------------------------*/

static void absurd_sizes_are_refused_before_memory_is_asked_for(void **state) {
    (void)state;
    struct grib_spec spec = {.edition = 2, .category = 2, .number = 2};
    spec.late[0] = (struct grib_setting){"Ni", 20000};
    spec.late[1] = (struct grib_setting){"Nj", 20000};
    struct one one;
    read_one(&one, &spec);
    assert_int_equal(one.field.fate, FATE_GRID);
    assert_contains(one.field.cause, "limit");
    grib_reader_free(&one.reader);
    struct grib_spec count = {.edition = 2, .category = 2, .number = 2};
    count.late[0] = (struct grib_setting){"numberOfValues", 500000000};
    read_one(&one, &count);
    assert_int_equal(one.field.fate, FATE_DAMAGED);
    grib_reader_free(&one.reader);
    struct grib_spec unlike = {.edition = 2, .category = 2, .number = 2};
    unlike.late[0] = (struct grib_setting){"Ni", 3};
    read_one(&one, &unlike);
    assert_int_equal(one.field.fate, FATE_DAMAGED);
    assert_contains(one.field.cause, "3 x 2 points but 4 values");
    grib_reader_free(&one.reader);
}

/* --- dates and constants
 * ----------------------------------------------------*/

static void a_mask_without_a_date_is_skipped_with_a_note(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    struct grib_spec wind = {.edition = 2};
    struct grib_spec mask = {
        .edition = 2,
        .discipline = 10,
        .number = 3,
        .level_type = 1,
        .late = {{"month", 255}, {"day", 255}, {"hour", 255}}};
    grib_add_wind(&bytes, &wind, 5.0, 0.0);
    grib_add(&bytes, &mask);
    struct loaded loaded = load_bytes(&bytes, NULL);
    assert_true(loaded.good);
    char *warnings = warnings_text(&loaded);
    assert_contains(warnings, "no date");
    assert_contains(warnings, "message 3");
    free(warnings);
    loaded_free(&loaded);
}

static void a_constant_field_holds_its_value(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    struct grib_spec spec = {.edition = 2};
    grib_add_wind(&bytes, &spec, 5.0, 5.0);
    /* 0 bits a value: nothing but the header */
    assert_true(bytes.size < 2 * 185);
    struct loaded loaded = load_bytes(&bytes, NULL);
    assert_near(weather_at(&loaded, 49.5, -9.5, 0.0).wind.east, 5.0, 1e-6);
    loaded_free(&loaded);
}

/* --- packings --------------------------------------------------------------*/

/* All that this release of the library writes; what it reads alone (complex
 * packing and others) the real files hold. */
static const struct {
    int edition;
    const char *packing;
} packings[] = {{2, "grid_simple"},
                {2, "grid_ieee"},
                {2, "grid_jpeg"},
                {2, "grid_png"},
                {2, "grid_ccsds"},
                {2, "grid_simple_log_preprocessing"},
                {2, "grid_second_order"},
                {1, "grid_simple"},
                {1, "grid_ieee"},
                {1, "grid_second_order"},
                {1, "grid_second_order_no_SPD"},
                {1, "grid_second_order_SPD1"},
                {1, "grid_second_order_SPD3"}};

static void every_packing_gives_the_values_back(void **state) {
    (void)state;
    enum { SIDE = 40 };
    static double values[SIDE * SIDE];
    for (int i = 0; i < SIDE * SIDE; i++)
        values[i] = 5.0 + 3.0 * sin(0.01 * i);
    for (size_t i = 0; i < sizeof packings / sizeof *packings; i++) {
        struct grib_spec spec = {.edition = packings[i].edition,
                                 .category = 2,
                                 .number = packings[i].edition == 1 ? 33 : 2,
                                 .ni = SIDE,
                                 .nj = SIDE,
                                 .values = values,
                                 .packing = packings[i].packing};
        struct one one;
        read_one(&one, &spec);
        if (one.field.fate != FATE_USED)
            fail_msg("%s: %s", packings[i].packing, one.field.cause);
        for (int row = 0; row < SIDE; row++) {
            for (int column = 0; column < SIDE; column++)
                assert_near(value_at(&one, column, row),
                            values[(SIDE - 1 - row) * SIDE + column], 2e-4);
        }
        grib_reader_free(&one.reader);
    }
}

/* --- axes, shifted rows (other kinds of grids: grid_winds_test) ------------*/

/* On a lat-lon grid the axes are east and north whatever the flag says. */
static void
a_grid_relative_flag_on_a_lat_lon_grid_changes_nothing(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    struct grib_spec spec = {.edition = 2, .early = {{"uvRelativeToGrid", 1}}};
    grib_add_wind(&bytes, &spec, 0.0, 10.0);
    struct loaded loaded = load_bytes(&bytes, NULL);
    struct vector_mps wind = weather_at(&loaded, 49.5, -9.5, 0.0).wind;
    assert_angle_near(vector_direction_from(wind), 180.0, 1e-3);
    loaded_free(&loaded);
}

static void rows_shifted_against_one_another_are_refused(void **state) {
    (void)state;
    struct grib_spec spec = {.edition = 2,
                             .category = 2,
                             .number = 2,
                             .late = {{"scanningMode", 0x08}}};
    struct one one;
    read_one(&one, &spec);
    assert_int_equal(one.field.fate, FATE_GRID);
    grib_reader_free(&one.reader);
}

static void the_library_finds_its_definitions(void **state) {
    (void)state;
    struct error error;
    assert_true(grib_library_check(&error));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_scanning_mode_puts_values_in_their_place),
        cmocka_unit_test(u_and_v_of_unlike_scanning_make_the_right_vectors),
        cmocka_unit_test(areas_over_greenwich_and_180_are_whole),
        cmocka_unit_test(a_repeated_last_column_changes_nothing),
        cmocka_unit_test(one_wind_is_made_of_two_editions),
        cmocka_unit_test(waves_of_one_edition_join_wind_of_the_other),
        cmocka_unit_test(values_of_one_edition_follow_those_of_the_other),
        cmocka_unit_test(both_parts_in_one_message_are_found),
        cmocka_unit_test(an_absurd_number_in_the_data_is_missing),
        cmocka_unit_test(a_reader_set_free_is_to_read_the_same),
        cmocka_unit_test(missing_values_of_complex_packing_are_missing),
        cmocka_unit_test(a_true_9999_is_a_value),
        cmocka_unit_test(values_flattened_by_an_absurd_one_are_damage),
        cmocka_unit_test(limits_of_nature_hold_for_every_quantity),
        cmocka_unit_test(absurd_sizes_are_refused_before_memory_is_asked_for),
        cmocka_unit_test(a_mask_without_a_date_is_skipped_with_a_note),
        cmocka_unit_test(a_constant_field_holds_its_value),
        cmocka_unit_test(every_packing_gives_the_values_back),
        cmocka_unit_test(
            a_grid_relative_flag_on_a_lat_lon_grid_changes_nothing),
        cmocka_unit_test(rows_shifted_against_one_another_are_refused),
        cmocka_unit_test(the_library_finds_its_definitions),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
