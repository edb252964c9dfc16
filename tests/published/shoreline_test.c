#include "../support/check.h"

#include "earth/angle.h"
#include "earth/coast.h"

#include <stdio.h>
#include <string.h>

/* Facts about GSHHG 2.3.7 as Debian packages it, noted by its users: from
 * looking at the files with other tools. The sets low and high are needed by
 * `make check`; what is not there is skipped. */

enum { SETS = 5 };
static const char letters[] = "clihf";

static const char *set_path(char letter) {
    static char path[64];
    snprintf(path, sizeof path, "/usr/share/gmt-gshhg/binned_GSHHS_%c.nc",
             letter);
    return path;
}

static struct coast *load(char letter, struct coast_box box,
                          struct arena *arena) {
    struct error error;
    struct coast *coast = NULL;
    FILE *stream = fopen(set_path(letter), "rb");
    if (!stream) {
        printf("skipped: no %s\n", set_path(letter));
        return NULL;
    }
    fclose(stream);
    if (!coast_load(&coast, set_path(letter), &box, arena, &error))
        fail_msg("%s", error.text);
    return coast;
}

static struct coast_box box_round(struct position place, double half_deg) {
    return (struct coast_box){
        .south_deg = place.lat_deg - half_deg,
        .north_deg = place.lat_deg + half_deg,
        .west_deg = angle_wrap_longitude(place.lon_deg - half_deg),
        .east_deg =
            angle_wrap_longitude(place.lon_deg - half_deg) + 2.0 * half_deg};
}

static void each_set_has_its_polygons_and_its_name(void **state) {
    (void)state;
    static const struct {
        char letter;
        size_t polygons;
        const char *name;
    } cases[] = {{'c', 1781, "GSHHG 2.3.7, crude resolution"},
                 {'l', 10717, "GSHHG 2.3.7, low resolution"},
                 {'i', 41230, "GSHHG 2.3.7, intermediate resolution"},
                 {'h', 153462, "GSHHG 2.3.7, high resolution"}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct arena arena;
        arena_init(&arena);
        struct coast *coast = load(
            cases[i].letter, (struct coast_box){0.0, 1.0, 0.0, 1.0}, &arena);
        if (coast) {
            assert_int_equal(coast_polygon_count(coast), cases[i].polygons);
            assert_string_equal(coast_name(coast), cases[i].name);
            assert_int_equal(coast_resolution(coast), cases[i].letter);
        }
        arena_free(&arena);
    }
}

/* What a coarser set leaves out. Some positions are those of the middle of a
 * group of islands, hence 12 nmi. Rockall and the last three are in no set but
 * the finest, or in none. */
static void small_islands_are_missing_from_coarse_sets(void **state) {
    (void)state;
    static const struct {
        const char *name;
        struct position place;
        const char *absent, *present;
    } cases[] = {{"Bermuda", {32.30, -64.78}, "c", "lihf"},
                 {"St Helena", {-15.96, -5.70}, "c", "lihf"},
                 {"Ascension", {-7.94, -14.36}, "c", "lihf"},
                 {"Niue", {-19.05, -169.87}, "c", "lihf"},
                 {"Pitcairn", {-25.07, -130.10}, "cl", "ihf"},
                 {"Clipperton", {10.30, -109.22}, "l", "ihf"},
                 {"Salvage Islands", {30.14, -15.87}, "l", "ihf"},
                 {"Johnston", {16.73, -169.53}, "l", "ihf"},
                 {"Rockall", {57.60, -13.69}, "li", "hf"},
                 {"Minerva Reef", {-23.6, -178.9}, "clih", ""},
                 {"Beveridge Reef", {-20.0, -167.8}, "clih", ""},
                 {"St Paul Rocks", {0.92, -29.35}, "clih", ""}};
    const double near_m = 12.0 * 1852.0;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        for (int k = 0; k < SETS; k++) {
            struct arena arena;
            arena_init(&arena);
            struct coast *coast =
                load(letters[k], box_round(cases[i].place, 0.5), &arena);
            bool is_absent = strchr(cases[i].absent, letters[k]);
            bool is_present = strchr(cases[i].present, letters[k]);
            double away_m =
                coast ? coast_distance_m(coast, cases[i].place, near_m, NULL)
                      : 0.0;
            if (coast && is_absent && away_m < near_m)
                fail_msg("%s is in '%c'", cases[i].name, letters[k]);
            if (coast && is_present && away_m >= near_m)
                fail_msg("%s is not in '%c'", cases[i].name, letters[k]);
            arena_free(&arena);
        }
    }
}

/* Sable Island is 20 nmi long and under a mile wide. */
static void a_leg_across_sable_island_is_seen_at_any_step(void **state) {
    (void)state;
    struct position from = {44.15, -59.90}, to = {43.75, -59.90};
    for (int k = 0; k < SETS; k++) {
        struct arena arena;
        arena_init(&arena);
        struct coast *coast = load(
            letters[k], (struct coast_box){43.0, 45.0, -61.0, -59.0}, &arena);
        bool is_there = letters[k] != 'c';
        for (int parts = 1; coast && parts < 200; parts++) {
            bool there = false, back = false;
            struct position last = from;
            for (int i = 1; i <= parts; i++) {
                struct position next = {
                    from.lat_deg + (to.lat_deg - from.lat_deg) * i / parts,
                    from.lon_deg};
                there |= coast_meets(coast, last, next);
                back |= coast_meets(coast, next, last);
                last = next;
            }
            assert_int_equal(there, is_there);
            assert_int_equal(back, is_there);
        }
        arena_free(&arena);
    }
}

static void seams_and_bins_without_a_shore_are_right(void **state) {
    (void)state;
    static const struct {
        struct position place;
        enum coast_level level;
    } cases[] = {{{66.0, 175.0}, COAST_LAND},   {{67.0, -178.9}, COAST_LAND},
                 {{51.95, 179.60}, COAST_LAND}, {{-75.0, 0.0}, COAST_LAND},
                 {{-75.0, -10.0}, COAST_LAND},  {{-65.0, 0.0}, COAST_SEA},
                 {{0.0, 0.0}, COAST_SEA},       {{-80.0, 100.0}, COAST_LAND},
                 {{-89.0, -180.0}, COAST_LAND}, {{89.0, 0.0}, COAST_SEA}};
    for (int k = 1; k < SETS; k++) {
        for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
            struct position place = cases[i].place;
            struct arena arena;
            arena_init(&arena);
            struct coast_box box = box_round(place, 1.0);
            struct coast *coast = load(letters[k], box, &arena);
            if (coast)
                assert_int_equal(coast_level_at(coast, place), cases[i].level);
            arena_free(&arena);
        }
    }
}

/* No seam of the files is a coast. */
static void legs_over_the_seams_at_sea_are_clear(void **state) {
    (void)state;
    static const struct position legs[][2] = {
        {{-65.0, -3.0}, {-65.0, 3.0}},    {{0.0, -5.0}, {0.0, 5.0}},
        {{-65.0, 0.0}, {-60.0, 0.0}},     {{-40.0, 179.0}, {-42.0, -178.0}},
        {{30.0, 175.0}, {31.0, -175.0}},  {{20.0, -180.0}, {28.0, 179.0}},
        {{-50.0, -179.5}, {-50.0, 179.0}}};
    static const struct coast_box boxes[] = {{-70.0, 40.0, -10.0, 10.0},
                                             {-60.0, 40.0, 165.0, 200.0},
                                             {-70.0, 40.0, -180.0, 180.0},
                                             {-70.0, 40.0, 0.0, 360.0}};
    for (int k = 0; k < 4; k++) {
        for (size_t b = 0; b < 4; b++) {
            struct arena arena;
            arena_init(&arena);
            struct coast *coast = load(letters[k], boxes[b], &arena);
            for (size_t i = 0; coast && i < sizeof legs / sizeof legs[0]; i++) {
                if (!coast_covers(coast, legs[i][0]) ||
                    !coast_covers(coast, legs[i][1]))
                    continue;
                if (coast_meets(coast, legs[i][0], legs[i][1]))
                    fail_msg("leg %zu in '%c', box %zu", i, letters[k], b);
                assert_false(coast_meets(coast, legs[i][1], legs[i][0]));
            }
            arena_free(&arena);
        }
    }
}

/* Along 60 S and 84 N there is no land; the lines that close polygons along
 * the sides of bins must not be there. The crude set has no island there that
 * the others lack. */
static void the_world_can_be_sailed_round(void **state) {
    (void)state;
    static const double lats_deg[] = {-60.0, 84.0};
    for (int k = 0; k < SETS; k++) {
        struct arena arena;
        arena_init(&arena);
        struct coast *coast =
            load(letters[k], (struct coast_box){-61.0, -59.0, -180.0, 180.0},
                 &arena);
        struct coast *polar = load(
            letters[k], (struct coast_box){83.9, 84.1, -180.0, 180.0}, &arena);
        for (int i = 0; coast && polar && i < 2; i++) {
            const struct coast *there = i == 0 ? coast : polar;
            for (double lon = -180.0; lon < 180.0; lon += 7.5) {
                struct position from = {lats_deg[i], lon};
                struct position to = {lats_deg[i],
                                      angle_wrap_longitude(lon + 7.5)};
                assert_int_equal(coast_level_at(there, from), COAST_SEA);
                assert_false(coast_meets(there, from, to));
            }
        }
        arena_free(&arena);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_set_has_its_polygons_and_its_name),
        cmocka_unit_test(small_islands_are_missing_from_coarse_sets),
        cmocka_unit_test(a_leg_across_sable_island_is_seen_at_any_step),
        cmocka_unit_test(seams_and_bins_without_a_shore_are_right),
        cmocka_unit_test(legs_over_the_seams_at_sea_are_clear),
        cmocka_unit_test(the_world_can_be_sailed_round),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
