/* Routes for old plotters: short names that stay apart, plain letters, no
 * track, few points. NMEA 0183 waypoint sentences, written by gpsbabel 1.8.0,
 * stand for the oldest of them: names cut to a length, and a checksum over
 * plain bytes. */
#include "../support/check.h"
#include "../support/gpx_schema.h"
#include "../support/planned.h"
#include "../support/scratch.h"

#include "exchange/gpx.h"
#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

enum { FEW = 4, NAME_LENGTH = 5, POINTS_MOST = 250 };

static const char options[] = "--points-only --ascii --name-length 5";

static struct planned full, plain; /* the hop as it is, and for a plotter */

static const char *route_of(const struct planned *planned) {
    return arena_print(&arena, "%s/route.gpx", planned->folder);
}

static struct gpx loaded(const struct planned *planned) {
    struct gpx gpx;
    struct error error;
    if (!gpx_load(&gpx, route_of(planned), &arena, &error))
        fail_msg("%s", error.text);
    return gpx;
}

static int begin(void **state) {
    scratch_begin(state);
    full = planned_well("full", "plan grib-samples/coastal-hop.ini --name "
                                "'Caf\xC3\xA9 Nord to Caf\xC3\xA9 Sud'");
    plain = planned_well("plain",
                         "plan grib-samples/coastal-hop.ini --name "
                         "'Caf\xC3\xA9 Nord to Caf\xC3\xA9 Sud' %s",
                         options);
    return 0;
}

static bool lacks(const char *program) {
    if (check_shell(arena_print(&arena, "command -v %s", program)).status == 0)
        return false;
    print_message("skipped: no program %s\n", program);
    return true;
}

/* The display's wishes change no point, only what is told of it. */
static void the_points_are_those_of_the_plan(void **state) {
    (void)state;
    struct gpx whole = loaded(&full), shown = loaded(&plain);
    assert_int_equal(whole.track_count, 1);
    assert_int_equal(shown.track_count, 0);
    assert_int_equal(shown.routes[0].count, whole.routes[0].count);
    for (size_t i = 0; i < whole.routes[0].count; i++) {
        const struct gpx_point *as = &whole.routes[0].points[i];
        const struct gpx_point *is = &shown.routes[0].points[i];
        assert_near(is->position.lat_deg, as->position.lat_deg, 1e-12);
        assert_near(is->position.lon_deg, as->position.lon_deg, 1e-12);
        assert_int_equal(is->time.unix_s, as->time.unix_s);
        assert_string_equal(is->description, as->description);
    }
}

static void every_byte_is_plain_and_every_name_short(void **state) {
    (void)state;
    for (const char *byte = plain.gpx; *byte; byte++)
        assert_true((unsigned char)*byte < 0x80);
    assert_contains(full.gpx, "<name>Caf\xC3\xA9 Nord");
    assert_contains(plain.gpx, "<name>Caf? </name>");
    struct gpx_line route = loaded(&plain).routes[0];
    for (size_t i = 0; i < route.count; i++) {
        const char *name = route.points[i].name;
        assert_in_range(strlen(name), 2, NAME_LENGTH);
        for (const char *letter = name; *letter; letter++)
            assert_true(isdigit((unsigned char)*letter) ||
                        isupper((unsigned char)*letter));
        for (size_t k = 0; k < i; k++)
            assert_string_not_equal(name, route.points[k].name);
    }
}

static void the_schema_still_holds(void **state) {
    (void)state;
    if (!gpx_schema())
        skip();
    struct ran ran = gpx_schema_validate(route_of(&plain));
    if (ran.status != 0)
        fail_msg("%s", ran.err);
}

/* The same names on the paper and on the plotter. */
static void the_schedule_has_the_same_names(void **state) {
    (void)state;
    struct gpx_line route = loaded(&plain).routes[0];
    for (size_t i = 0; i + 1 < route.count; i++)
        assert_contains(plain.schedule, route.points[i].name);
}

/* "$GPWPL,3918.000,N,00948.000,W,W001*39": minutes to three decimals. */
static void same_waypoint(const char *line, const struct gpx_point *point) {
    double lat, lon;
    char north, east, name[20];
    assert_int_equal(sscanf(line, "$GPWPL,%lf,%c,%lf,%c,%19[^*]*", &lat, &north,
                            &lon, &east, name),
                     5);
    double lat_deg = floor(lat / 100.0) + fmod(lat, 100.0) / 60.0;
    double lon_deg = floor(lon / 100.0) + fmod(lon, 100.0) / 60.0;
    assert_near(north == 'N' ? lat_deg : -lat_deg, point->position.lat_deg,
                0.001 / 60.0);
    assert_near(east == 'E' ? lon_deg : -lon_deg, point->position.lon_deg,
                0.001 / 60.0);
    assert_string_equal(name, point->name);
}

static void old_sentences_keep_every_point_and_name(void **state) {
    (void)state;
    if (lacks("gpsbabel"))
        skip();
    struct ran ran = check_shell(arena_print(
        &arena,
        "gpsbabel -r -i gpx -f '%s' -x transform,wpt=rte -o nmea,snlen=%d -F - "
        "| grep GPWPL",
        route_of(&plain), NAME_LENGTH));
    assert_int_equal(ran.status, 0);
    struct gpx_line route = loaded(&plain).routes[0];
    char *rest = ran.out;
    for (size_t i = 0; i < route.count; i++)
        same_waypoint(strtok_r(NULL, "\n", &rest), &route.points[i]);
    assert_null(strtok_r(NULL, "\n", &rest));
}

static void gdal_finds_a_route_and_no_track(void **state) {
    (void)state;
    if (lacks("ogrinfo"))
        skip();
    struct ran ran = check_shell(
        arena_print(&arena, "ogrinfo -ro -al -so '%s'", route_of(&plain)));
    assert_int_equal(ran.status, 0);
    assert_contains(ran.out, arena_print(&arena,
                                         "Layer name: route_points\nGeometry: "
                                         "Point\nFeature Count: %zu\n",
                                         loaded(&plain).routes[0].count));
    assert_contains(ran.out, "Layer name: track_points\nGeometry: Point\n"
                             "Feature Count: 0\n");
}

/* --- few points ----------------------------------------------------------- */

static void assert_off_the_land(const struct planned *planned) {
    const json_t *warnings = json_object_get(planned->json, "warnings");
    assert_true(json_is_array(warnings));
    for (size_t i = 0; i < json_array_size(warnings); i++) {
        const char *text = json_string_value(json_array_get(warnings, i));
        if (strstr(text, "crosses land") || strstr(text, "of the land"))
            fail_msg("%s", text);
    }
}

/* Thinned to what the plotter takes, each leg is held to the land again, and
 * the time of arrival is that of the legs as they are. */
static void a_thinned_route_is_off_the_land_and_in_time(void **state) {
    (void)state;
    struct planned few = planned_well(
        "few", "plan grib-samples/coastal-hop.ini --route-points %d", FEW);
    struct gpx gpx = loaded(&few);
    assert_in_range(gpx.routes[0].count, 2, FEW);
    assert_true(loaded(&full).routes[0].count > FEW);
    assert_true(gpx.tracks[0].count > 5 * gpx.routes[0].count);
    struct planned again = planned_well(
        "again", "along '%s' grib-samples/coastal-hop.ini", route_of(&few));
    assert_near(planned_arrive_s(&again), planned_arrive_s(&few), 10.0);
    assert_off_the_land(&again);
}

/* What it loses is told, and is what the plan with all points would cost less;
 * neither plan moves deck work. */
static void a_thinned_route_says_what_it_loses(void **state) {
    (void)state;
    struct planned few = planned_well(
        "loses", "plan grib-samples/coastal-hop.ini --route-points %d", 3);
    double lost_h =
        planned_figure(&few, "cost_h") - planned_figure(&full, "cost_h");
    assert_true(lost_h >= 0.05);
    char words[100];
    snprintf(words, sizeof words, ": cost %+.1f h, time ", lost_h);
    assert_contains(few.schedule, "\n  Points      ");
    assert_contains(few.schedule, words);
    snprintf(words, sizeof words, "weighed cost %.1f h more", lost_h);
    assert_contains(few.json_text, words);
    assert_null(strstr(full.schedule, "\n  Points      "));
}

/* As many as the largest of them take, from a course that is not thinned. */
static void a_fine_route_keeps_the_bound(void **state) {
    (void)state;
    struct planned fine =
        planned_well("fine",
                     "plan grib-samples/coastal-hop.ini --route-points %d "
                     "--leg-loss 0",
                     POINTS_MOST);
    assert_in_range(loaded(&fine).routes[0].count,
                    loaded(&full).routes[0].count, POINTS_MOST);
    assert_true(planned_figure(&fine, "cost_h") <=
                planned_figure(&full, "cost_h") + 1e-3);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_points_are_those_of_the_plan),
        cmocka_unit_test(every_byte_is_plain_and_every_name_short),
        cmocka_unit_test(the_schema_still_holds),
        cmocka_unit_test(the_schedule_has_the_same_names),
        cmocka_unit_test(old_sentences_keep_every_point_and_name),
        cmocka_unit_test(gdal_finds_a_route_and_no_track),
        cmocka_unit_test(a_thinned_route_is_off_the_land_and_in_time),
        cmocka_unit_test(a_thinned_route_says_what_it_loses),
        cmocka_unit_test(a_fine_route_keeps_the_bound),
    };
    return cmocka_run_group_tests(tests, begin, scratch_end);
}
