/* A plan's own route.gpx in other hands: every point, name and time of it as
 * gpsbabel 1.8.0 and GDAL 3.6.2 of Debian 12 read them, and the same passage by
 * `along` from what these two write of it. */
#include "../support/check.h"
#include "../support/planned.h"
#include "../support/scratch.h"

#include "exchange/gpx.h"
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define PASSAGE "grib-samples/coastal-hop.ini --coast none"

static struct planned plan;
static struct gpx ours;

static struct gpx loaded(const char *path) {
    struct gpx gpx;
    struct error error;
    if (!gpx_load(&gpx, path, &arena, &error))
        fail_msg("%s", error.text);
    return gpx;
}

static const char *route_path(void) {
    return arena_print(&arena, "%s/route.gpx", plan.folder);
}

static int begin(void **state) {
    scratch_begin(state);
    plan = planned_well("plan", "plan " PASSAGE);
    ours = loaded(route_path());
    return 0;
}

static bool lacks(const char *program) {
    char line[100];
    snprintf(line, sizeof line, "command -v %s", program);
    if (check_shell(line).status == 0)
        return false;
    print_message("skipped: no program %s\n", program);
    return true;
}

/* --- read by others -------------------------------------------------------*/

static void same_line(const struct gpx_line *actual,
                      const struct gpx_line *expected) {
    assert_int_equal(actual->count, expected->count);
    for (size_t i = 0; i < expected->count; i++) {
        const struct gpx_point *is = &actual->points[i];
        const struct gpx_point *was = &expected->points[i];
        assert_near(is->position.lat_deg, was->position.lat_deg, 1e-12);
        assert_near(is->position.lon_deg, was->position.lon_deg, 1e-12);
        assert_true(is->timed && was->timed);
        assert_int_equal(is->time.unix_s, was->time.unix_s);
        assert_string_equal(is->name ? is->name : "",
                            was->name ? was->name : "");
    }
}

static void gpsbabel_has_every_point_name_and_time(void **state) {
    (void)state;
    if (lacks("gpsbabel"))
        skip();
    const char *back = check_write("back.gpx", "");
    struct ran ran = check_shell(
        arena_print(&arena, "gpsbabel -r -t -i gpx -f '%s' -o gpx -F '%s'",
                    route_path(), back));
    assert_int_equal(ran.status, 0);
    struct gpx theirs = loaded(back);
    assert_int_equal(theirs.route_count, 1);
    assert_int_equal(theirs.track_count, 1);
    same_line(&theirs.routes[0], &ours.routes[0]);
    same_line(&theirs.tracks[0], &ours.tracks[0]);
}

/* "X,Y,2026/06/21 04:00:00+00,W001": a row of GDAL's table. */
static void same_row(const char *row, const struct gpx_point *point) {
    double lon_deg, lat_deg;
    int years, months, days, hours, minutes, seconds;
    char name[100] = "", time[INSTANT_TEXT_SIZE], expected[INSTANT_TEXT_SIZE];
    assert_int_equal(sscanf(row, "%lf,%lf,%d/%d/%d %d:%d:%d+00,%99[^,\r\n]",
                            &lon_deg, &lat_deg, &years, &months, &days, &hours,
                            &minutes, &seconds, name),
                     point->name ? 9 : 8);
    assert_near(lon_deg, point->position.lon_deg, 1e-12);
    assert_near(lat_deg, point->position.lat_deg, 1e-12);
    snprintf(time, sizeof time, "%04d-%02d-%02dT%02d:%02d:%02dZ", years, months,
             days, hours, minutes, seconds);
    instant_print(point->time, expected);
    assert_string_equal(time, expected);
    assert_string_equal(name, point->name ? point->name : "");
}

static void gdal_has_layer(const char *layer, const struct gpx_line *line) {
    struct ran ran = check_shell(
        arena_print(&arena,
                    "ogr2ogr -f CSV /vsistdout/ '%s' %s -select time,name -lco "
                    "GEOMETRY=AS_XY",
                    route_path(), layer));
    assert_int_equal(ran.status, 0);
    char *rest = ran.out;
    strtok_r(NULL, "\n", &rest); /* the heading */
    for (size_t i = 0; i < line->count; i++) {
        const char *row = strtok_r(NULL, "\n", &rest);
        assert_non_null(row);
        same_row(row, &line->points[i]);
    }
    assert_null(strtok_r(NULL, "\n", &rest));
}

static void gdal_has_every_point_name_and_time(void **state) {
    (void)state;
    if (lacks("ogr2ogr"))
        skip();
    gdal_has_layer("route_points", &ours.routes[0]);
    gdal_has_layer("track_points", &ours.tracks[0]);
}

/* --- written by others ----------------------------------------------------*/

/* Every place of the plan's route is one of the track's, in the same order. */
static void passes_all_places(const struct planned *along) {
    struct gpx gpx = loaded(arena_print(&arena, "%s/route.gpx", along->folder));
    const struct gpx_line *track = &gpx.tracks[0], *route = &ours.routes[0];
    size_t at = 0;
    for (size_t i = 0; i < route->count; i++) {
        const struct gpx_point *place = &route->points[i];
        while (at < track->count && (fabs(track->points[at].position.lat_deg -
                                          place->position.lat_deg) > 1e-6 ||
                                     fabs(track->points[at].position.lon_deg -
                                          place->position.lon_deg) > 1e-6))
            at++;
        if (at == track->count)
            fail_msg("%s is not on the way", place->name);
        assert_in_range(
            llabs(track->points[at].time.unix_s - place->time.unix_s), 0, 10);
    }
}

static void expect_the_passage(const char *words, const char *file,
                               const char *options) {
    struct ran ran =
        check_shell(arena_print(&arena, "IN='%s' OUT='%s/%s'; %s", route_path(),
                                check_folder(), file, words));
    if (ran.status != 0)
        fail_msg("%s: %s", words, ran.err);
    struct planned along = planned_well("along", "along '%s/%s' " PASSAGE "%s",
                                        check_folder(), file, options);
    assert_near(planned_arrive_s(&along), planned_arrive_s(&plan), 10.0);
    assert_near(planned_figure(&along, "distance_nmi"),
                planned_figure(&plan, "distance_nmi"), 0.001);
    assert_near(planned_figure(&along, "cost_h"),
                planned_figure(&plan, "cost_h"), 0.003);
    passes_all_places(&along);
}

/* GPX 1.0 and 1.1; the route alone and the track alone. */
static void along_sails_what_gpsbabel_writes(void **state) {
    (void)state;
    if (lacks("gpsbabel"))
        skip();
    expect_the_passage("gpsbabel -r -i gpx -f \"$IN\" -x nuketypes,tracks "
                       "-o gpx,gpxver=1.1 -F \"$OUT\"",
                       "babel-route.gpx", "");
    expect_the_passage("gpsbabel -r -i gpx -f \"$IN\" -x nuketypes,tracks "
                       "-o gpx,gpxver=1.0 -F \"$OUT\"",
                       "babel-route-10.gpx", " --as-timed");
    expect_the_passage("gpsbabel -t -i gpx -f \"$IN\" -x nuketypes,routes "
                       "-o gpx,gpxver=1.1 -F \"$OUT\"",
                       "babel-track.gpx", " --as-timed");
}

/* The points with their times and names, and the bare lines. */
static void along_sails_what_gdal_writes(void **state) {
    (void)state;
    if (lacks("ogr2ogr"))
        skip();
    expect_the_passage("ogr2ogr -f GPX \"$OUT\" \"$IN\" route_points",
                       "gdal-route.gpx", " --as-timed");
    expect_the_passage("ogr2ogr -f GPX -lco FORCE_GPX_TRACK=YES \"$OUT\" "
                       "\"$IN\" track_points",
                       "gdal-track.gpx", " --as-timed");
    expect_the_passage("ogr2ogr -f GPX \"$OUT\" \"$IN\" routes",
                       "gdal-line.gpx", "");
    expect_the_passage("ogr2ogr -f GPX \"$OUT\" \"$IN\" tracks",
                       "gdal-lines.gpx", "");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(gpsbabel_has_every_point_name_and_time),
        cmocka_unit_test(gdal_has_every_point_name_and_time),
        cmocka_unit_test(along_sails_what_gpsbabel_writes),
        cmocka_unit_test(along_sails_what_gdal_writes),
    };
    return cmocka_run_group_tests(tests, begin, scratch_end);
}
