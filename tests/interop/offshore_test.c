/* Planning anew under way, from outside: from where the boat is, rigged as she
 * is, out of forecasts that began before and files that were cut on the way. */
#include "../support/check.h"
#include "../support/planned.h"
#include "../support/scene.h"

#include "base/units.h"
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { LINE = 9000 };

/* A wind that turns from NE to SE; in the newer file it does so a day later. */
static const struct scene older = {.name = "older",
                                   .weather = {.wind_from_deg = 55.0,
                                               .wind_mps = 8.0,
                                               .veer_deg_per_day = 25.0,
                                               .gust_frac = {true, 1.3}},
                                   .south_deg = 12.0,
                                   .north_deg = 20.0,
                                   .west_deg = -38.0,
                                   .east_deg = -28.0,
                                   .step_deg = 1.0,
                                   .hours = 96,
                                   .every = 6};

static const char *passage_over(const char *name, const char *forecast) {
    char text[LINE], root[4096];
    struct ran pwd = check_shell("pwd");
    snprintf(root, sizeof root, "%.*s", (int)strcspn(pwd.out, "\n"), pwd.out);
    snprintf(text, sizeof text,
             "[passage]\nname = Out there\nboat = %s/polars/wanderer-12.ini\n"
             "forecast = %s\ncoast = none\nfrom = 18 N 30 W\nto = 15 N 35 W\n"
             "depart = 2026-06-01T03:00Z\n",
             root, forecast);
    return check_write(name, text);
}

static const char *newer_file(void) {
    struct scene newer = older;
    newer.name = "newer";
    newer.weather.wind_from_deg -= newer.weather.veer_deg_per_day;
    return scene_write(&newer);
}

static double figure_of_json(const json_t *json, const char *key) {
    const json_t *value = json_object_get(json, key);
    if (!json_is_number(value))
        fail_msg("'%s' is no number", key);
    return json_number_value(value);
}

/* Where a plan has the boat at the start of that leg. */
struct spot {
    char from[80], depart[40], spar[20];
};

static struct spot spot_of(const struct planned *plan, size_t leg) {
    struct spot spot;
    const json_t *json =
        json_array_get(json_object_get(plan->json, "legs"), leg);
    const json_t *from = json_object_get(json, "from");
    assert_non_null(json);
    snprintf(spot.from, sizeof spot.from, "%.7f,%.7f",
             figure_of_json(from, "lat"), figure_of_json(from, "lon"));
    snprintf(spot.depart, sizeof spot.depart, "%s",
             json_string_value(json_object_get(json, "start")));
    snprintf(spot.spar, sizeof spot.spar, "%s",
             json_string_value(json_object_get(json, "spar")));
    return spot;
}

static struct planned old_plan(void) {
    return planned_well("old", "plan '%s'",
                        passage_over("old.ini", scene_write(&older)));
}

static size_t half_way(const struct planned *plan) {
    return json_array_size(json_object_get(plan->json, "legs")) / 2;
}

/* Under way by the old plan, and nothing is new: the old track is as good, and
 * she arrives when she would have. Its middle is no step of the forecast. */
static void by_the_same_forecast_nothing_has_changed(void **state) {
    (void)state;
    struct planned old = old_plan();
    struct spot spot = spot_of(&old, half_way(&old));
    struct planned new = planned_well(
        "new",
        "plan '%s/old.ini' --from '%s' --depart %s --spar "
        "%s --previous '%s/plan.json'",
        check_folder(), spot.from, spot.depart, spot.spar, old.folder);
    const json_t *previous = json_object_get(new.json, "previous");
    double left_h = planned_figure(&new, "elapsed_h");
    assert_near(planned_arrive_s(&new), planned_arrive_s(&old),
                0.005 * hours_to_s(left_h));
    assert_near(figure_of_json(previous, "off_track_nmi"), 0.0, 0.1);
    assert_near(figure_of_json(previous, "keep_later_h"), 0.0, 0.005 * left_h);
    assert_contains(new.schedule, "SINCE THE OLD PLAN  'Out there', which "
                                  "departs Mon 1 Jun 2026 03:00 UTC");
    assert_contains(new.schedule, "  Old track   still as good: ");
    assert_null(strstr(new.schedule, "the old plan has the spar"));
}

/* The clock of the machine, held for this: the same bytes as the time itself.
 */
static void now_is_the_time_of_the_clock(void **state) {
    (void)state;
    passage_over("old.ini", scene_write(&older));
    struct planned given =
        planned_well("given", "plan '%s/old.ini' --depart 2026-06-01T08:20Z",
                     check_folder());
    /* date -u -d 2026-06-01T08:20Z +%s */
    setenv("SOURCE_DATE_EPOCH", "1780302000", 1);
    struct planned now =
        planned_well("now", "plan '%s/old.ini' --depart now", check_folder());
    setenv("SOURCE_DATE_EPOCH", "1780271999", 1);
    struct planned early =
        planned_run("early", "plan '%s/old.ini' --depart now", check_folder());
    unsetenv("SOURCE_DATE_EPOCH");
    assert_string_equal(now.json_text, given.json_text);
    assert_string_equal(now.gpx, given.gpx);
    assert_int_equal(early.ran.status, 4);
    assert_contains(early.ran.err,
                    "the departure 2026-05-31T23:59:59Z is before the first "
                    "step of the wind, 2026-06-01T00:00:00Z; that is now "
                    "by the clock of this machine: is it right? take the "
                    "newest file, or ask for ");
}

/* The old track's legs from there, as a route of one's own. */
static const char *rest_as_gpx(const struct planned *old,
                               const struct spot *spot, const json_t *joined) {
    char text[LINE];
    double lat, lon;
    bool on = false;
    assert_int_equal(sscanf(spot->from, "%lf,%lf", &lat, &lon), 2);
    size_t length = (size_t)snprintf(
        text, sizeof text,
        "<gpx version='1.1' creator='a test'><rte><rtept lat='%.7f' "
        "lon='%.7f'/>",
        lat, lon);
    const json_t *legs = json_object_get(old->json, "legs");
    for (size_t i = 0; i < json_array_size(legs); i++) {
        const json_t *to = json_object_get(json_array_get(legs, i), "to");
        on |= json_equal(to, joined);
        if (on)
            length += (size_t)snprintf(text + length, sizeof text - length,
                                       "<rtept lat='%.7f' lon='%.7f'/>",
                                       figure_of_json(to, "lat"),
                                       figure_of_json(to, "lon"));
    }
    assert_true(on);
    snprintf(text + length, sizeof text - length, "</rte></gpx>");
    return check_write("rest.gpx", text);
}

/* What keeping to it takes is what the route takes that one would draw. */
static void the_old_track_is_timed_as_a_route_of_ones_own(void **state) {
    (void)state;
    struct planned old = old_plan();
    struct spot spot = spot_of(&old, half_way(&old));
    const char *passage = passage_over("new.ini", newer_file());
    double lat, lon;
    assert_int_equal(sscanf(spot.from, "%lf,%lf", &lat, &lon), 2);
    snprintf(spot.from, sizeof spot.from, "%.7f,%.7f", lat + 0.25, lon);
    struct planned new =
        planned_well("changed",
                     "plan '%s' --from '%s' --depart %s --spar %s --previous "
                     "'%s/plan.json'",
                     passage, spot.from, spot.depart, spot.spar, old.folder);
    const json_t *previous = json_object_get(new.json, "previous");
    struct planned along = planned_well(
        "along", "along '%s' '%s' --depart %s --spar %s",
        rest_as_gpx(&old, &spot, json_object_get(previous, "joined")), passage,
        spot.depart, spot.spar);
    assert_near(planned_arrive_s(&along),
                planned_time_s(json_object_get(previous, "keep_arrive")), 10.0);
    assert_near(figure_of_json(previous, "keep_later_h"),
                planned_figure(&along, "elapsed_h") -
                    planned_figure(&new, "elapsed_h"),
                0.005);
    assert_near(figure_of_json(previous, "keep_cost_h"),
                planned_figure(&along, "cost_h") -
                    planned_figure(&new, "cost_h"),
                0.005);
    /* a search is never far worse than one way that it could have taken */
    assert_true(figure_of_json(previous, "keep_cost_h") >
                -0.005 * planned_figure(&new, "cost_h"));
    /* a quarter of a degree is 15 nmi; the track slants */
    double off_nmi = figure_of_json(previous, "off_track_nmi");
    assert_true(off_nmi > 5.0 && off_nmi < 15.1);
}

static const char *copy_cut(const char *path, const char *name, int percent) {
    char line[LINE];
    static char copy[4200];
    snprintf(copy, sizeof copy, "%s/%s", check_folder(), name);
    snprintf(line, sizeof line,
             "head -c $(( $(wc -c < '%s') * %d / 100 )) '%s' > '%s'", path,
             percent, path, copy);
    assert_int_equal(check_shell(line).status, 0);
    return copy;
}

static void an_old_plan_that_does_not_fit_is_refused(void **state) {
    (void)state;
    struct planned old = old_plan();
    char path[4400], line[LINE];
    snprintf(path, sizeof path, "%s/plan.json", old.folder);
    const struct {
        const char *option, *previous, *part;
    } cases[] = {
        {"--to '15 N 35 30 W'", path,
         "is a plan of another passage: it ends at 15 00.00 N 035 00.00 W, 29 "
         "nmi from the finish"},
        {"", copy_cut(path, "cut.json", 60), "it may be cut short"},
        {"", "polars/wanderer-12.ini", "not JSON"},
        {"", "no/plan.json", "No such file"},
        {"", check_write("other.json", "{\"type\": \"Feature\"}"),
         "not a plan of ours"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        snprintf(line, sizeof line,
                 "plan '%s/old.ini' %s --previous '%s' --out '%s/none'",
                 check_folder(), cases[i].option, cases[i].previous,
                 check_folder());
        struct ran ran = check_run(line);
        assert_int_equal(ran.status, 3);
        assert_contains(ran.err, cases[i].part);
        assert_string_equal(ran.out, "");
    }
}

/* Half a file: its whole messages are used, and it is said how far they go. */
static void a_file_that_was_cut_is_used_as_far_as_it_goes(void **state) {
    (void)state;
    char whole[4200];
    snprintf(whole, sizeof whole, "%s", scene_write(&older));
    const char *cut = copy_cut(whole, "half.grib2", 35);
    const char *passage = passage_over("half.ini", cut);
    char line[LINE];
    snprintf(line, sizeof line, "plan '%s' --out '%s/half' --force", passage,
             check_folder());
    struct ran ran = check_run(line);
    assert_int_equal(ran.status, 0);
    assert_contains(ran.err, "is cut short");
    /* 17 steps, of which a third is there */
    assert_contains(ran.err, "the wind reaches to 2026-06-02T");
    assert_contains(ran.out, "lie beyond the forecast: a guess");
    assert_contains(ran.out, "good to its end Tue 2 Jun 2026");
    /* no message is whole: there is nothing to plan with */
    snprintf(line, sizeof line, "plan '%s' --out '%s/none'",
             passage_over("none.ini", check_write("tiny.grib2", "GRIB")),
             check_folder());
    ran = check_run(line);
    assert_int_equal(ran.status, 3);
    assert_contains(ran.err, "tiny.grib2");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(by_the_same_forecast_nothing_has_changed),
        cmocka_unit_test(now_is_the_time_of_the_clock),
        cmocka_unit_test(the_old_track_is_timed_as_a_route_of_ones_own),
        cmocka_unit_test(an_old_plan_that_does_not_fit_is_refused),
        cmocka_unit_test(a_file_that_was_cut_is_used_as_far_as_it_goes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
