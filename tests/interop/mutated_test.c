/* Damaged forecast files through the whole program: it ends by itself, within
 * 5 s of processor time and 500 MB, with a plan or with one message. */
#include "../support/check.h"

#include "../support/bounded.h"
#include "../support/grib_maker.h"

#include "base/arena.h"
#include <jansson.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

enum {
    SOME = 100,
    MANY = 2000, /* under `make check-long` */
    CPU_S = 5,
    CLOCK_S = 120, /* on a machine with other work */
    MESSAGES = 40,
    SIDE = 5,
    POINTS = SIDE * SIDE,
    STEPS = 4
};
static const size_t ADDRESS_BYTES = (size_t)500 << 20;

/* --- forecasts to damage ---------------------------------------------------*/

/* A sound file: small messages, so that most damage meets what describes. */
struct sound {
    struct grib_bytes bytes;
    size_t start[MESSAGES + 1]; /* of messages; the last: the end */
    size_t count;
};

struct quantity {
    int discipline, category, number, level_type, level, number_1;
    double value;
};

/* Discipline, category, number, level of edition 2 (WMO code tables 4.2); the
 * number in edition 1 (its table 2, 140 of waves left out). */
static const struct quantity quantities[] = {
    {0, 2, 2, 103, 10, 33, 1.0}, {0, 2, 3, 103, 10, 34, -7.0},
    {0, 2, 22, 103, 10, 0, 9.5}, {10, 0, 3, 1, 0, 100, 1.2},
    {10, 0, 11, 1, 0, 0, 6.0},   {10, 0, 10, 1, 0, 0, 350.0},
};

enum { QUANTITIES = sizeof quantities / sizeof *quantities };

/* 100 km apart, over the passage. */
static const struct grib_key lambert[] = {
    {"gridDefinitionTemplateNumber", 30},
    {"shapeOfTheEarth", 6},
    {"Nx", SIDE},
    {"Ny", SIDE},
    {"scanningMode", 0x40},
    {"LaDInDegrees", 39.0},
    {"LoVInDegrees", 350.0},
    {"Latin1InDegrees", 39.0},
    {"Latin2InDegrees", 39.0},
    {"DxInMetres", 100000},
    {"DyInMetres", 100000},
    {"latitudeOfFirstGridPointInDegrees", 37.2},
    {"longitudeOfFirstGridPointInDegrees", 347.7},
    {NULL, 0}};

struct kind {
    int edition;
    const struct grib_key *grid;
    const char *packing;
};

static const struct kind kinds[] = {
    {2, NULL, "grid_simple"}, {2, NULL, "grid_ccsds"},
    {2, NULL, "grid_jpeg"},   {2, lambert, "grid_simple"},
    {1, NULL, "grid_simple"}, {2, NULL, "grid_second_order"},
};

enum { KINDS = sizeof kinds / sizeof *kinds };

static void add(struct sound *sound, const struct kind *kind,
                const struct quantity *quantity, int step) {
    double values[POINTS];
    for (int i = 0; i < POINTS; i++)
        values[i] = quantity->value + 0.02 * i + 0.1 * step;
    bool first = kind->edition == 1;
    struct grib_spec spec = {.edition = kind->edition,
                             .discipline = quantity->discipline,
                             .category = quantity->category,
                             .number =
                                 first ? quantity->number_1 : quantity->number,
                             .level_type = first ? 0 : quantity->level_type,
                             .level = first ? 0 : quantity->level,
                             .run = {2026, 6, 21, 0, 0, 0},
                             .lead = 3 * step,
                             .ni = SIDE,
                             .nj = SIDE,
                             .first_lat = 40.0,
                             .first_lon = -11.0,
                             .last_lat = 38.0,
                             .last_lon = -9.0,
                             .grid = kind->grid,
                             .points = POINTS,
                             .values = values,
                             .bits = 12,
                             .packing = kind->packing};
    sound->start[sound->count++] = grib_add(&sound->bytes, &spec);
    sound->start[sound->count] = sound->bytes.size;
}

static void make_sound(struct sound *sound, const struct kind *kind) {
    *sound = (struct sound){.count = 0};
    for (int step = 0; step < STEPS; step++)
        for (int i = 0; i < QUANTITIES; i++)
            if (kind->edition == 2 || quantities[i].number_1 > 0)
                add(sound, kind, &quantities[i], step);
}

/* --- damage ----------------------------------------------------------------*/

static size_t below(struct seed *seed, size_t limit) {
    return (size_t)seed_between(seed, 0.0, (double)limit);
}

/* A damaged copy of a sound file. */
struct damaged {
    uint8_t bytes[1 << 16];
    size_t size;
    const char *how;
    bool cut_inside; /* in the midst of a message */
};

/* Most of it near the start of a message, where it is described. */
static size_t somewhere(const struct sound *sound,
                        const struct damaged *damaged, struct seed *seed) {
    enum { DESCRIPTION_BYTES = 180 };
    size_t start = sound->start[below(seed, sound->count)];
    size_t place = start + below(seed, DESCRIPTION_BYTES);
    return place < damaged->size ? place : damaged->size - 1;
}

static void flip_bits(const struct sound *sound, struct damaged *damaged,
                      struct seed *seed) {
    for (size_t i = 1 + below(seed, 8); i > 0; i--)
        damaged->bytes[somewhere(sound, damaged, seed)] ^=
            (uint8_t)(1u << below(seed, 8));
    damaged->how = "bits flipped";
}

static void cut_short(const struct sound *sound, struct damaged *damaged,
                      struct seed *seed) {
    damaged->size = 1 + below(seed, damaged->size - 1);
    damaged->cut_inside = true;
    for (size_t i = 0; i < sound->count; i++)
        damaged->cut_inside &= sound->start[i] != damaged->size;
    damaged->how = "cut short";
}

/* Bytes lost in the midst. */
static void lose_bytes(const struct sound *sound, struct damaged *damaged,
                       struct seed *seed) {
    size_t from = somewhere(sound, damaged, seed);
    size_t most = damaged->size - from;
    size_t lost = 1 + below(seed, most < 300 ? most : 300);
    lost = lost > most ? most : lost;
    memmove(damaged->bytes + from, damaged->bytes + from + lost, most - lost);
    damaged->size -= lost;
    if (damaged->size == 0)
        damaged->size = 1;
    damaged->how = "bytes lost";
}

static void copy_message(const struct sound *sound, struct damaged *damaged,
                         size_t which) {
    size_t length = sound->start[which + 1] - sound->start[which];
    memcpy(damaged->bytes + damaged->size,
           sound->bytes.bytes + sound->start[which], length);
    damaged->size += length;
}

/* In any order, some twice, some not at all. */
static void swap_messages(const struct sound *sound, struct damaged *damaged,
                          struct seed *seed) {
    damaged->size = 0;
    for (size_t i = 0; i < sound->count; i++)
        copy_message(sound, damaged, below(seed, sound->count));
    damaged->how = "messages swapped";
}

/* Numbers as no file should have them, over 1 to 8 bytes. */
static void put_hostile(const struct sound *sound, struct damaged *damaged,
                        struct seed *seed) {
    static const uint8_t fills[][2] = {{0, 0},       {0, 1},    {0xff, 0xff},
                                       {0x7f, 0xff}, {0x80, 0}, {0x80, 1},
                                       {1, 0},       {0, 0xff}};
    size_t from = somewhere(sound, damaged, seed);
    size_t count = (size_t)1 << below(seed, 4);
    const uint8_t *fill = fills[below(seed, 8)];
    bool big = fill[0] == 0x7f;
    for (size_t i = 0; i < count && from + i < damaged->size; i++)
        damaged->bytes[from + i] =
            i == 0 ? fill[0] : (big || i + 1 == count ? fill[1] : fill[0] & 1);
    damaged->how = "a hostile number";
}

/* A few bytes of one message at the same place of another one. */
static void mix_messages(const struct sound *sound, struct damaged *damaged,
                         struct seed *seed) {
    size_t from = sound->start[below(seed, sound->count)];
    size_t to = sound->start[below(seed, sound->count)];
    size_t at = below(seed, 150), count = 1 + below(seed, 60);
    for (size_t i = at; i < at + count; i++)
        if (to + i < damaged->size && from + i < sound->bytes.size)
            damaged->bytes[to + i] = sound->bytes.bytes[from + i];
    damaged->how = "messages mixed";
}

static void damage(const struct sound *sound, struct damaged *damaged,
                   struct seed *seed) {
    static void (*const ways[])(const struct sound *, struct damaged *,
                                struct seed *) = {
        flip_bits,   cut_short,    lose_bytes, swap_messages,
        put_hostile, mix_messages, flip_bits,  put_hostile};
    assert_true(sound->bytes.size < sizeof damaged->bytes / 2);
    memcpy(damaged->bytes, sound->bytes.bytes, sound->bytes.size);
    damaged->size = sound->bytes.size;
    damaged->cut_inside = false;
    ways[below(seed, sizeof ways / sizeof *ways)](sound, damaged, seed);
}

/* --- the program -----------------------------------------------------------*/

static struct arena arena;
static const char *forecast, *folder;

static void save(const struct damaged *damaged) {
    FILE *stream = fopen(forecast, "wb");
    assert_non_null(stream);
    assert_int_equal(fwrite(damaged->bytes, 1, damaged->size, stream),
                     damaged->size);
    assert_int_equal(fclose(stream), 0);
}

static struct bounded plan(void) {
    const char *arguments[] = {"plan",
                               "--boat",
                               "polars/heron-9.ini",
                               "--forecast",
                               forecast,
                               "--from",
                               "39 18.0 N 9 48.0 W",
                               "--to",
                               "39 15 N 9 48 W",
                               "--depart",
                               "2026-06-21T02:00Z",
                               "--coast",
                               "none",
                               "--threads",
                               "1",
                               "--out",
                               folder,
                               NULL};
    const struct bounds bounds = {
        .cpu_s = CPU_S, .clock_s = CLOCK_S, .address_bytes = ADDRESS_BYTES};
    return bounded_run(arguments, &bounds);
}

/* All four, whole, and no draft beside them. */
static void take_files_away(const char *what) {
    static const char *const names[] = {"schedule.txt", "route.gpx",
                                        "plan.json", "report.html"};
    json_error_t fault;
    json_t *whole =
        json_load_file(arena_print(&arena, "%s/plan.json", folder), 0, &fault);
    if (!whole || json_integer_value(json_object_get(whole, "format")) != 1)
        fail_msg("%s: %s", what, fault.text);
    json_decref(whole);
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        if (unlink(arena_print(&arena, "%s/%s", folder, names[i])) != 0)
            fail_msg("%s: no %s", what, names[i]);
    if (rmdir(folder) != 0)
        fail_msg("%s: more than the four files", what);
}

/* No route, a bad file, outside the forecast, no memory. */
static const int statuses[] = {1, 3, 4, 71, 0};

static bool check_one(const struct damaged *damaged, const char *what) {
    save(damaged);
    struct bounded ran = plan();
    bool planned = bounded_ended_well(&ran, statuses, what);
    if (ran.cpu_s > CPU_S)
        fail_msg("%s: took %.1f s", what, ran.cpu_s);
    if (planned && damaged->cut_inside)
        assert_contains(ran.err, "sparwise: warning: ");
    if (planned)
        take_files_away(what);
    else if (access(folder, F_OK) == 0)
        fail_msg("%s: files without a plan", what);
    bounded_free(&ran);
    return planned;
}

static void damaged_files_end_in_a_plan_or_one_message(void **state) {
    (void)state;
    static struct sound sounds[KINDS];
    static struct damaged damaged;
    int count = check_is_long() ? MANY : SOME, planned = 0;
    for (size_t i = 0; i < KINDS; i++)
        make_sound(&sounds[i], &kinds[i]);
    for (int i = 0; i < count; i++) {
        struct seed seed = {(uint64_t)i};
        size_t kind = (size_t)i % KINDS;
        damage(&sounds[kind], &damaged, &seed);
        planned +=
            check_one(&damaged, arena_print(&arena, "seed %d, kind %zu, %s", i,
                                            kind, damaged.how));
    }
    /* neither is the damage harmless nor all lost by it */
    print_message("%d of %d ended in a plan\n", planned, count);
    assert_true(planned > count / 4 && planned < count);
    for (size_t i = 0; i < KINDS; i++)
        grib_free(&sounds[i].bytes);
}

static void sound_files_are_planned(void **state) {
    (void)state;
    static struct damaged damaged;
    for (size_t i = 0; i < KINDS; i++) {
        struct sound sound;
        make_sound(&sound, &kinds[i]);
        memcpy(damaged.bytes, sound.bytes.bytes, sound.bytes.size);
        damaged.size = sound.bytes.size;
        grib_free(&sound.bytes);
        save(&damaged);
        struct bounded ran = plan();
        assert_int_equal(ran.status, 0);
        assert_null(strstr(ran.err, "damaged"));
        assert_null(strstr(ran.err, "lost"));
        bounded_free(&ran);
        take_files_away(kinds[i].packing);
    }
}

int main(void) {
    arena_init(&arena);
    forecast = check_write("damaged.grib", "");
    folder = arena_print(&arena, "%s/planned", check_folder());
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sound_files_are_planned),
        cmocka_unit_test(damaged_files_end_in_a_plan_or_one_message),
    };
    int failed = cmocka_run_group_tests(tests, NULL, NULL);
    arena_free(&arena);
    return failed;
}
