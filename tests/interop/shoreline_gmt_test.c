#include "../support/check.h"

#include "earth/angle.h"
#include "earth/coast.h"
#include "earth/geodesic.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Our shorelines against those of the Generic Mapping Tools 6, which read the
 * same files: `gmt select` sorts points into sea, land, lake, island in a lake
 * and pond, and `gmt mapproject` measures from points to the lines that
 * `gmt coast -M` writes. */

static const double NMI_M = 1852.0;

enum { LEVELS = COAST_POND + 1, LINE_SIZE = 4200 };

static struct coast *load(char letter, const struct coast_box *box,
                          struct arena *arena) {
    char path[64];
    struct error error;
    struct coast *coast = NULL;
    snprintf(path, sizeof path, "/usr/share/gmt-gshhg/binned_GSHHS_%c.nc",
             letter);
    FILE *stream = fopen(path, "rb");
    if (!stream || system("command -v gmt >/dev/null") != 0) {
        printf("skipped: no %s, or no gmt\n", path);
        if (stream)
            fclose(stream);
        return NULL;
    }
    fclose(stream);
    if (!coast_load(&coast, path, box, arena, &error))
        fail_msg("%s", error.text);
    return coast;
}

/* Every other one anywhere, the others within some miles of a shore. */
static struct position pick(const struct coast *coast, int number,
                            struct seed *seed) {
    for (;;) {
        struct position place = {seed_between(seed, -85.0, 84.0),
                                 seed_between(seed, -180.0, 180.0)};
        struct position shore;
        if (number % 2 == 0)
            return place;
        if (coast_distance_m(coast, place, 200000.0, &shore) >= 200000.0)
            continue;
        return geodesic_ahead(shore, seed_between(seed, 0.0, 360.0),
                              seed_between(seed, 0.0, 3.0 * NMI_M));
    }
}

/* Marks the points that GMT keeps for one level. */
static void ask_gmt(const char *points, char letter, int level, int *levels,
                    int count) {
    char line[LINE_SIZE], kinds[] = "s/s/s/s/s";
    kinds[2 * level] = 'k';
    snprintf(line, sizeof line, "gmt select '%s' -D%c -N%s", points, letter,
             kinds);
    struct ran ran = check_shell(line);
    assert_int_equal(ran.status, 0);
    for (char *at = ran.out; *at;) {
        double lon, lat;
        int number;
        assert_int_equal(sscanf(at, "%lf %lf %d", &lon, &lat, &number), 3);
        assert_in_range(number, 0, count - 1);
        levels[number] = level;
        at += strcspn(at, "\n");
        at += *at == '\n';
    }
}

static const char *write_points(const struct position *places, int count) {
    char *text = calloc((size_t)count + 1, 64);
    size_t length = 0;
    for (int i = 0; i < count; i++)
        length += (size_t)sprintf(text + length, "%.9f %.9f %d\n",
                                  places[i].lon_deg, places[i].lat_deg, i);
    const char *path = check_write("points.txt", text);
    free(text);
    return path;
}

/* The nearest shoreline of any level is not ours to ask for: a point whose
 * neighbours 0.2 nmi away have the level that GMT gives is near enough. */
static bool is_near_change(const struct coast *coast, struct position place,
                           enum coast_level level) {
    for (int ring = 1; ring <= 4; ring++) {
        for (double course_deg = 0.0; course_deg < 360.0; course_deg += 10.0) {
            struct position there =
                geodesic_ahead(place, course_deg, 0.05 * ring * NMI_M);
            if (coast_level_at(coast, there) == level)
                return true;
        }
    }
    return false;
}

static void compare_set(char letter, int count) {
    static const struct coast_box world = {-90.0, 90.0, -180.0, 180.0};
    struct arena arena;
    struct seed seed = {2026};
    arena_init(&arena);
    struct coast *coast = load(letter, &world, &arena);
    if (coast) {
        struct position *places =
            arena_alloc(&arena, (size_t)count, sizeof *places);
        int *levels = arena_alloc(&arena, (size_t)count, sizeof *levels);
        int tally[LEVELS] = {0}, apart = 0;
        for (int i = 0; i < count; i++) {
            places[i] = pick(coast, i, &seed);
            levels[i] = -1;
        }
        const char *points = write_points(places, count);
        for (int level = 0; level < LEVELS; level++)
            ask_gmt(points, letter, level, levels, count);
        for (int i = 0; i < count; i++) {
            enum coast_level ours = coast_level_at(coast, places[i]);
            tally[ours]++;
            if ((int)ours == levels[i])
                continue;
            apart++;
            if (levels[i] < 0 ||
                !is_near_change(coast, places[i], (enum coast_level)levels[i]))
                fail_msg("'%c' %.6f %.6f: %d, by GMT %d", letter,
                         places[i].lat_deg, places[i].lon_deg, ours, levels[i]);
        }
        printf("'%c': %d points (sea %d, land %d, lake %d, island %d, pond "
               "%d), %d differ, all within 0.2 nmi of a shoreline\n",
               letter, count, tally[0], tally[1], tally[2], tally[3], tally[4],
               apart);
        /* both kinds are well tried */
        assert_true(tally[COAST_SEA] > count / 4);
        assert_true(tally[COAST_LAND] > count / 4);
    }
    arena_free(&arena);
}

static void levels_are_those_of_gmt(void **state) {
    (void)state;
    bool is_long = check_is_long();
    int count = is_long ? 20000 : 4000;
    compare_set('l', count);
    compare_set('h', count);
    if (is_long) {
        compare_set('i', count);
        compare_set('f', count);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(levels_are_those_of_gmt),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
