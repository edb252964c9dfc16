/* MAP_ANONYMOUS is not in POSIX 2008, but everywhere */
#define _DEFAULT_SOURCE /* NOLINT(bugprone-reserved-identifier) */

#include "../support/check.h"

#include "../support/grib_maker.h"
#include "forecast/grib.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

/* A message, what the GRIB library makes of it, and the same values read in
 * place. */
struct pair {
    struct grib_bytes bytes;
    struct grib_reader reader;
    struct grib_field field;
    struct packed packed;
    size_t missing;
    void *room;
};

static bool cut_first(const struct grib_bytes *bytes, struct packed *packed) {
    struct cutter cutter;
    cutter_init(&cutter, bytes->bytes, bytes->size);
    assert_int_equal(cutter_next(&cutter), CUT_FIELD);
    return packed_find(packed, &cutter);
}

/* Writes a decimal scale factor: the library's encoder would take its own. */
static void set_decimal(struct grib_bytes *bytes, int decimal) {
    enum { DECIMAL_AT = 17 };
    struct cutter cutter;
    cutter_init(&cutter, bytes->bytes, bytes->size);
    assert_int_equal(cutter_next(&cutter), CUT_FIELD);
    size_t at = (size_t)(cutter.section[5] - bytes->bytes) + DECIMAL_AT;
    bytes->bytes[at] = (uint8_t)(decimal < 0 ? 0x80 : 0);
    bytes->bytes[at + 1] = (uint8_t)abs(decimal);
}

static void pair_make_scaled(struct pair *pair, const struct grib_spec *spec,
                             int decimal) {
    *pair = (struct pair){0};
    grib_add(&pair->bytes, spec);
    set_decimal(&pair->bytes, decimal);
    grib_read(&pair->reader, pair->bytes.bytes, pair->bytes.size, &pair->field);
    assert_int_equal(pair->field.fate, FATE_USED);
    assert_true(cut_first(&pair->bytes, &pair->packed));
    assert_true(
        packed_lay(&pair->packed, &pair->field.corners, &pair->missing));
    assert_true(packed_within(&pair->packed, -1e6, 1e6, -1e6));
    pair->room = malloc(packed_room(&pair->packed));
    packed_move(&pair->packed, pair->room);
}

static void pair_make(struct pair *pair, const struct grib_spec *spec) {
    pair_make_scaled(pair, spec, 0);
}

static void pair_free(struct pair *pair) {
    grib_reader_free(&pair->reader);
    grib_free(&pair->bytes);
    free(pair->room);
}

/* Bit for bit, in runs of every length. */
static void assert_same_values(const struct pair *pair) {
    const struct grid *grid = &pair->field.grid;
    float values[64];
    uint8_t known[64];
    assert_int_equal(pair->missing, pair->field.missing);
    for (int row = 0; row < grid->nj; row++) {
        for (int column = 0; column < grid->ni; column++) {
            int count = 1 + (row + column) % (grid->ni - column);
            size_t at = (size_t)row * (size_t)grid->ni + (size_t)column;
            packed_row(&pair->packed, row, column, count, values, known);
            assert_memory_equal(known, pair->field.known + at, (size_t)count);
            assert_memory_equal(values, pair->field.values + at,
                                (size_t)count * sizeof *values);
        }
    }
}

static struct grib_spec wind_spec(const double *values) {
    return (struct grib_spec){.edition = 2,
                              .category = 2,
                              .number = 2,
                              .ni = 13,
                              .nj = 7,
                              .first_lat = 50,
                              .last_lat = 47,
                              .first_lon = 340,
                              .last_lon = 346,
                              .values = values};
}

static void fill(double values[13 * 7], struct seed *seed) {
    for (int i = 0; i < 13 * 7; i++)
        values[i] = seed_between(seed, -40.0, 40.0);
}

static void values_are_those_of_the_library_bit_for_bit(void **state) {
    (void)state;
    struct seed seed = {71};
    double values[13 * 7];
    for (int bits = 1; bits <= 24; bits++) {
        for (int decimal = -2; decimal <= 5; decimal++) {
            fill(values, &seed);
            for (int i = 0; i < 13 * 7; i++)
                values[i] *= pow(10.0, decimal);
            struct grib_spec spec = wind_spec(values);
            struct pair pair;
            spec.bits = bits;
            pair_make_scaled(&pair, &spec, decimal);
            assert_int_equal(pair.field.wild, 0);
            assert_near(log10(pair.packed.scale), -decimal, 1e-12);
            assert_same_values(&pair);
            pair_free(&pair);
        }
    }
}

static void masked_points_are_those_of_the_library(void **state) {
    (void)state;
    struct seed seed = {73};
    double values[13 * 7];
    for (int parts = 2; parts < 40; parts += 3) {
        fill(values, &seed);
        for (int i = 0; i < 13 * 7; i++) {
            if (seed_between(&seed, 0.0, parts) < 1.0)
                values[i] = 9999.0;
        }
        struct grib_spec spec = wind_spec(values);
        struct pair pair;
        spec.masked = true;
        spec.hole = 9999.0;
        spec.bits = 11;
        pair_make(&pair, &spec);
        assert_non_null(pair.packed.bitmap);
        assert_same_values(&pair);
        pair_free(&pair);
    }
}

static void rows_may_run_either_way(void **state) {
    (void)state;
    struct seed seed = {79};
    double values[13 * 7];
    for (int mode = 0; mode < 0x100; mode += 0x40) {
        for (int masked = 0; masked < 2; masked++) {
            bool west = mode & 0x80, north = mode & 0x40;
            fill(values, &seed);
            values[17] = values[18] = values[40] = 9999.0;
            struct grib_spec spec = wind_spec(values);
            struct pair pair;
            spec.masked = masked;
            spec.hole = 9999.0;
            if (!masked)
                values[17] = values[18] = values[40] = 0.0;
            spec.first_lat = north ? 47 : 50;
            spec.last_lat = north ? 50 : 47;
            spec.first_lon = west ? 346 : 340;
            spec.last_lon = west ? 340 : 346;
            spec.early[0] = (struct grib_setting){"scanningMode", mode};
            pair_make(&pair, &spec);
            assert_same_values(&pair);
            pair_free(&pair);
        }
    }
}

/* The last of 13 columns is the first again. */
static void a_column_that_is_there_twice_is_left_out(void **state) {
    (void)state;
    struct seed seed = {83};
    double values[13 * 7];
    fill(values, &seed);
    struct grib_spec spec = wind_spec(values);
    struct pair pair;
    spec.first_lon = 0;
    spec.last_lon = 360;
    pair_make(&pair, &spec);
    assert_int_equal(pair.field.grid.ni, 12);
    assert_same_values(&pair);
    pair_free(&pair);
}

static void other_packings_are_left_to_the_library(void **state) {
    (void)state;
    static const char *const packings[] = {"grid_jpeg", "grid_ccsds",
                                           "grid_ieee"};
    struct seed seed = {89};
    double values[13 * 7];
    for (size_t i = 0; i < sizeof packings / sizeof *packings; i++) {
        struct grib_bytes bytes = {0};
        struct packed packed;
        fill(values, &seed);
        struct grib_spec spec = wind_spec(values);
        spec.packing = packings[i];
        grib_add(&bytes, &spec);
        assert_false(cut_first(&bytes, &packed));
        grib_free(&bytes);
    }
    /* nor is a constant field, which has no bits at all */
    struct grib_bytes bytes = {0};
    struct packed packed;
    struct grib_spec spec = wind_spec(NULL);
    grib_add(&bytes, &spec);
    assert_false(cut_first(&bytes, &packed));
    grib_free(&bytes);
}

static void columns_and_serpentines_are_left_to_the_library(void **state) {
    (void)state;
    struct seed seed = {97};
    double values[13 * 7];
    fill(values, &seed);
    struct grib_spec spec = wind_spec(values);
    struct pair pair;
    size_t missing;
    pair_make(&pair, &spec);
    struct grid_corners corners = pair.field.corners;
    corners.by_columns = true;
    assert_false(packed_lay(&pair.packed, &corners, &missing));
    corners.by_columns = false;
    corners.alternating = true;
    assert_false(packed_lay(&pair.packed, &corners, &missing));
    corners.alternating = false;
    corners.nj--;
    assert_false(packed_lay(&pair.packed, &corners, &missing));
    pair_free(&pair);
}

static void values_beyond_the_limits_are_seen(void **state) {
    (void)state;
    double values[13 * 7] = {0};
    values[5] = -3.0;
    values[50] = 7.0;
    struct grib_spec spec = wind_spec(values);
    struct pair pair;
    pair_make(&pair, &spec);
    assert_true(packed_within(&pair.packed, -3.01, 7.01, -3.01));
    assert_false(packed_within(&pair.packed, -2.9, 7.01, -2.9));
    assert_false(packed_within(&pair.packed, -3.01, 6.9, -3.01));
    /* what rounding puts below the least is the least */
    float value;
    uint8_t known;
    assert_true(packed_within(&pair.packed, -3.01, 7.01, -2.5));
    packed_row(&pair.packed, 6, 5, 1, &value, &known);
    assert_near((double)value, -2.5, 0.0);
    pair_free(&pair);
}

/* Every byte of the sections that are read, turned over: what can't be is
 * refused, and nothing is read beyond the message (seen by the sanitizer). */
static void damage_is_refused_or_read_within_bounds(void **state) {
    (void)state;
    struct seed seed = {101};
    double values[13 * 7];
    fill(values, &seed);
    values[3] = 9999.0;
    struct grib_spec spec = wind_spec(values);
    struct pair pair;
    size_t refused = 0;
    spec.masked = true;
    spec.hole = 9999.0;
    pair_make(&pair, &spec);
    for (size_t bit = 8 * 16; bit < 8 * (pair.bytes.size - 4); bit++) {
        uint8_t *bytes = malloc(pair.bytes.size);
        memcpy(bytes, pair.bytes.bytes, pair.bytes.size);
        bytes[bit / 8] ^= (uint8_t)(1 << bit % 8);
        struct cutter cutter;
        struct packed packed;
        size_t missing;
        cutter_init(&cutter, bytes, pair.bytes.size);
        bool whole = cutter_next(&cutter) == CUT_FIELD &&
                     packed_find(&packed, &cutter) &&
                     packed_lay(&packed, &pair.field.corners, &missing);
        if (whole) {
            void *room = malloc(packed_room(&packed));
            float all[13 * 7];
            uint8_t known[13 * 7];
            packed_move(&packed, room);
            packed_all(&packed, &pair.field.grid, all, known);
            free(room);
        }
        refused += !whole;
        free(bytes);
    }
    assert_true(refused > 0);
    pair_free(&pair);
}

/* The message may be the last one of a file whose end is that of a page. */
static void limits_are_checked_without_looking_behind_the_values(void **state) {
    (void)state;
    double values[13 * 7] = {0};
    values[13 * 7 - 1] = 7.0;
    struct grib_spec spec = wind_spec(values);
    struct pair pair;
    pair_make(&pair, &spec);
    size_t page = (size_t)sysconf(_SC_PAGESIZE);
    uint8_t *pages = mmap(NULL, 2 * page, PROT_READ | PROT_WRITE,
                          MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
    assert_true(pages != MAP_FAILED);
    struct packed packed = pair.packed;
    packed.bits = memcpy(pages + page - packed.size, packed.bits, packed.size);
    assert_int_equal(mprotect(pages + page, page, PROT_NONE), 0);
    assert_true(packed_within(&packed, -0.01, 7.01, -0.01));
    assert_false(packed_within(&packed, -0.01, 6.9, -0.01));
    munmap(pages, 2 * page);
    pair_free(&pair);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(values_are_those_of_the_library_bit_for_bit),
        cmocka_unit_test(masked_points_are_those_of_the_library),
        cmocka_unit_test(rows_may_run_either_way),
        cmocka_unit_test(a_column_that_is_there_twice_is_left_out),
        cmocka_unit_test(other_packings_are_left_to_the_library),
        cmocka_unit_test(columns_and_serpentines_are_left_to_the_library),
        cmocka_unit_test(values_beyond_the_limits_are_seen),
        cmocka_unit_test(limits_are_checked_without_looking_behind_the_values),
        cmocka_unit_test(damage_is_refused_or_read_within_bounds),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
