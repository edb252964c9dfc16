/* `spread` and `--member` from outside, on an invented ensemble of 20 members:
 * each half an hour later and 2 % stronger than the one before; and on real
 * files, whose ensembles have no series of winds. */
#include "../support/check.h"

#include "../support/ocean_maker.h"
#include "../support/planned.h"
#include "base/units.h"
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MEMBERS = 20, FEW = 6 };

/* Of all the members; of the first few, where they are enough. */
static const char *passage, *forecast, *few;

/* A passage before the wind, in which the spar is worked on: its file. */
static const char *series(int members, const char *file) {
    struct ran pwd = check_shell("pwd");
    char boat[4200];
    snprintf(boat, sizeof boat, "%.*s/polars/wanderer-12.ini",
             (int)strcspn(pwd.out, "\n"), pwd.out);
    struct ocean ocean = ocean_ensemble(ocean_grid(2.0), members);
    ocean.from = (struct position){20.5, -30.0};
    ocean.to = (struct position){19.3, -34.5};
    ocean.depart_h = 54;
    char name[40];
    snprintf(name, sizeof name, "members-%d.ini", members);
    const char *path = check_write(name, "");
    ocean_write_forecast(&ocean, file);
    ocean_write_passage(&ocean, file, boat, path);
    return path;
}

static int make_series(void **state) {
    (void)state;
    forecast = check_write("members.grib2", "");
    passage = series(MEMBERS, forecast);
    few = series(FEW, check_write("few.grib2", ""));
    return 0;
}

static struct ran spread(const char *file, const char *options) {
    char line[9000];
    snprintf(line, sizeof line, "spread '%s' %s", file, options);
    return check_run(line);
}

/* The document: kept to the end. */
static json_t *document(void) {
    static json_t *root;
    if (root)
        return root;
    struct ran ran = spread(passage, "--quiet --json --threads 2");
    if (ran.status != 0)
        fail_msg("%s", ran.err);
    root = json_loads(ran.out, JSON_REJECT_DUPLICATES, NULL);
    assert_non_null(root);
    return root;
}

static json_t *row(size_t member) {
    json_t *row = json_array_get(json_object_get(document(), "rows"), member);
    json_t *told = json_object_get(row, "member");
    assert_int_equal(json_integer_value(json_object_get(told, "number")),
                     member);
    return row;
}

static double number(const json_t *object, const char *key) {
    json_t *value = json_object_get(object, key);
    if (!json_is_number(value))
        fail_msg("%s is no number", key);
    return json_number_value(value);
}

static void every_member_has_a_row(void **state) {
    (void)state;
    json_t *rows = json_object_get(document(), "rows");
    assert_int_equal(json_array_size(rows), MEMBERS);
    assert_int_equal(number(document(), "members"), MEMBERS);
    size_t works = json_array_size(json_object_get(document(), "deck_work"));
    assert_true(works >= 1);
    for (size_t i = 0; i < MEMBERS; i++) {
        json_t *told = json_object_get(row(i), "member");
        assert_string_equal(json_string_value(json_object_get(told, "kind")),
                            i == 0 ? "control" : "member");
        assert_int_equal(json_array_size(json_object_get(row(i), "deck_work")),
                         works);
    }
}

static struct planned the_plan(void) {
    static struct planned plan;
    if (!plan.json)
        plan = planned_well("plan", "plan '%s'", passage);
    return plan;
}

/* The plan's own track in its own weather, and its own best, is the plan. */
static void the_control_is_the_plan(void **state) {
    (void)state;
    struct planned plan = the_plan();
    assert_contains(plan.schedule, "20 members (the control, 1 to 19)");
    double elapsed_h = planned_figure(&plan, "elapsed_h");
    assert_near(number(json_object_get(document(), "plan"), "elapsed_h"),
                elapsed_h, 1e-9);
    assert_near(number(json_object_get(row(0), "track"), "elapsed_h"),
                elapsed_h, 0.001);
    assert_near(number(json_object_get(row(0), "own"), "elapsed_h"), elapsed_h,
                0.001);
}

/* An own best is what `plan` makes with that member, whatever it is told
 * beside. */
static void an_own_best_is_the_plan_of_that_member(void **state) {
    (void)state;
    struct planned plan = planned_well("own", "plan '%s' --member 7", passage);
    json_t *warnings = json_object_get(plan.json, "warnings");
    assert_contains(json_string_value(json_array_get(warnings, 0)),
                    "member 7 is used, as asked for");
    json_t *own = json_object_get(row(7), "own");
    assert_near(number(own, "elapsed_h"), planned_figure(&plan, "elapsed_h"),
                1e-9);
}

/* `along` has its changes where they suit in that member's weather: it takes
 * no longer than the track with those of the plan. */
static void along_takes_a_member(void **state) {
    (void)state;
    struct planned plan = the_plan();
    struct planned strong =
        planned_well("strong", "along '%s/route.gpx' '%s' --member 12",
                     plan.folder, passage);
    assert_contains(strong.schedule, "member 12 is used, as asked for");
    assert_true(planned_figure(&strong, "elapsed_h") <
                number(json_object_get(row(12), "track"), "elapsed_h") + 0.02);
    assert_true(fabs(planned_figure(&strong, "elapsed_h") -
                     planned_figure(&plan, "elapsed_h")) > 0.1);
}

static int by_value(const void *left, const void *right) {
    double a = *(const double *)left, b = *(const double *)right;
    return (a > b) - (a < b);
}

/* The k-th of n is that of k / (n + 1): of 20 the 10 % lies at 2.1, the 50 % at
 * 10.5, the 90 % at 18.9. */
static void quantiles_are_those_of_the_rows(void **state) {
    (void)state;
    static const char *const ways[] = {"track", "own"};
    for (int way = 0; way < 2; way++) {
        double hours[MEMBERS];
        for (size_t i = 0; i < MEMBERS; i++)
            hours[i] = number(json_object_get(row(i), ways[way]), "elapsed_h");
        qsort(hours, MEMBERS, sizeof *hours, by_value);
        json_t *told =
            json_object_get(json_object_get(document(), ways[way]), "arrive");
        double first_s = planned_time_s(json_object_get(told, "earliest"));
        const struct {
            const char *key;
            double hours;
        } expected[] = {
            {"p10", hours[1] + 0.1 * (hours[2] - hours[1])},
            {"p50", hours[9] + 0.5 * (hours[10] - hours[9])},
            {"p90", hours[17] + 0.9 * (hours[18] - hours[17])},
            {"latest", hours[19]},
        };
        for (int i = 0; i < 4; i++)
            assert_near(planned_time_s(json_object_get(told, expected[i].key)) -
                            first_s,
                        hours_to_s(expected[i].hours - hours[0]), 1.5);
    }
}

/* 38 % more wind makes the worst gust that of the last member. */
static void the_worst_gust_is_that_of_the_strongest(void **state) {
    (void)state;
    json_t *track = json_object_get(document(), "track");
    json_t *of = json_object_get(track, "worst_gust_member");
    double worst_kn = 0.0;
    size_t worst = 0;
    for (size_t i = 0; i < MEMBERS; i++) {
        double kn = number(json_object_get(row(i), "track"), "gust_kn");
        if (kn <= worst_kn)
            continue;
        worst_kn = kn;
        worst = i;
    }
    assert_near(number(track, "worst_gust_kn"), worst_kn, 1e-9);
    assert_int_equal(number(of, "number"), worst);
    double control_kn = number(json_object_get(row(0), "track"), "gust_kn");
    assert_true(worst_kn > 1.2 * control_kn);
}

static void counts_of_deck_work_are_those_of_the_rows(void **state) {
    (void)state;
    json_t *works = json_object_get(document(), "deck_work");
    for (size_t k = 0; k < json_array_size(works); k++) {
        json_t *work = json_array_get(works, k);
        int own = 0, limits = 0, margin = 0, done = 0;
        for (size_t i = 0; i < MEMBERS; i++) {
            json_t *seen =
                json_array_get(json_object_get(row(i), "deck_work"), k);
            own += json_is_string(json_object_get(seen, "own"));
            done += json_is_string(json_object_get(seen, "done"));
            limits += json_is_true(json_object_get(seen, "inside_limits"));
            margin += json_is_true(json_object_get(seen, "inside_margin"));
        }
        assert_int_equal(number(json_object_get(work, "own"), "members"), own);
        assert_int_equal(number(work, "done"), done);
        assert_int_equal(number(work, "inside_limits"), limits);
        assert_int_equal(number(work, "inside_margin"), margin);
        assert_true(own >= 1 && margin >= 1); /* the control itself */
    }
}

static void threads_make_no_difference(void **state) {
    (void)state;
    struct ran one = spread(few, "--quiet --json --threads 1");
    struct ran two = spread(few, "--quiet --json --threads 2");
    assert_int_equal(one.status, 0);
    assert_string_equal(one.err, "");
    assert_string_equal(one.out, two.out);
}

static void it_fits_a_screen_and_says_what_it_is(void **state) {
    (void)state;
    struct ran ran = spread(passage, "--out nowhere");
    assert_int_equal(ran.status, 0);
    assert_contains(ran.err, "'--out' is not used: no plan is written");
    assert_contains(ran.err, "the control is used");
    assert_contains(ran.out, "Spread over 20 members: ");
    assert_contains(ran.out, "made with the control");
    int lines = 0;
    for (const char *line = ran.out; *line; line = strchr(line, '\n') + 1) {
        assert_true(strcspn(line, "\n") <= 80);
        lines++;
    }
    assert_true(lines <= 36);
    for (const char *byte = ran.out; *byte; byte++)
        assert_true(*byte == '\n' || (*byte >= ' ' && *byte <= '~'));
}

/* Sailed in gusts of no more than so much, most members have no way. */
static void members_without_a_route_are_counted(void **state) {
    (void)state;
    json_t *track = json_object_get(row(FEW / 2), "track");
    char options[100];
    snprintf(options, sizeof options, "--json --max-gust %.1f",
             number(track, "gust_kn"));
    struct ran ran = spread(few, options);
    assert_int_equal(ran.status, 0);
    json_t *root = json_loads(ran.out, 0, NULL);
    json_t *rows = json_object_get(root, "rows");
    int broken = 0;
    for (size_t i = 0; i < FEW; i++) {
        json_t *way = json_object_get(json_array_get(rows, i), "track");
        broken += json_is_string(json_object_get(way, "breaks"));
    }
    assert_true(broken >= 1 && broken < FEW);
    assert_int_equal(number(json_object_get(root, "track"), "break_a_limit"),
                     broken);
    json_decref(root);
}

static void forecast_lists_the_members(void **state) {
    (void)state;
    char line[5000];
    snprintf(line, sizeof line, "forecast '%s'", forecast);
    struct ran ran = check_run(line);
    assert_int_equal(ran.status, 0);
    assert_contains(ran.out,
                    "Members\n  wind: 20 members (the control, 1 to 19)\n");
}

static void faults_are_told(void **state) {
    (void)state;
    struct ran ran = spread(passage, "--member 20");
    assert_int_equal(ran.status, 3);
    assert_contains(ran.err, "has no member 20; there are 20 members (the "
                             "control, 1 to 19): give one of them");
    assert_string_equal(ran.out, "");
    ran = spread(passage, "--member 2.5");
    assert_int_equal(ran.status, 2);
    assert_contains(ran.err, "a member has a whole number");
    ran = check_run("spread grib-samples/coastal-hop.ini");
    assert_int_equal(ran.status, 3);
    assert_contains(ran.err, "has no members; give the files of an ensemble");
    ran = check_run("plan grib-samples/coastal-hop.ini --member 3 --json");
    assert_int_equal(ran.status, 3);
    assert_contains(ran.err, "member 3 is asked for, but the wind of the "
                             "forecast files has no members");
    assert_string_equal(ran.out, "");
}

/* --- real files ----------------------------------------------------------- */

static struct ran plan_with(const char *file, const char *more) {
    char line[9000];
    snprintf(line, sizeof line,
             "spread --boat polars/wanderer-12.ini --coast none --from 50N5W "
             "--to 48N8W --depart 2026-06-01T06:00Z --forecast '%s' %s",
             file, more);
    return check_run(line);
}

/* 51 members of gusts and no wind; and a mean and a spread, which are called
 * like winds. What the files hold: the catalogue of the folder. */
static void real_ensembles_without_wind_are_refused(void **state) {
    (void)state;
    static const char *const names[] = {
        "4-ensemble/ec-ens51-gust-stjude.grib1",
        "4-ensemble/ec-ens-mean-10si-msl.grib",
        "4-ensemble/ec-ens-spread-10si-msl.grib",
        "4-ensemble/ec-ens6-ztu-4steps.grib"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        const char *path = check_real_file(names[i]);
        if (!path)
            skip();
        struct ran ran = plan_with(path, "");
        if (ran.status != 3)
            fail_msg("%s: status %d: %s", names[i], ran.status, ran.err);
        assert_contains(ran.err, "wind");
        assert_string_equal(ran.out, "");
        ran = plan_with(path, "--member 3");
        assert_int_equal(ran.status, 3);
        assert_string_equal(ran.out, "");
    }
}

/* Member 42 of an ensemble, with one step of wind. */
static void a_real_lone_member_is_named(void **state) {
    (void)state;
    const char *path = check_real_file("4-ensemble/tigge-ecmwf-pf42.grib2");
    if (!path)
        skip();
    char line[5000];
    snprintf(line, sizeof line, "forecast '%s'", path);
    struct ran ran = check_run(line);
    assert_int_equal(ran.status, 0);
    assert_contains(ran.out, "wind: 1 member (42)\n");
    assert_contains(ran.out, "only member 42 of an ensemble is there");
    struct ran other = plan_with(path, "--member 41");
    assert_int_equal(other.status, 3);
    assert_contains(other.err,
                    "has no member 41; there is 1 member (42): give one");
    struct ran lone = plan_with(path, "");
    assert_int_equal(lone.status, 3);
    assert_contains(lone.err, "has one member alone");
}

/* A departure's doubt is that of its own track over the members: the same that
 * the spread tells of the plan's. */
static void a_window_tells_the_spread_of_each_departure(void **state) {
    (void)state;
    char line[9000];
    snprintf(line, sizeof line,
             "window '%s' --latest 2026-06-03T12:00Z --quiet --json", passage);
    struct ran ran = check_run(line);
    json_t *window = json_loads(ran.out, JSON_REJECT_DUPLICATES, NULL);
    const json_t *first =
        json_array_get(json_object_get(window, "departures"), 0);
    const json_t *arrive =
        json_object_get(json_object_get(document(), "track"), "arrive");
    assert_near(number(first, "members"), number(arrive, "members"), 0.0);
    assert_true(number(first, "spread_h") > 0.0);
    json_decref(window);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_member_has_a_row),
        cmocka_unit_test(the_control_is_the_plan),
        cmocka_unit_test(an_own_best_is_the_plan_of_that_member),
        cmocka_unit_test(along_takes_a_member),
        cmocka_unit_test(quantiles_are_those_of_the_rows),
        cmocka_unit_test(the_worst_gust_is_that_of_the_strongest),
        cmocka_unit_test(counts_of_deck_work_are_those_of_the_rows),
        cmocka_unit_test(threads_make_no_difference),
        cmocka_unit_test(it_fits_a_screen_and_says_what_it_is),
        cmocka_unit_test(members_without_a_route_are_counted),
        cmocka_unit_test(a_window_tells_the_spread_of_each_departure),
        cmocka_unit_test(forecast_lists_the_members),
        cmocka_unit_test(faults_are_told),
        cmocka_unit_test(real_ensembles_without_wind_are_refused),
        cmocka_unit_test(a_real_lone_member_is_named),
    };
    return cmocka_run_group_tests(tests, make_series, NULL);
}
