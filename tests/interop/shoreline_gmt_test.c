#include "../support/check.h"

#include "earth/angle.h"
#include "earth/coast.h"
#include "earth/geodesic.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Our shorelines against those of the Generic Mapping Tools 6, which read the
 * same files: `gmt select` sorts points into sea, land, lake, island in a lake
 * and pond; `gmt mapproject` finds the nearest place on the lines that `gmt
 * coast -M` writes, on a sphere, and PROJ measures how far that is. */

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
    snprintf(line, sizeof line, "cd '%s' && gmt select '%s' -D%c -N%s",
             check_folder(), points, letter, kinds);
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
    compare_set('l', is_long ? 20000 : 4000);
    compare_set('h', is_long ? 20000 : 500);
    if (is_long) {
        compare_set('i', 20000);
        compare_set('f', 20000);
    }
}

/* Our distance is no longer than to the place that GMT finds. Mostly both are
 * one place; else GMT's is the nearest on a sphere, where north and east are up
 * to 0.6 % other than on the ellipsoid. GMT's edges are great circles, ours are
 * straight on the chart: at 55 degrees they are 70 m apart in the middle of an
 * edge of 50 km, 3 m for 10 km. */
static void compare_distances(char letter, struct coast_box box, int count) {
    static const double most_m = 60.0 * 1852.0;
    double bend_m = letter == 'l' ? 100.0 : 5.0;
    struct arena arena;
    struct seed seed = {77};
    arena_init(&arena);
    struct coast *coast = load(letter, &box, &arena);
    if (coast) {
        char line[LINE_SIZE];
        struct position *places =
            arena_alloc(&arena, (size_t)count, sizeof *places);
        for (int i = 0; i < count;) {
            places[i] = (struct position){
                seed_between(&seed, box.south_deg, box.north_deg),
                angle_wrap_longitude(
                    seed_between(&seed, box.west_deg, box.east_deg))};
            i += coast_distance_m(coast, places[i], most_m, NULL) < most_m;
        }
        const char *points = write_points(places, count);
        snprintf(line, sizeof line,
                 "cd '%s' && gmt coast -D%c -A0/0/1 -R%g/%g/%g/%g -M -W1 "
                 ">'%s.lines' && gmt mapproject '%s' -fg -L'%s.lines'+ue "
                 "--FORMAT_FLOAT_OUT=%%.9f",
                 check_folder(), letter, box.west_deg - 8.0, box.east_deg + 8.0,
                 box.south_deg - 2.0, box.north_deg + 2.0, points, points,
                 points);
        struct ran ran = check_shell(line);
        assert_int_equal(ran.status, 0);
        char *at = ran.out;
        int same = 0;
        for (int i = 0; i < count; i++) {
            double lon, lat, number, sphere_m;
            struct position there;
            assert_int_equal(sscanf(at, "%lf %lf %lf %lf %lf %lf", &lon, &lat,
                                    &number, &sphere_m, &there.lon_deg,
                                    &there.lat_deg),
                             6);
            at += strcspn(at, "\n") + 1;
            there.lon_deg = angle_wrap_longitude(there.lon_deg);
            double ours_m = coast_distance_m(coast, places[i], most_m, NULL);
            double theirs_m = geodesic_between(places[i], there).distance_m;
            assert_true(ours_m <= 1.0003 * theirs_m + bend_m);
            assert_true(ours_m >= 0.994 * theirs_m - bend_m);
            same += fabs(ours_m - theirs_m) <= 1e-4 * theirs_m + bend_m;
        }
        printf("'%c': %d distances, %d the same to 0.01 %%\n", letter, count,
               same);
        assert_true(same > count * 9 / 10);
    }
    arena_free(&arena);
}

static void distances_are_those_of_gmt(void **state) {
    (void)state;
    int count = check_is_long() ? 1000 : 100;
    static const struct coast_box ireland = {51.0, 56.0, -14.0, -5.0};
    static const struct coast_box fiji = {-20.0, -14.0, 176.0, 182.0};
    static const struct coast_box svalbard = {75.0, 80.0, 5.0, 30.0};
    compare_distances('h', ireland, count);
    compare_distances('h', fiji, count);
    compare_distances('h', svalbard, count);
    compare_distances('l', ireland, count);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(levels_are_those_of_gmt),
        cmocka_unit_test(distances_are_those_of_gmt),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
