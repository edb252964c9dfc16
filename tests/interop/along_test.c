/* Tracks of one's own through the program: 'sparwise along' from outside. */

#include "../support/short_passage.h"

#include <jansson.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static double elapsed_h(const char *json) {
    json_error_t fault;
    json_t *value = json_loads(json, 0, &fault);
    assert_non_null(value);
    double hours = json_real_value(
        json_object_get(json_object_get(value, "summary"), "elapsed_h"));
    json_decref(value);
    return hours;
}

/* A route with a set and a stow on the way. */
static void a_plans_own_route_gives_the_plans_own_time(void **state) {
    (void)state;
    const char *out = short_path("own");
    struct ran planned = short_plan(arena_print(
        &short_arena, "--ease 0 --to '38 50 N 9 48 W' --json --out '%s'", out));
    assert_int_equal(planned.status, 0);
    assert_contains(planned.out, "\"change\": \"set\"");
    assert_contains(planned.out, "\"change\": \"stow\"");
    struct ran timed =
        check_run(arena_print(&short_arena,
                              "along '%s/route.gpx' '%s' --ease 0 "
                              "--json",
                              out, short_passage()));
    assert_int_equal(timed.status, 0);
    assert_contains(timed.out, "\"change\": \"set\"");
    assert_near(elapsed_h(timed.out), elapsed_h(planned.out), 10.0 / 3600.0);
}

/* A track of somebody else, with waypoints and a route beside it. */
static const char track_text[] =
    "<gpx version='1.1' creator='other' "
    "xmlns='http://www.topografix.com/GPX/1/1'>\n"
    "<wpt lat='39.3' lon='-9.8'/>\n"
    "%s"
    "<trk><name>Down</name><trkseg>\n"
    "<trkpt lat='39.3' lon='-9.8'><time>2026-06-21T07:00:00+01:00</time>"
    "</trkpt>\n"
    "<trkpt lat='39.1' lon='-9.85'/>\n"
    "<trkpt lat='39.0' lon='-9.8'/></trkseg></trk></gpx>\n";

static const char *track(const char *name, const char *route) {
    return check_write(name, short_replaced(track_text, "%s", route));
}

static struct ran along(const char *gpx, const char *more) {
    return check_run(
        arena_print(&short_arena,
                    "along '%s' --boat polars/heron-9.ini --forecast "
                    "grib-samples/coastal-hop.grib2 --json %s",
                    gpx, more));
}

static void the_tracks_first_time_is_a_default(void **state) {
    (void)state;
    const char *gpx = track("track.gpx", "");
    struct ran own = along(gpx, "");
    assert_int_equal(own.status, 0);
    assert_contains(own.out, "\"depart\": \"2026-06-21T06:00:00Z\"");
    assert_contains(own.out, "\"name\": \"Down\"");
    struct ran given = along(gpx, "--depart 2026-06-21T09:00Z");
    assert_contains(given.out, "\"depart\": \"2026-06-21T09:00:00Z\"");
    struct ran timed = along(gpx, "--depart 2026-06-21T09:00Z --as-timed");
    assert_contains(timed.out, "\"depart\": \"2026-06-21T06:00:00Z\"");
}

static void a_route_goes_before_a_track_and_is_named(void **state) {
    (void)state;
    const char *gpx =
        track("both.gpx", "<rte><name>Way</name><rtept lat='39.3' "
                          "lon='-9.8'/><rtept lat='39.0' lon='-9.9'/></rte>");
    struct ran ran = along(gpx, "--depart 2026-06-21T06:00Z");
    assert_int_equal(ran.status, 0);
    assert_contains(ran.out, "\"name\": \"Way\"");
    assert_contains(ran.err, "timing the first route of ");
    assert_contains(ran.err, "(routes 1, tracks 1, waypoints 1)");
    struct ran untimed = along(gpx, "");
    assert_int_equal(untimed.status, 3);
    assert_contains(untimed.err, "the first point has no time; give --depart");
}

/* A logger writes the same place again while the boat lies still. */
static void a_track_may_stand_still_but_not_all_the_time(void **state) {
    (void)state;
    static const char point[] = "<trkpt lat='39.%d' lon='-9.8'/>";
    static const char head[] =
        "<gpx version='1.1' creator='other'><trk><trkseg>";
    static const char tail[] = "</trkseg></trk></gpx>";
    static const char depart[] = "--depart 2026-06-21T06:00Z";
    char *body = arena_copy(&short_arena, "");
    for (int i = 0; i < 6; i++) {
        const char *one = short_replaced(
            point, "%d", arena_print(&short_arena, "%d", 3 - i / 2));
        body = arena_print(&short_arena, "%s%s", body, one);
    }
    const char *slow = check_write(
        "slow.gpx", arena_print(&short_arena, "%s%s%s", head, body, tail));
    assert_int_equal(along(slow, depart).status, 0);
    const char *one = short_replaced(point, "%d", "1");
    const char *anchored =
        check_write("anchored.gpx", arena_print(&short_arena, "%s%s%s%s", head,
                                                one, one, tail));
    struct ran ran = along(anchored, depart);
    assert_int_equal(ran.status, 3);
    assert_contains(ran.err, "all points are one place; a track needs two");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(a_plans_own_route_gives_the_plans_own_time),
        TEST(the_tracks_first_time_is_a_default),
        TEST(a_route_goes_before_a_track_and_is_named),
        TEST(a_track_may_stand_still_but_not_all_the_time),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
