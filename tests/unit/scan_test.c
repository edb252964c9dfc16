#include "../support/check.h"

#include "../support/grib_maker.h"
#include "../support/load.h"
#include "forecast/scan.h"
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static const struct grib_spec U = {.edition = 2, .category = 2, .number = 2};
static const struct grib_spec V = {.edition = 2, .category = 2, .number = 3};

static struct scan scan(const struct grib_bytes *bytes, struct arena *arena) {
    return scan_bytes(bytes->bytes, bytes->size, arena);
}

static void whole_messages_are_found_where_they_stand(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    struct arena arena;
    arena_init(&arena);
    grib_add(&bytes, &U);
    size_t second = grib_add(&bytes, &V);
    struct scan found = scan(&bytes, &arena);
    assert_int_equal(found.count, 2);
    assert_int_equal(found.messages[0].offset, 0);
    assert_int_equal(found.messages[1].offset, second);
    assert_int_equal(found.messages[1].length, bytes.size - second);
    assert_int_equal(found.messages[1].edition, 2);
    assert_int_equal(found.stray_bytes, 0);
    assert_int_equal(found.loss_count, 0);
    grib_free(&bytes);
    arena_free(&arena);
}

/* A bulletin heading, an edition 1 message, nine bytes of junk that name GRIB,
 * an edition 2 message, a web page. */
static void stray_bytes_are_skipped_and_counted(void **state) {
    (void)state;
    static const char heading[] = "HTXA10 KWBC 280000\r\r\n";
    static const char junk[] = "GRIB junk";
    static const char page[] = "<html>GRIB</html>";
    struct grib_spec first = {.edition = 1, .number = 33};
    struct grib_bytes bytes = {0};
    struct arena arena;
    arena_init(&arena);
    grib_add_text(&bytes, heading);
    grib_add(&bytes, &first);
    grib_add_text(&bytes, junk);
    grib_add(&bytes, &V);
    grib_add_text(&bytes, page);
    struct scan found = scan(&bytes, &arena);
    assert_int_equal(found.count, 2);
    assert_int_equal(found.messages[0].edition, 1);
    assert_int_equal(found.messages[1].edition, 2);
    assert_int_equal(found.stray_bytes,
                     strlen(heading) + strlen(junk) + strlen(page));
    grib_free(&bytes);
    arena_free(&arena);
}

static void three_kilobytes_of_junk_in_front_do_not_matter(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    struct arena arena;
    arena_init(&arena);
    for (int i = 0; i < 3000; i++)
        grib_add_text(&bytes, i % 2 ? "G" : "R");
    grib_add(&bytes, &U);
    struct scan found = scan(&bytes, &arena);
    assert_int_equal(found.count, 1);
    assert_int_equal(found.stray_bytes, 3000);
    grib_free(&bytes);
    arena_free(&arena);
}

static void zeros_are_padding_and_not_stray(void **state) {
    (void)state;
    static const uint8_t zeros[120] = {0};
    struct grib_bytes bytes = {0};
    struct arena arena;
    arena_init(&arena);
    grib_add(&bytes, &U);
    grib_add_bytes(&bytes, zeros, sizeof zeros);
    grib_add(&bytes, &V);
    struct scan found = scan(&bytes, &arena);
    assert_int_equal(found.count, 2);
    assert_int_equal(found.stray_bytes, 0);
    grib_free(&bytes);
    arena_free(&arena);
}

static void a_file_cut_short_keeps_its_whole_messages(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    struct arena arena;
    arena_init(&arena);
    grib_add(&bytes, &U);
    size_t second = grib_add(&bytes, &V);
    size_t length = bytes.size - second;
    bytes.size = second + 121;
    struct scan found = scan(&bytes, &arena);
    assert_int_equal(found.count, 1);
    assert_int_equal(found.loss_count, 1);
    assert_int_equal(found.losses[0].offset, second);
    assert_true(found.losses[0].cut_short);
    assert_int_equal(found.losses[0].there_bytes, 121);
    assert_int_equal(found.losses[0].length, length);
    assert_int_equal(found.stray_bytes, 0);
    grib_free(&bytes);
    arena_free(&arena);
}

static void a_message_swallowed_by_a_damaged_one_is_found(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    struct arena arena;
    arena_init(&arena);
    grib_add(&bytes, &U);
    bytes.size = 150;
    grib_add(&bytes, &V);
    struct scan found = scan(&bytes, &arena);
    assert_int_equal(found.count, 1);
    assert_int_equal(found.messages[0].offset, 150);
    assert_int_equal(found.loss_count, 1);
    assert_int_equal(found.losses[0].offset, 0);
    assert_false(found.losses[0].cut_short);
    grib_free(&bytes);
    arena_free(&arena);
}

static void a_message_without_its_end_mark_is_lost(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    struct arena arena;
    arena_init(&arena);
    grib_add(&bytes, &U);
    bytes.bytes[bytes.size - 1] = '8';
    struct scan found = scan(&bytes, &arena);
    assert_int_equal(found.count, 0);
    assert_int_equal(found.loss_count, 1);
    grib_free(&bytes);
    arena_free(&arena);
}

static void lengths_beyond_the_file_are_not_believed(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    struct grib_spec first = {.edition = 1, .number = 33};
    struct arena arena;
    arena_init(&arena);
    grib_add(&bytes, &U);
    bytes.bytes[8 + 2] = 1; /* 2^40 */
    size_t second = grib_add(&bytes, &first);
    memset(bytes.bytes + second + 4, 0x7f, 1);
    memset(bytes.bytes + second + 5, 0xff, 2);
    struct scan found = scan(&bytes, &arena);
    assert_int_equal(found.count, 0);
    assert_int_equal(found.loss_count, 2);
    grib_free(&bytes);
    arena_free(&arena);
}

/* Edition 1 beyond 8 MB: 23 bits of length count units of 120 bytes, and
 * section 4 says how much of the last is unused (from memory of ECMWF's own
 * description of its large messages). */
static void the_coded_length_of_large_messages_is_understood(void **state) {
    (void)state;
    enum { LENGTH = 1200, PRODUCT = 28, GRID = 32 };
    struct arena arena;
    uint8_t *bytes = calloc(1, LENGTH);
    arena_init(&arena);
    memcpy(bytes, "GRIB", 4);
    bytes[4] = 0x80;
    bytes[6] = LENGTH / 120;
    bytes[7] = 1;
    bytes[8 + 2] = PRODUCT;
    bytes[8 + 7] = 0x80; /* a grid section follows, no bitmap */
    bytes[8 + PRODUCT + 2] = GRID;
    bytes[8 + PRODUCT + GRID + 2] = 4; /* 1200 - 4 + 4 */
    memcpy(bytes + LENGTH - 4, "7777", 4);
    struct scan found = scan_bytes(bytes, LENGTH, &arena);
    assert_int_equal(found.count, 1);
    assert_int_equal(found.messages[0].length, LENGTH);
    free(bytes);
    arena_free(&arena);
}

/* No bytes whatever may lead past the end or into an endless loop. */
/* "GRIB", 3 bytes of length, edition 1, "7777": the least that is a message. */
static void messages_up_to_the_limit_are_read(void **state) {
    (void)state;
    enum { LEAST = 12 };
    static const char least[LEAST + 1] = "GRIB\0\0\x0c\x01"
                                         "7777";
    size_t size = (size_t)LEAST * (SCAN_MESSAGE_LIMIT + 1);
    uint8_t *bytes = malloc(size);
    assert_non_null(bytes);
    for (size_t at = 0; at < size; at += LEAST)
        memcpy(bytes + at, least, LEAST);
    struct arena arena;
    arena_init(&arena);
    struct scan found = scan_bytes(bytes, size - LEAST, &arena);
    assert_int_equal(found.count, SCAN_MESSAGE_LIMIT);
    assert_false(found.full);
    found = scan_bytes(bytes, size, &arena);
    assert_int_equal(found.count, SCAN_MESSAGE_LIMIT);
    assert_true(found.full);
    assert_int_equal(found.stray_bytes, 0);
    arena_free(&arena);
    free(bytes);
}

/* Edition 2 has eight bytes of length. What lies between is never touched, so
 * the pages of such a message cost nothing. */
static void a_message_up_to_the_limit_is_read(void **state) {
    (void)state;
    size_t length = SCAN_LENGTH_BYTES;
    uint8_t *bytes = calloc(1, length + 1);
    assert_non_null(bytes);
    struct arena arena;
    arena_init(&arena);
    memcpy(bytes, "GRIB\0\0\0\x02\0\0\0\0\x40\0\0\0", 16);
    memcpy(bytes + length - 4, "7777", 4);
    assert_int_equal(scan_bytes(bytes, length, &arena).count, 1);
    bytes[15] = 1;
    memcpy(bytes + length - 3, "7777", 4);
    struct scan found = scan_bytes(bytes, length + 1, &arena);
    assert_int_equal(found.count, 0);
    assert_int_equal(found.loss_count, 1);
    assert_int_equal(found.losses[0].length, length + 1);
    assert_false(found.losses[0].cut_short);
    arena_free(&arena);
    free(bytes);
}

/* A file of holes takes no room on the disk. */
static void a_file_above_the_limit_is_refused(void **state) {
    (void)state;
    struct arena arena;
    struct error error;
    struct source source;
    arena_init(&arena);
    const char *path = check_write("large.grb", "GRIB");
    if (truncate(path, (off_t)SCAN_FILE_BYTES + 1) != 0) {
        print_message("skipped: no file of 4 GiB can be here\n");
        arena_free(&arena);
        skip();
    }
    assert_false(source_open(&source, path, &arena, &error));
    assert_int_equal(error.status, STATUS_INPUT);
    assert_contains(error.text, "large.grb' is larger than 4 GiB; ask for a "
                                "smaller area, fewer fields or fewer steps");
    if (check_is_long()) { /* as large as may be: looked through, 4 GiB of it */
        assert_int_equal(truncate(path, (off_t)SCAN_FILE_BYTES), 0);
        assert_false(source_open(&source, path, &arena, &error));
        assert_null(strstr(error.text, "larger"));
    }
    assert_int_equal(truncate(path, 0), 0);
    arena_free(&arena);
}

static void random_bytes_are_survived(void **state) {
    (void)state;
    struct seed seed = {7777};
    struct arena arena;
    arena_init(&arena);
    for (int round = 0; round < 300; round++) {
        uint8_t bytes[200];
        size_t size = (size_t)seed_between(&seed, 0.0, sizeof bytes);
        for (size_t i = 0; i < size; i++) {
            static const uint8_t pool[] = {'G', 'R', 'I', 'B', 0, 1,
                                           2,   '7', 200, 20,  8, 28};
            bytes[i] = pool[(size_t)seed_between(&seed, 0.0, sizeof pool)];
            if (i % 24 == 0 && i + 4 < size) {
                memcpy(bytes + i, "GRIB", 4);
                i += 3;
            }
        }
        uint8_t *copy = malloc(size ? size : 1);
        memcpy(copy, bytes, size);
        struct scan found = scan_bytes(copy, size, &arena);
        assert_true(found.stray_bytes <= size);
        free(copy);
    }
    arena_free(&arena);
}

/* --- files that are none ---------------------------------------------------*/

static void assert_refused(const char *path, const char *words) {
    struct loaded loaded = load_files(&path, 1, NULL);
    assert_false(loaded.good);
    assert_int_equal(loaded.error.status, STATUS_INPUT);
    assert_contains(loaded.error.text, words);
    assert_contains(loaded.error.text, path);
    assert_null(strchr(loaded.error.text, '\n'));
    loaded_free(&loaded);
}

static void files_that_are_no_forecast_say_what_they_are(void **state) {
    (void)state;
    static const struct {
        const char *name, *text, *words;
    } cases[] = {
        {"empty.grib", "", "empty file"},
        {"short.grib", "GR", "no GRIB message"},
        {"page.grib",
         "\n\n<!DOCTYPE html>\n<HTML><body>GRIB filter: error 503</body>",
         "looks like a web page"},
        {"packed.grib", "\x1f\x8b\x08 and so on", "compressed; unpack it"},
        {"packed.bz2", "BZh91AY and so on", "compressed; unpack it"},
        {"packed.xz",
         "\xfd"
         "7zXZ and so on",
         "compressed; unpack it"},
        {"packed.zip", "PK\x03\x04 and so on", "compressed; unpack it"},
        {"other.nc", "CDF\x01 and so on", "netCDF"},
        {"letter.txt", "Dear captain,\nno GRIB today\n", "no GRIB message"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_refused(check_write(cases[i].name, cases[i].text),
                       cases[i].words);
    assert_refused(check_folder(), "is a directory");
    assert_refused("/nonexistent/forecast.grib", "no file");
}

static void a_file_that_may_not_be_read_says_so(void **state) {
    (void)state;
    enum { NOBODY = 65534 };
    const char *path = check_write("locked.grib", "GRIB");
    chmod(path, 0);
    bool root = geteuid() == 0; /* reads everything */
    if (root)
        assert_int_equal(seteuid(NOBODY), 0);
    assert_refused(path, "can't read");
    if (root)
        assert_int_equal(seteuid(0), 0);
}

static void a_file_with_nothing_whole_is_damaged(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    grib_add(&bytes, &U);
    bytes.size = 100;
    assert_refused(save_bytes(&bytes, "cut.grib"), "cut short or damaged");
}

static void bad_files_among_good_ones_are_warnings(void **state) {
    (void)state;
    struct grib_bytes bytes = {0};
    struct grib_spec spec = {.edition = 2};
    grib_add_wind(&bytes, &spec, 5.0, 0.0);
    const char *paths[] = {check_write("nothing.grib", ""),
                           save_bytes(&bytes, "good.grib"), check_folder()};
    struct loaded loaded = load_files(paths, 3, NULL);
    assert_true(loaded.good);
    char *warnings = warnings_text(&loaded);
    assert_contains(warnings, "empty file");
    assert_contains(warnings, "is a directory");
    free(warnings);
    loaded_free(&loaded);
}

/* --- what a damaged file still gives ---------------------------------------
 */

static void half_a_pair_after_a_cut_is_no_wind(void **state) {
    (void)state;
    struct grib_bytes cut = {0}, swallowed = {0}, complete = {0};
    grib_add(&cut, &U);
    grib_add(&cut, &V);
    cut.size -= 58;
    grib_add(&swallowed, &U);
    swallowed.size = 150;
    grib_add(&swallowed, &V);
    struct loaded one = load_bytes(&cut, NULL);
    struct loaded two = load_bytes(&swallowed, NULL);
    assert_false(one.good);
    assert_contains(one.error.text, "u without v at 2024-02-28T18:00:00Z");
    assert_false(two.good);
    assert_contains(two.error.text, "v without u at 2024-02-28T18:00:00Z");
    struct grib_spec spec = {.edition = 2};
    grib_add_wind(&complete, &spec, 5.0, 0.0);
    spec.lead = 6;
    grib_add_wind(&complete, &spec, 5.0, 0.0);
    complete.size -= 10;
    struct loaded three = load_bytes(&complete, NULL);
    assert_true(three.good);
    char *warnings = warnings_text(&three);
    assert_contains(warnings, "cut short");
    assert_contains(warnings, "u without v at 2024-02-29T00:00:00Z");
    assert_contains(warnings, "the wind reaches to 2024-02-28T18:00:00Z");
    free(warnings);
    loaded_free(&one);
    loaded_free(&two);
    loaded_free(&three);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(whole_messages_are_found_where_they_stand),
        cmocka_unit_test(stray_bytes_are_skipped_and_counted),
        cmocka_unit_test(three_kilobytes_of_junk_in_front_do_not_matter),
        cmocka_unit_test(zeros_are_padding_and_not_stray),
        cmocka_unit_test(a_file_cut_short_keeps_its_whole_messages),
        cmocka_unit_test(a_message_swallowed_by_a_damaged_one_is_found),
        cmocka_unit_test(a_message_without_its_end_mark_is_lost),
        cmocka_unit_test(lengths_beyond_the_file_are_not_believed),
        cmocka_unit_test(the_coded_length_of_large_messages_is_understood),
        cmocka_unit_test(messages_up_to_the_limit_are_read),
        cmocka_unit_test(a_message_up_to_the_limit_is_read),
        cmocka_unit_test(a_file_above_the_limit_is_refused),
        cmocka_unit_test(random_bytes_are_survived),
        cmocka_unit_test(files_that_are_no_forecast_say_what_they_are),
        cmocka_unit_test(a_file_that_may_not_be_read_says_so),
        cmocka_unit_test(a_file_with_nothing_whole_is_damaged),
        cmocka_unit_test(bad_files_among_good_ones_are_warnings),
        cmocka_unit_test(half_a_pair_after_a_cut_is_no_wind),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
