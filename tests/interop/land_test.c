/* Land, clearance and zones through the program: plans and tracks over real
 * shorelines in an invented wind. */
#include "../support/check.h"
#include "../support/planned.h"
#include "../support/scene.h"

#include "base/units.h"
#include "earth/coast.h"
#include "earth/rhumb.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* Debian's gmt-gshhg-high, whatever else is installed. */
static const char coast_path[] = "/usr/share/gmt-gshhg/binned_GSHHS_h.nc";

/* Round Malta and the south of Sicily; west-north-westerly, 14 kn. */
static const struct coast_box box = {34.0, 38.0, 12.0, 16.5};

static const char *forecast(void) {
    static const char *path;
    struct scene scene = {.name = "malta",
                          .weather = {.wind_from_deg = 300.0,
                                      .wind_mps = 7.2,
                                      .gust_frac = figure_of(1.3)},
                          .south_deg = box.south_deg,
                          .north_deg = box.north_deg,
                          .west_deg = box.west_deg,
                          .east_deg = box.east_deg,
                          .step_deg = 0.5,
                          .hours = 72,
                          .every = 12};
    if (!path)
        path = scene_write(&scene);
    return path;
}

static bool no_coast(void) {
    if (access(coast_path, R_OK) == 0)
        return false;
    print_message("skipped: no %s\n", coast_path);
    return true;
}

static char options[1000];

static const char *from_to(const char *from, const char *to, const char *more) {
    snprintf(options, sizeof options,
             "--boat polars/wanderer-12.ini --forecast '%s' --coast %s --from "
             "%s --to %s --depart 2026-06-01T06:00Z %s",
             forecast(), coast_path, from, to, more);
    return options;
}

static struct position place_of(const json_t *json) {
    return (struct position){json_number_value(json_object_get(json, "lat")),
                             json_number_value(json_object_get(json, "lon"))};
}

static bool stands_in(const json_t *list, const char *part) {
    for (size_t i = 0; i < json_array_size(list); i++)
        if (strstr(json_string_value(json_array_get(list, i)), part))
            return true;
    return false;
}

/* No leg meets a shoreline; none but the first and last few miles comes nearer
 * than the clearance. */
static void assert_clear(const struct planned *plan, double clearance_nmi) {
    struct arena arena;
    struct error error;
    struct coast *coast;
    arena_init(&arena);
    assert_true(coast_load(&coast, coast_path, &box, &arena, &error));
    const json_t *legs = json_object_get(plan->json, "legs");
    size_t count = json_array_size(legs);
    assert_true(count > 0);
    struct position start =
        place_of(json_object_get(json_array_get(legs, 0), "from"));
    struct position finish =
        place_of(json_object_get(json_array_get(legs, count - 1), "to"));
    for (size_t i = 0; i < count; i++) {
        const json_t *leg = json_array_get(legs, i);
        struct position from = place_of(json_object_get(leg, "from"));
        struct position to = place_of(json_object_get(leg, "to"));
        assert_false(coast_meets(coast, from, to));
        struct rhumb line = rhumb_between(from, to);
        for (double at_m = 0.0; at_m < line.distance_m; at_m += 500.0) {
            struct position at = rhumb_ahead(from, line.course_deg, at_m);
            if (rhumb_between(at, start).distance_m < nmi_to_m(5) ||
                rhumb_between(at, finish).distance_m < nmi_to_m(5))
                continue;
            double off_m = coast_distance_m(coast, at, 1e4, NULL);
            assert_true(off_m > nmi_to_m(clearance_nmi) - 5.0);
        }
    }
    arena_free(&arena);
}

static void a_plan_goes_round_an_island(void **state) {
    (void)state;
    if (no_coast())
        skip();
    struct planned plan =
        planned_well("round", "plan %s", from_to("36.5,13.5", "35.3,15.2", ""));
    assert_clear(&plan, 2.0);
    const json_t *land = json_object_get(plan.json, "land");
    assert_string_equal(json_string_value(json_object_get(land, "coast")),
                        "GSHHG 2.3.7, high resolution");
    assert_contains(plan.schedule, "Coast       GSHHG 2.3.7, high resolution");
    assert_contains(plan.schedule, "The coast check sees shorelines only");
    assert_false(stands_in(json_object_get(plan.json, "warnings"), "land"));
    /* the straight way does meet Malta: timed as a track it says so */
    const char *track = check_write(
        "straight.gpx", "<gpx version='1.1' creator='a test'><rte>"
                        "<rtept lat='36.5' lon='13.5'/><rtept lat='35.3' "
                        "lon='15.2'/></rte></gpx>");
    struct planned timed =
        planned_well("straight", "along '%s' %s", track,
                     from_to("36.5,13.5", "35.3,15.2", "--quiet"));
    assert_true(stands_in(json_object_get(timed.json, "warnings"),
                          "leg 1 crosses land at 3"));
    /* and is as fast through the island as with no land check at all */
    struct planned blind =
        planned_well("blind",
                     "along '%s' --coast none --boat polars/wanderer-12.ini "
                     "--forecast '%s' --depart 2026-06-01T06:00Z",
                     track, forecast());
    assert_near(planned_arrive_s(&timed), planned_arrive_s(&blind), 1.0);
    assert_contains(blind.schedule, "NO LAND CHECK: it is switched off");
    assert_contains(blind.schedule, "LAND IS NOT CHECKED");
}

/* Ours is timed as it was planned, land and all. */
static void along_gives_a_plan_s_own_time(void **state) {
    (void)state;
    if (no_coast())
        skip();
    struct planned plan =
        planned_well("own", "plan %s", from_to("36.5,13.5", "35.3,15.2", ""));
    struct planned timed =
        planned_well("own-timed", "along '%s/route.gpx' %s", plan.folder,
                     from_to("36.5,13.5", "35.3,15.2", "--quiet"));
    assert_near(planned_arrive_s(&timed), planned_arrive_s(&plan), 10.0);
    assert_int_equal(json_array_size(json_object_get(timed.json, "warnings")),
                     json_array_size(json_object_get(plan.json, "warnings")));
}

/* Valletta, some way up from the quay, to a place on the coast of Gozo. */
static void berths_go_out_by_the_nearest_water(void **state) {
    (void)state;
    if (no_coast())
        skip();
    struct planned plan = planned_well(
        "berths", "plan %s", from_to("35.890,14.500", "36.055,14.195", ""));
    assert_clear(&plan, 2.0);
    const json_t *land = json_object_get(plan.json, "land");
    double start_nmi =
        json_number_value(json_object_get(land, "start_moved_nmi"));
    assert_true(start_nmi > 0.0 && start_nmi <= 2.02);
    assert_contains(plan.schedule, "the start is on land: the plan begins in "
                                   "the sea, ");
    /* the place asked for stays the place asked for */
    const json_t *from =
        json_object_get(json_object_get(plan.json, "passage"), "from");
    assert_near(place_of(from).lat_deg, 35.890, 1e-9);
    const json_t *leg = json_array_get(json_object_get(plan.json, "legs"), 0);
    struct position begins = place_of(json_object_get(leg, "from"));
    struct position asked = {35.890, 14.500};
    assert_near(m_to_nmi(rhumb_between(asked, begins).distance_m), start_nmi,
                0.001);
}

static const struct {
    const char *from, *to, *more;
    int status;
    const char *words[2];
} refusals[] = {
    {"37.45,14.2", "35.3,15.2", "", 3, {"'from' is inland, ", "from the sea"}},
    {"36.5,13.5", "37.45,14.2", "", 3, {"'to' is inland, ", "from the sea"}},
    {"36.5,13.5",
     "35.3,15.2",
     "--via 35.9,14.4",
     3,
     {"'via' 1 is on land", ""}},
    {"36.5,13.5",
     "35.3,15.2",
     "--via 35.8,14.5",
     3,
     {"'via' 1 is ", "nearer than the clearance of 2.0 nmi"}},
    {"36.5,13.5", "35.3,15.2", "--coast no/such.nc", 3, {"no/such.nc", ""}},
    {"36.5,13.5",
     "35.3,15.2",
     "--zones no/such.geojson",
     3,
     {"no/such.geojson", ""}},
    {"36.5,13.5", "35.3,15.2", "--clearance 51", 2, {"--clearance", "50 nmi"}},
};

static void places_that_can_t_be_are_refused(void **state) {
    (void)state;
    if (no_coast())
        skip();
    for (size_t i = 0; i < sizeof refusals / sizeof *refusals; i++) {
        char more[200];
        snprintf(more, sizeof more, "%s", refusals[i].more);
        from_to(refusals[i].from, refusals[i].to, more);
        char *coast = strstr(options, coast_path);
        if (strstr(more, "--coast")) /* once only */
            memset(coast - strlen("--coast "), ' ',
                   strlen("--coast ") + strlen(coast_path));
        struct planned plan = planned_run("refused", "plan %s", options);
        if (plan.ran.status != refusals[i].status)
            fail_msg("case %zu: %d, %s", i, plan.ran.status, plan.ran.err);
        assert_contains(plan.ran.err, refusals[i].words[0]);
        assert_contains(plan.ran.err, refusals[i].words[1]);
    }
}

/* A ring of a zone round the finish, with a hole that holds it. */
#define RING                                                                   \
    "{\"type\":\"Feature\",\"properties\":{\"name\":\"Ring\"%s},"              \
    "\"geometry\":{\"type\":\"Polygon\",\"coordinates\":[[[14.9,35.0],"        \
    "[15.6,35.0],[15.6,35.6],[14.9,35.6],[14.9,35.0]],[[15.1,35.2],"           \
    "[15.3,35.2],[15.3,35.4],[15.1,35.4],[15.1,35.2]]]}}"

static const char *zones_file(const char *name, const char *times) {
    char text[1000], option[1200];
    snprintf(text, sizeof text, RING, times);
    snprintf(option, sizeof option, "--zones '%s'", check_write(name, text));
    static char held[1200];
    memcpy(held, option, sizeof held);
    return held;
}

/* On the border of the forecast, and the wind blows out over it: the spar is
 * set at once, and asks what lies to leeward. */
static void a_start_on_the_border_of_the_forecast_is_planned(void **state) {
    (void)state;
    if (no_coast())
        skip();
    static const char *const starts[] = {"36.5,16.5", "34,15.5"};
    for (int i = 0; i < 2; i++) {
        struct planned plan = planned_run(
            "border", "plan %s", from_to(starts[i], "35.4,14.9", "--force"));
        assert_int_equal(plan.ran.status, 0);
    }
}

static void what_closes_the_way_is_named(void **state) {
    (void)state;
    if (no_coast())
        skip();
    struct planned plan = planned_run(
        "ring", "plan %s",
        from_to("36.5,13.5", "35.3,15.2", zones_file("ring.geojson", "")));
    assert_int_equal(plan.ran.status, 1);
    assert_contains(plan.ran.err, "closed by the zone 'Ring'");
    /* from the open sea into Valletta's harbour with a wide clearance and no
     * approach */
    plan = planned_run(
        "wide", "plan %s",
        from_to("36.5,13.5", "35.90,14.52", "--clearance 3 --approach-nmi 0"));
    assert_int_equal(plan.ran.status, 1);
    assert_contains(plan.ran.err,
                    "closed by land nearer than the clearance of 3.00 nmi");
}

static void a_zone_that_opens_in_time_is_sailed_later(void **state) {
    (void)state;
    if (no_coast())
        skip();
    struct planned plan =
        planned_well("opens", "plan %s",
                     from_to("36.5,13.5", "35.3,15.2",
                             zones_file("opens.geojson",
                                        ",\"until\":\"2026-06-01T12:00Z\"")));
    assert_clear(&plan, 2.0);
    const json_t *zone = json_array_get(json_object_get(plan.json, "zones"), 0);
    assert_string_equal(json_string_value(json_object_get(zone, "name")),
                        "Ring");
    assert_true(json_is_true(json_object_get(zone, "in_straight_way")));
    assert_contains(plan.schedule, "ZONES TO KEEP OUT OF\n  -  Ring: ");
    /* the same way while it is closed: a track of the plan's own is warned */
    struct planned timed =
        planned_well("closed-again", "along '%s/route.gpx' %s", plan.folder,
                     from_to("36.5,13.5", "35.3,15.2",
                             zones_file("closed.geojson",
                                        ",\"from\":\"2026-06-01T12:00Z\"")));
    assert_true(stands_in(json_object_get(timed.json, "warnings"),
                          "enters the zone 'Ring' about "));
}

/* Between Sicily and the toe of Italy the forecast ends short of the strait:
 * the way from west to east leads round outside it. */
static void a_way_outside_the_forecast_is_status_4(void **state) {
    (void)state;
    if (no_coast())
        skip();
    struct scene scene = {.name = "sicily",
                          .weather = {.wind_from_deg = 300.0, .wind_mps = 7.2},
                          .south_deg = 37.0,
                          .north_deg = 38.05,
                          .west_deg = 12.2,
                          .east_deg = 15.5,
                          .step_deg = 0.35,
                          .hours = 72,
                          .every = 12};
    struct planned plan = planned_run(
        "outside",
        "plan --boat polars/wanderer-12.ini --forecast '%s' --coast %s --from "
        "37.3,13.2 --to 37.3,15.4 --depart 2026-06-01T06:00Z",
        scene_write(&scene), coast_path);
    assert_int_equal(plan.ran.status, 4);
    assert_contains(plan.ran.err, "ask for ");
    assert_contains(plan.ran.err, "area of the forecast");
}

/* Files of waves leave out the water near land: no reason to refuse a start
 * there, but one to say so. */
static void waves_missing_at_the_start_are_a_warning(void **state) {
    (void)state;
    if (no_coast())
        skip();
    struct scene scene = {.name = "masked",
                          .weather = {.wind_from_deg = 300.0,
                                      .wind_mps = 7.2,
                                      .gust_frac = figure_of(1.3)},
                          .south_deg = box.south_deg,
                          .north_deg = box.north_deg,
                          .west_deg = box.west_deg,
                          .east_deg = box.east_deg,
                          .step_deg = 0.25,
                          .hours = 72,
                          .every = 12,
                          .sea = SCENE_COMBINED,
                          .no_sea_north = true,
                          .sea_north_deg = 36.1};
    struct planned plan = planned_well(
        "masked",
        "plan --boat polars/wanderer-12.ini --forecast '%s' --coast %s --from "
        "36.5,13.5 --to 35.3,13.6 --depart 2026-06-01T06:00Z --max-wave 5",
        scene_write(&scene), coast_path);
    assert_contains(plan.schedule, "NOT CHECKED, the field of a limit is "
                                   "missing there: ");
    assert_contains(plan.schedule, "sea estimated from the wind: ");
    const json_t *warnings = json_object_get(plan.json, "warnings");
    assert_true(stands_in(warnings, "a limit could not be checked on "));
    assert_true(stands_in(warnings, "is estimated from the wind"));
    assert_true(json_is_number(
        json_object_get(json_object_get(plan.json, "summary"), "max_wave_m")));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_plan_goes_round_an_island),
        cmocka_unit_test(along_gives_a_plan_s_own_time),
        cmocka_unit_test(berths_go_out_by_the_nearest_water),
        cmocka_unit_test(places_that_can_t_be_are_refused),
        cmocka_unit_test(a_start_on_the_border_of_the_forecast_is_planned),
        cmocka_unit_test(what_closes_the_way_is_named),
        cmocka_unit_test(a_zone_that_opens_in_time_is_sailed_later),
        cmocka_unit_test(waves_missing_at_the_start_are_a_warning),
        cmocka_unit_test(a_way_outside_the_forecast_is_status_4),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
