/* Damaged files: read or refused with a message, never more than that. The
 * sanitizers watch in their own run. */
#include "../support/check.h"
#include "../support/gpx_example.h"

#include "exchange/gpx.h"
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { SIZE_LIMIT = 1 << 14, CASES = 1500, LONG_CASES = 100000 };

struct bytes {
    size_t size;
    char at[SIZE_LIMIT];
};

static struct bytes example_bytes(void) {
    struct bytes bytes;
    struct gpx gpx = gpx_example();
    FILE *stream = fopen(gpx_example_write(&gpx, "whole.gpx"), "rb");
    assert_non_null(stream);
    bytes.size = fread(bytes.at, 1, sizeof bytes.at, stream);
    fclose(stream);
    return bytes;
}

static size_t pick(struct seed *seed, size_t count) {
    return (size_t)seed_between(seed, 0.0, (double)count);
}

/* One damage: a byte changed, the end cut off, a piece doubled or dropped. */
static void damage(struct bytes *bytes, struct seed *seed) {
    static const char likely[] = "<>&;/\"'=! ?-.0\0\xFF\xC3";
    size_t at = pick(seed, bytes->size);
    size_t length = pick(seed, bytes->size - at);
    switch (pick(seed, 4)) {
    case 0:
        bytes->at[at] = likely[pick(seed, sizeof likely)];
        break;
    case 1:
        bytes->size = at + 1;
        break;
    case 2:
        if (bytes->size + length > sizeof bytes->at)
            break;
        memmove(bytes->at + at + length, bytes->at + at, bytes->size - at);
        bytes->size += length;
        break;
    default:
        memmove(bytes->at + at, bytes->at + at + length,
                bytes->size - at - length);
        bytes->size -= length;
        break;
    }
}

static void points_are_sound(const struct gpx_line *lines, size_t count) {
    for (size_t i = 0; i < count; i++) {
        assert_true(lines[i].count > 0);
        for (size_t j = 0; j < lines[i].count; j++) {
            struct position at = lines[i].points[j].position;
            assert_true(fabs(at.lat_deg) <= 90.0);
            assert_true(at.lon_deg >= -180.0 && at.lon_deg < 180.0);
        }
    }
}

static bool load(const char *path) {
    struct arena arena;
    struct gpx gpx;
    struct error error = {0};
    arena_init(&arena);
    bool loaded = gpx_load(&gpx, path, &arena, &error);
    if (loaded) {
        points_are_sound(gpx.routes, gpx.route_count);
        points_are_sound(gpx.tracks, gpx.track_count);
    } else {
        assert_int_equal(error.status, STATUS_INPUT);
        assert_contains(error.text, "damaged.gpx:");
    }
    arena_free(&arena);
    return loaded;
}

static void damaged_files_are_read_or_refused(void **state) {
    (void)state;
    struct seed seed = {1975};
    struct bytes whole = example_bytes();
    const char *path = check_write("damaged.gpx", "");
    int cases = check_is_long() ? LONG_CASES : CASES, loaded = 0;
    for (int i = 0; i < cases; i++) {
        struct bytes bytes = whole;
        for (size_t times = pick(&seed, 3) + 1; times > 0 && bytes.size;
             times--)
            damage(&bytes, &seed);
        FILE *stream = fopen(path, "wb");
        assert_non_null(stream);
        fwrite(bytes.at, 1, bytes.size, stream);
        fclose(stream);
        loaded += load(path);
    }
    print_message("%d cases, seed 1975, %d read\n", cases, loaded);
    assert_in_range(loaded, 1, cases - 1);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(damaged_files_are_read_or_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
