#include "../support/check.h"

#include "../support/gshhg_maker.h"
#include "earth/coast.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

static const struct coast_box world = {-90.0, 90.0, -180.0, 180.0};

struct loaded {
    struct arena arena;
    struct coast *coast;
    struct error error;
    bool is_good;
};

static struct loaded load(const char *path, const struct coast_box *box) {
    struct loaded loaded = {.coast = NULL};
    arena_init(&loaded.arena);
    loaded.is_good =
        coast_load(&loaded.coast, path, box, &loaded.arena, &loaded.error);
    return loaded;
}

static void a_file_tells_its_name_and_counts(void **state) {
    (void)state;
    struct gshhg gshhg = gshhg_make();
    struct loaded loaded = load(gshhg_write(&gshhg, "good.nc"), &world);
    assert_true(loaded.is_good);
    assert_string_equal(coast_name(loaded.coast),
                        "GSHHG 0.1, crude resolution");
    assert_int_equal(coast_resolution(loaded.coast), 'c');
    assert_int_equal(coast_polygon_count(loaded.coast), 5);
    arena_free(&loaded.arena);
}

static const struct {
    struct position place;
    enum coast_level level;
} places[] = {
    {{5, 30}, COAST_LAND},      {{0, 30}, COAST_LAKE},
    {{0, 27.9}, COAST_LAND},    {{0, 28.1}, COAST_LAKE},
    {{7, 30}, COAST_SEA},       {{0, 23.9}, COAST_SEA},
    {{0, 179}, COAST_LAND},     {{0, -180}, COAST_LAND},
    {{0, -179}, COAST_LAND},    {{0.9, 180 - 360}, COAST_LAND},
    {{1.1, -180}, COAST_SEA},   {{0, 176.9}, COAST_SEA},
    {{0, -176.9}, COAST_SEA},   {{0, 0}, COAST_LAND},
    {{0, -2.9}, COAST_LAND},    {{0, 2.9}, COAST_LAND},
    {{-0.9, -0.1}, COAST_LAND}, {{-1.1, 0.1}, COAST_SEA},
    {{-74.7, 100}, COAST_SEA},  {{-74.8, 100}, COAST_LAND},
    {{-80, -100}, COAST_LAND},  {{-82, 0}, COAST_LAND},
    {{-90, 0}, COAST_LAND},     {{-89.99, -180}, COAST_LAND},
    {{90, 0}, COAST_SEA},       {{60, 100}, COAST_SEA},
};

static void expect_level(const struct loaded *loaded, size_t i) {
    struct position place = places[i].place;
    assert_true(coast_covers(loaded->coast, place));
    if (coast_level_at(loaded->coast, place) != places[i].level)
        fail_msg("%g %g: not %d", place.lat_deg, place.lon_deg,
                 places[i].level);
}

/* All round from four beginnings, and only what is about the place. */
static void levels_are_the_same_whatever_the_box(void **state) {
    (void)state;
    static const struct coast_box boxes[] = {{-90, 90, -180, 180},
                                             {-90, 90, 0, 360},
                                             {-90, 90, 179.5, 539.5},
                                             {-90, 90, -0.3, 359.7}};
    struct gshhg gshhg = gshhg_make();
    const char *path = gshhg_write(&gshhg, "levels.nc");
    for (int k = 0; k < 4; k++) {
        struct loaded loaded = load(path, &boxes[k]);
        assert_true(loaded.is_good);
        for (size_t i = 0; i < sizeof places / sizeof places[0]; i++)
            expect_level(&loaded, i);
        arena_free(&loaded.arena);
    }
    for (size_t i = 0; i < sizeof places / sizeof places[0]; i++) {
        struct position place = places[i].place;
        struct coast_box small = {place.lat_deg, place.lat_deg, place.lon_deg,
                                  place.lon_deg};
        struct loaded loaded = load(path, &small);
        assert_true(loaded.is_good);
        expect_level(&loaded, i);
        arena_free(&loaded.arena);
    }
}

static void the_diamond_over_180_is_met_and_its_seam_is_not(void **state) {
    (void)state;
    static const struct coast_box boxes[] = {
        {-20, 20, 160, 200}, {-90, 90, -180, 180}, {-90, 90, 179.5, 539.5}};
    static const struct {
        struct position from, to;
        bool meets;
    } legs[] = {{{-5, -180}, {5, -180}, true},
                {{-5, 178}, {5, -178}, true},
                {{0, 170}, {0, -170}, true},
                {{0, 178}, {0, -178}, false}, /* on land all the way */
                {{-0.5, -180}, {0.5, -180}, false},
                {{2, 170}, {2, -170}, false},
                {{0.9999, 175}, {0.9999, -175}, true}, /* its northern corner */
                {{1.01, 175}, {1.01, -175}, false},
                {{0, 170}, {0, 177.001}, true}, /* its western corner */
                {{0, 170}, {0, 176.99}, false}};
    struct gshhg gshhg = gshhg_make();
    const char *path = gshhg_write(&gshhg, "diamond.nc");
    for (int k = 0; k < 3; k++) {
        struct loaded loaded = load(path, &boxes[k]);
        assert_true(loaded.is_good);
        for (size_t i = 0; i < sizeof legs / sizeof legs[0]; i++) {
            if (coast_meets(loaded.coast, legs[i].from, legs[i].to) !=
                    legs[i].meets ||
                coast_meets(loaded.coast, legs[i].to, legs[i].from) !=
                    legs[i].meets)
                fail_msg("leg %zu, box %d", i, k);
        }
        /* one degree of latitude on the equator: 110.57 km */
        assert_near(coast_distance_m(loaded.coast,
                                     (struct position){2.0, -180.0}, 2e5, NULL),
                    110574.0, 10.0);
        arena_free(&loaded.arena);
    }
}

/* --- files that are wrong --------------------------------------------------*/

static void expect_error(const struct gshhg *gshhg, const char *part) {
    struct loaded loaded = load(gshhg_write(gshhg, "bad.nc"), &world);
    assert_false(loaded.is_good);
    assert_int_equal(loaded.error.status, STATUS_INPUT);
    assert_contains(loaded.error.text, "bad.nc");
    assert_contains(loaded.error.text, "; ");
    assert_contains(loaded.error.text, part);
    arena_free(&loaded.arena);
}

static void a_missing_table_is_named(void **state) {
    (void)state;
    static const char *const names[] = {
        "Bin_size_in_minutes",
        "N_bins_in_360_longitude_range",
        "N_bins_in_180_degree_latitude_range",
        "N_bins_in_file",
        "N_polygons_in_file",
        "N_segments_in_file",
        "N_points_in_file",
        "Id_of_first_segment_in_a_bin",
        "N_segments_in_a_bin",
        "Embedded_node_levels_in_a_bin",
        "Embedded_npts_levels_exit_entry_for_a_segment",
        "Id_of_first_point_in_a_segment",
        "Relative_longitude_from_SW_corner_of_bin",
        "Relative_latitude_from_SW_corner_of_bin"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        struct gshhg gshhg = gshhg_make();
        gshhg.without = names[i];
        expect_error(&gshhg, names[i]);
    }
}

static void numbers_out_of_range_are_refused(void **state) {
    (void)state;
    static const int wild[] = {-1, 0, 7, 1000000, 2147483647, -2147483647 - 1};
    for (size_t i = 0; i < sizeof wild / sizeof wild[0]; i++) {
        struct gshhg good = gshhg_make(), bad;
        int *const heads[] = {&bad.bin_minutes, &bad.columns,  &bad.rows,
                              &bad.bins,        &bad.segments, &bad.points};
        for (size_t k = 0; k < sizeof heads / sizeof heads[0]; k++) {
            bad = good;
            *heads[k] = wild[i];
            expect_error(&bad, "is no GSHHG shoreline file");
        }
        bad = good;
        bad.packed[GSHHG_LAKE] = wild[i];
        expect_error(&bad, "is damaged");
        bad = good;
        bad.first_point[GSHHG_LAKE] = wild[i];
        if (wild[i] != 7) /* the island's own points */
            expect_error(&bad, "is damaged");
        bad = good;
        bad.first_segment[GSHHG_ISLAND_BIN] = wild[i];
        if (wild[i] != 0) /* another bin's, and they would fit */
            expect_error(&bad, "is damaged");
    }
}

static void what_does_not_fit_together_is_refused(void **state) {
    (void)state;
    struct gshhg good = gshhg_make(), bad = good;
    bad.segments_of_bin[GSHHG_ISLAND_BIN] = -3;
    expect_error(&bad, "a number of segments in bin 73");
    bad = good;
    bad.segments_of_bin[GSHHG_ISLAND_BIN] = 1000;
    expect_error(&bad, "a number of segments in bin 73");
    bad = good;
    bad.corners[GSHHG_ISLAND_BIN] = 1 << 9;
    expect_error(&bad, "levels that do not fit in bin 73");
    bad = good;
    bad.x[bad.first_point[GSHHG_ISLAND]] += 1; /* no longer closed */
    expect_error(&bad, "a loose end in bin 73");
    bad = good;
    bad.x[bad.first_point[GSHHG_WEST_OF_180]] -= 1; /* off the side */
    expect_error(&bad, "a loose end in bin 80");
    bad = good;
    bad.packed[GSHHG_ISLAND] |= 7 << 6; /* no such level */
    expect_error(&bad, "a segment in bin 73");
    bad = good;
    bad.packed[GSHHG_ISLAND] = 5 << 9 | 1 << 6 | 4 << 3 | 2; /* half closed */
    expect_error(&bad, "a segment in bin 73");
}

static void another_kind_of_file_is_said_to_be_one(void **state) {
    (void)state;
    static const char *const texts[] = {"", "not at all", "CDF\001 but short",
                                        "\211HDF\r\n\032\n and no more"};
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        struct loaded loaded = load(check_write("kind.nc", texts[i]), &world);
        assert_false(loaded.is_good);
        assert_int_equal(loaded.error.status, STATUS_INPUT);
        assert_contains(loaded.error.text, "is no GSHHG shoreline file");
        arena_free(&loaded.arena);
    }
    struct loaded loaded = load("/nowhere/at.nc", &world);
    assert_false(loaded.is_good);
    assert_contains(loaded.error.text,
                    "'/nowhere/at.nc' can't be read: No such file");
    arena_free(&loaded.arena);
    loaded = load(check_folder(), &world);
    assert_false(loaded.is_good);
    assert_int_equal(loaded.error.status, STATUS_INPUT);
    arena_free(&loaded.arena);
}

struct bytes {
    char *at;
    size_t count;
};

static struct bytes read_bytes(const char *path) {
    FILE *stream = fopen(path, "rb");
    assert_non_null(stream);
    assert_int_equal(fseek(stream, 0, SEEK_END), 0);
    struct bytes bytes = {.count = (size_t)ftell(stream)};
    bytes.at = malloc(bytes.count);
    rewind(stream);
    assert_int_equal(fread(bytes.at, 1, bytes.count, stream), bytes.count);
    fclose(stream);
    return bytes;
}

/* About the island only: that is quick. */
static bool loads(const struct bytes *bytes, size_t count) {
    const char *path = check_write("damaged.nc", "");
    FILE *stream = fopen(path, "wb");
    assert_int_equal(fwrite(bytes->at, 1, count, stream), count);
    fclose(stream);
    static const struct coast_box island = {-9.0, 9.0, 21.0, 39.0};
    struct loaded loaded = load(path, &island);
    if (!loaded.is_good)
        assert_int_equal(loaded.error.status, STATUS_INPUT);
    arena_free(&loaded.arena);
    return loaded.is_good;
}

static void a_truncated_file_is_refused(void **state) {
    (void)state;
    struct gshhg gshhg = gshhg_make();
    struct bytes bytes = read_bytes(gshhg_write(&gshhg, "whole.nc"));
    assert_true(loads(&bytes, bytes.count));
    size_t step = bytes.count / (check_is_long() ? 400 : 40);
    for (size_t count = 0; count + 1 < bytes.count; count += step)
        assert_false(loads(&bytes, count));
    free(bytes.at);
}

/* A flipped byte is refused or does no harm; nothing crashes. */
static void a_damaged_byte_never_crashes(void **state) {
    (void)state;
    struct gshhg gshhg = gshhg_make();
    struct bytes bytes = read_bytes(gshhg_write(&gshhg, "flip.nc"));
    struct seed seed = {99};
    int rounds = check_is_long() ? 2000 : 200, refused = 0;
    for (int i = 0; i < rounds; i++) {
        size_t place = (size_t)seed_between(&seed, 0.0, (double)bytes.count);
        char before = bytes.at[place];
        bytes.at[place] ^= (char)(int)seed_between(&seed, 1.0, 256.0);
        refused += !loads(&bytes, bytes.count);
        bytes.at[place] = before;
    }
    printf("%d of %d refused\n", refused, rounds);
    assert_true(refused > 0);
    free(bytes.at);
}

/* A pipe that nobody writes to would be waited for without end. */
static void what_is_no_plain_file_is_refused(void **state) {
    (void)state;
    char path[300];
    snprintf(path, sizeof path, "%s/pipe.nc", check_folder());
    assert_int_equal(mkfifo(path, 0600), 0);
    const char *paths[] = {path, check_folder(), "/dev/zero"};
    for (size_t i = 0; i < 3; i++) {
        struct loaded loaded = load(paths[i], &world);
        assert_false(loaded.is_good);
        assert_int_equal(loaded.error.status, STATUS_INPUT);
        assert_contains(loaded.error.text, "it is no plain file");
        arena_free(&loaded.arena);
    }
}

static void the_finest_set_installed_is_found(void **state) {
    (void)state;
    struct arena arena;
    arena_init(&arena);
    const char *path = coast_installed(&arena);
    if (!path) {
        printf("skipped: no shorelines installed\n");
        arena_free(&arena);
        skip();
    }
    static const char letters[] = "fhilc";
    char other[64];
    for (const char *letter = letters; *letter; letter++) {
        snprintf(other, sizeof other, "/usr/share/gmt-gshhg/binned_GSHHS_%c.nc",
                 *letter);
        FILE *stream = fopen(other, "rb");
        if (stream) {
            assert_string_equal(path, other);
            fclose(stream);
            break;
        }
    }
    arena_free(&arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_file_tells_its_name_and_counts),
        cmocka_unit_test(levels_are_the_same_whatever_the_box),
        cmocka_unit_test(the_diamond_over_180_is_met_and_its_seam_is_not),
        cmocka_unit_test(a_missing_table_is_named),
        cmocka_unit_test(numbers_out_of_range_are_refused),
        cmocka_unit_test(what_does_not_fit_together_is_refused),
        cmocka_unit_test(another_kind_of_file_is_said_to_be_one),
        cmocka_unit_test(a_truncated_file_is_refused),
        cmocka_unit_test(a_damaged_byte_never_crashes),
        cmocka_unit_test(what_is_no_plain_file_is_refused),
        cmocka_unit_test(the_finest_set_installed_is_found),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
