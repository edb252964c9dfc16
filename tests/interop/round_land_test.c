/* Whole plans with land between start and finish, each leg and each stretch of
 * the track read by others: GDAL takes the lines out of route.gpx, GMT cuts
 * them along rhumb lines every 0.1 nmi, says which places are on land or inland
 * water by the same shorelines, and how far they are from the nearest shore.
 * The winds are invented, and so the forecasts. */
#include "../support/check.h"
#include "../support/scene.h"
#include "../support/scratch.h"

#include "base/arena.h"
#include "base/units.h"
#include "earth/position.h"

#include <jansson.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define SHORES "/usr/share/gmt-gshhg/binned_GSHHS_h.nc"

struct passage {
    const char *name;
    double from_lat, from_lon, to_lat, to_lon;
    double south, north, west, east; /* of the forecast */
    double wind_from_deg, wind_mps;
    double clearance_nmi;
    double longest_nmi; /* over it the way would not be the one meant */
};

static const struct passage passages[] = {
    /* Finisterre lies between */
    {"round a cape", 43.65, -8.60, 42.30, -9.10, 40, 46, -12, -6, 20, 9, 2.0,
     135.0},
    /* Gibraltar, 7.7 nmi at its narrowest (from memory) */
    {"through a strait", 36.10, -6.90, 36.40, -3.50, 34, 38, -9, -1, 265, 8,
     2.0, 190.0},
    /* the Sound: 2.2 nmi at its narrowest (from memory) */
    {"through a narrow one", 56.45, 11.90, 55.15, 12.90, 53, 58, 9, 15, 330, 8,
     0.5, 110.0},
    /* from west of Dominica to east of Martinique */
    {"between islands", 15.40, -61.70, 14.60, -60.50, 12, 18, -64, -58, 10, 8,
     2.0, 115.0},
    /* Corsica and Sardinia: by the north, or by Bonifacio */
    {"round a large island", 41.95, 8.20, 42.20, 9.90, 40, 44, 6, 12, 250, 8,
     2.0, 170.0},
    /* from off Suva to the east of the 180th meridian */
    {"across 180 among islands", -18.30, 178.40, -16.80, -179.30, -21, -14, 175,
     184, 160, 8, 2.0, 210.0},
    /* from the river of Lisbon to the harbour of Lagos */
    {"from harbour to harbour", 38.697, -9.165, 37.100, -8.667, 35, 41, -12, -6,
     350, 8, 0.3, 135.0},
};

enum { PASSAGES = sizeof passages / sizeof *passages };

static const char *forecast_of(const struct passage *passage, int number) {
    struct scene scene = {.name = arena_print(&arena, "land-%d", number),
                          .weather = {.wind_from_deg = passage->wind_from_deg,
                                      .wind_mps = passage->wind_mps,
                                      .wave_m = 1.2,
                                      .wave_period_s = 5.0},
                          .south_deg = passage->south,
                          .north_deg = passage->north,
                          .west_deg = passage->west,
                          .east_deg = passage->east,
                          .step_deg = 0.5,
                          .hours = 96,
                          .every = 6,
                          .sea = SCENE_COMBINED};
    return scene_write(&scene);
}

/* Plans it; returns the folder of the plan. */
static const char *planned_in(const struct passage *passage, int number) {
    const char *out =
        arena_print(&arena, "%s/land-plan-%d", check_folder(), number);
    struct ran ran = check_run(arena_print(
        &arena,
        "plan --boat polars/wanderer-12.ini --forecast '%s' --coast " SHORES
        " --from %.4f,%.4f --to %.4f,%.4f --depart 2026-06-01T06:00Z"
        " --clearance %.1f --ease 0.5 --name 'Land %d' --out '%s' --quiet",
        forecast_of(passage, number), passage->from_lat, passage->from_lon,
        passage->to_lat, passage->to_lon, passage->clearance_nmi, number, out));
    if (ran.status != 0)
        fail_msg("%s: %s", passage->name, ran.err);
    return out;
}

static char *output_of(const char *line) {
    struct ran ran = check_shell(line);
    if (ran.status != 0)
        fail_msg("%s: %s", line, ran.err);
    return ran.out;
}

/* Places every 0.1 nmi along one layer of route.gpx, as GMT cuts it. */
static const char *places_of(const char *folder, const char *layer) {
    const char *path = arena_print(&arena, "%s/%s.txt", folder, layer);
    output_of(arena_print(
        &arena,
        "cd '%s' && ogr2ogr -f GMT %s.gmt route.gpx %s && "
        "gmt sample1d %s.gmt -AR+l -T0.1n -fg --FORMAT_GEO_OUT=D > '%s'",
        folder, layer, layer, layer, path));
    return path;
}

static void assert_clear_of_land(const struct passage *passage,
                                 const char *folder, const char *layer) {
    const char *places = places_of(folder, layer);
    long count =
        strtol(output_of(arena_print(&arena, "grep -vc '^[>#]' '%s'", places)),
               NULL, 10);
    assert_true(count > 200);
    char *dry = output_of(arena_print(
        &arena,
        "cd '%s' && gmt select '%s' -Dh -Ns/k/k/k/k -fg > dry.txt && "
        "{ grep -v '>' dry.txt | head -3; true; }",
        folder, places));
    if (dry[0])
        fail_msg("%s, %s: on land at %s", passage->name, layer, dry);
}

/* Outside the 5 nmi about start and finish no place of the track is nearer to a
 * shore than the clearance, less what 0.1 nmi between places and the flat
 * search of the other tool leave open. */
static void assert_clearance_kept(const struct passage *passage,
                                  const char *folder) {
    char *least = output_of(arena_print(
        &arena,
        "cd '%s' && gmt pscoast -R%g/%g/%g/%g -Dh -A0/0/1 -W -M > shore.txt && "
        "gmt mapproject routes.txt -Lshore.txt+un -fg | "
        "gmt mapproject -G%.4f/%.4f+un -fg | "
        "gmt mapproject -G%.4f/%.4f+un -fg | awk '!/>/ && $6 > 5.3 && "
        "$7 > 5.3 && (!n++ || $3 < least) {least = $3} END {print least}'",
        folder, passage->west, passage->east, passage->south, passage->north,
        passage->from_lon, passage->from_lat, passage->to_lon,
        passage->to_lat));
    double least_nmi = strtod(least, NULL);
    if (least_nmi < passage->clearance_nmi - 0.02)
        fail_msg("%s: %.3f nmi off the land", passage->name, least_nmi);
}

static void assert_is_the_way_meant(const struct passage *passage,
                                    const char *folder) {
    char *path = arena_print(&arena, "%s/plan.json", folder);
    json_t *plan = json_load_file(path, 0, NULL);
    double distance_nmi = json_number_value(
        json_object_get(json_object_get(plan, "summary"), "distance_nmi"));
    json_decref(plan);
    if (distance_nmi <= 0.0 || distance_nmi > passage->longest_nmi)
        fail_msg("%s: %.1f nmi", passage->name, distance_nmi);
}

static void every_leg_and_stretch_is_clear_of_the_land(void **state) {
    (void)state;
    if (access(SHORES, R_OK) != 0) {
        printf("skipped: no shorelines in " SHORES "\n");
        skip();
    }
    char *inland = output_of(arena_print(
        &arena, "cd '%s' && echo -5 40 | gmt select -Dh -Ns/k/k/k/k",
        check_folder()));
    assert_contains(inland, "-5"); /* the tool does tell land */
    int step = check_is_long() ? 1 : 2;
    for (int i = 0; i < PASSAGES; i += step) {
        const char *folder = planned_in(&passages[i], i);
        assert_clear_of_land(&passages[i], folder, "routes");
        assert_clear_of_land(&passages[i], folder, "tracks");
        assert_clearance_kept(&passages[i], folder);
        assert_is_the_way_meant(&passages[i], folder);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_leg_and_stretch_is_clear_of_the_land),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
