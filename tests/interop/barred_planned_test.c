/* Deck work by daylight only where it is never light, from outside: what a
 * single preventer forbids, and what gets round that. */
#include "../support/check.h"
#include "../support/flat.h"
#include "../support/grib_maker.h"
#include "../support/planned.h"

#include "base/units.h"
#include <stdio.h>
#include <string.h>
#include <unistd.h>

/* North wind of so much, a day from the 10th of that month of 2026, a little
 * wider than the channel below: at 75.5 N in December the sun stays 8 degrees
 * below the horizon at noon (calculated: 90 - 75.5 - 22.9), in June it does not
 * set. */
static const char *forecast(int month, double kn) {
    static char path[4200];
    struct grib_bytes bytes = {.bytes = NULL};
    snprintf(path, sizeof path, "%s/north-%d-%.0f.grib2", check_folder(), month,
             kn);
    for (int lead = 0; lead <= 24; lead += 6) {
        struct grib_spec spec = {.run = {2026, month, 10, 0, 0, 0},
                                 .lead = lead,
                                 .category = 2,
                                 .first_lat = 75.6,
                                 .first_lon = 359.0,
                                 .last_lat = 75.1,
                                 .last_lon = 1.0};
        grib_add_wind(&bytes, &spec, 0.0, kn_to_mps(-kn));
    }
    grib_save(&bytes, path);
    grib_free(&bytes);
    return path;
}

/* Two invented banks, wider than the forecast: between them a channel of 0.8
 * nmi, ten miles to 150 and ten to 210. */
static const char banks[] =
    "{\"type\":\"FeatureCollection\",\"features\":["
    "{\"type\":\"Feature\",\"properties\":{\"name\":\"West Bank\"},"
    "\"geometry\":{\"type\":\"Polygon\",\"coordinates\":[[[-0.02305,75.49667],"
    "[0.29917,75.35566],[-0.02262,75.21466],[-6.53087,75.21466],"
    "[-6.65505,75.49667],[-0.02305,75.49667]]]}},"
    "{\"type\":\"Feature\",\"properties\":{\"name\":\"East Bank\"},"
    "\"geometry\":{\"type\":\"Polygon\",\"coordinates\":[[[0.02306,75.50333],"
    "[0.36007,75.35566],[0.02261,75.20799],[6.52799,75.20799],"
    "[6.65805,75.50333],[0.02306,75.50333]]]}}]}";

static const char channel[] = "zones = banks.geojson\n";

/* The same bend in open water. */
static const char open_water[] = "via = 75.35566,0.32\n";

/* The small boat, whose preventer is a single line. */
static const char *passage(int month, double kn, const char *more) {
    static char text[9000];
    char here[500];
    assert_non_null(getcwd(here, sizeof here));
    check_write("banks.geojson", banks);
    snprintf(text, sizeof text,
             "[passage]\nname = Dog-leg\nboat = %s/polars/heron-9.ini\n"
             "forecast = %s\nfrom = 75.50833,-0.01665\n"
             "to = 75.17799,-0.03258\ndepart = 2026-%02d-10T03:00Z\n"
             "coast = none\n%s",
             here, forecast(month, kn), month, more);
    return check_write("dog-leg.ini", text);
}

enum { JUNE = 6, DECEMBER = 12 };

static const json_t *change_of(const struct planned *plan, size_t index) {
    return json_array_get(json_object_get(plan->json, "changes"), index);
}

static const char *text_of(const json_t *object, const char *key) {
    return json_string_value(json_object_get(object, key));
}

static int gybes_of(const struct planned *plan) {
    int count = 0;
    size_t changes = json_array_size(json_object_get(plan->json, "changes"));
    for (size_t i = 0; i < changes; i++)
        count +=
            strcmp(text_of(change_of(plan, i), "change"), "mainsail_gybe") == 0;
    return count;
}

/* Where it is never light there is no other time; in the channel there is no
 * room to come up and tack. Two hours of hardship in the dark, and twice that
 * so near to a bank to leeward. */
static void a_gybe_in_the_dark_that_nothing_avoids_is_refused(void **state) {
    (void)state;
    char costs[200];
    const char *path = passage(DECEMBER, 10.0, channel);
    struct planned first = planned_well("first", "plan '%s'", path);
    struct planned only =
        planned_run("only", "plan '%s' --deck-work daylight-only", path);
    const json_t *gybe = change_of(&first, 0);
    snprintf(costs, sizeof costs,
             "; this way takes %.1f h and costs %.1f h (weighed), 4.0 h of "
             "that for work; deck_work daylight-first allows it, and may find "
             "another way; rig a second preventer",
             planned_figure(&first, "elapsed_h"),
             planned_figure(&first, "cost_h"));
    assert_int_equal(only.ran.status, 1);
    assert_string_equal(text_of(gybe, "change"), "mainsail_gybe");
    assert_contains(only.ran.err, "no plan with deck_work daylight-only: "
                                  "gybing the mainsail at 2026-12-10T0");
    assert_contains(only.ran.err, text_of(gybe, "at"));
    assert_contains(only.ran.err, costs);
    assert_string_equal(only.ran.out, "");
    assert_int_equal(access(only.folder, F_OK), -1);
}

/* In open water she comes up for half an hour, takes the preventer off and
 * tacks; with two preventers she gybes from the cockpit. */
static void what_avoids_it_is_planned(void **state) {
    (void)state;
    struct planned tacks =
        planned_well("tacks", "plan '%s' --deck-work daylight-only",
                     passage(DECEMBER, 10.0, open_water));
    assert_string_equal(text_of(change_of(&tacks, 0), "change"), "tack");
    assert_near(planned_figure(&tacks, "night_deck_work"), 0.0, 0.0);
}

/* Its own route, timed again, has the plan's own orders: rigged by the same
 * rule, its work moved by the same. */
static void its_route_timed_again_avoids_it_too(void **state) {
    (void)state;
    const char *path = passage(JUNE, 17.0, open_water);
    struct planned plan = planned_well("planned", "plan '%s'", path);
    struct planned again =
        planned_well("again", "along '%s/route.gpx' '%s'", plan.folder, path);
    assert_int_equal(gybes_of(&again), 0);
    assert_near(planned_figure(&again, "elapsed_h"),
                planned_figure(&plan, "elapsed_h"), 1e-9);
    assert_near(planned_figure(&again, "cost_h"),
                planned_figure(&plan, "cost_h"), 1e-9);
}

/* In more wind than someone may go forward in: by day. */
static void in_too_much_wind_it_is_avoided_or_marked(void **state) {
    (void)state;
    const char *marked = "gybing the mainsail sends someone forward beyond the "
                         "work limits";
    struct planned open =
        planned_well("open", "plan '%s'", passage(JUNE, 17.0, open_water));
    struct planned narrow =
        planned_well("narrow", "plan '%s'", passage(JUNE, 17.0, channel));
    flatten(open.schedule);
    flatten(narrow.schedule);
    assert_null(strstr(open.schedule, marked));
    assert_int_equal(gybes_of(&open), 0);
    assert_int_equal(gybes_of(&narrow), 1);
    assert_contains(narrow.schedule, marked);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_gybe_in_the_dark_that_nothing_avoids_is_refused),
        cmocka_unit_test(what_avoids_it_is_planned),
        cmocka_unit_test(its_route_timed_again_avoids_it_too),
        cmocka_unit_test(in_too_much_wind_it_is_avoided_or_marked),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
