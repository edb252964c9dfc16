/* Forecasts made by weather centres, from the folder of $SPARWISE_GRIBS: whole
 * plans on them, and what can't be used refused in words. Skips, saying so,
 * where the folder is not there. */
#include "../support/check.h"
#include "../support/planned.h"

#include "earth/geodesic.h"
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { OPTIONS_SIZE = 6000 };

/* Wind and waves round Madagascar: run 2016-03-01 06Z, 27 steps of 6 h. False,
 * with a line "skipped:", where they are missing. */
static bool madagascar(char options[OPTIONS_SIZE]) {
    char wind[3000];
    const char *path = check_real_file("1-wind-series/"
                                       "madagascar-wind-7days.grb");
    if (!path)
        return false;
    snprintf(wind, sizeof wind, "%s", path);
    path = check_real_file("2-waves/madagascar-wave-7days.grb");
    if (!path)
        return false;
    snprintf(options, OPTIONS_SIZE,
             "--boat polars/wanderer-12.ini --forecast '%s' --forecast '%s' "
             "--depart 2016-03-01T12:00Z --name Madagascar",
             wind, path);
    return true;
}

static const struct {
    const char *from, *to;
} passages[] = {
    {"20 54 S 56 30 E", "27 00 S 44 30 E"}, /* trades, then a trough */
    {"14 00 S 59 00 E", "25 30 S 52 00 E"}, /* across the trades */
    /* round the south of the island, close along where the files have no wind
     */
    {"20 54 S 55 00 E", "23 30 S 43 18 E"},
};
enum { PASSAGES = sizeof passages / sizeof passages[0] };

static double leg_figure(const json_t *leg, const char *key) {
    json_t *value = json_object_get(leg, key);
    if (!json_is_number(value))
        fail_msg("%s of a leg is not known", key);
    return json_number_value(value);
}

static void whole_plan(const char *options) {
    struct planned plan = planned_well("real", "plan %s", options);
    assert_true(planned_figure(&plan, "great_circle_nmi") >= 600.0);
    const json_t *legs = json_object_get(plan.json, "legs");
    double least = HUGE_VAL, most = 0.0;
    assert_true(json_array_size(legs) >= 3);
    for (size_t i = 0; i < json_array_size(legs); i++) {
        const json_t *leg = json_array_get(legs, i);
        double roll_deg = leg_figure(leg, "roll_deg");
        assert_true(isfinite(roll_deg) && roll_deg > 0.0 && roll_deg < 30.0);
        least = fmin(least, roll_deg);
        most = fmax(most, roll_deg);
        assert_in_range(leg_figure(leg, "wave_period_s"), 3.0, 25.0);
    }
    assert_true(most > 1.2 * least);
    /* no gust in these files, and both hold waves */
    assert_contains(plan.schedule, "gust estimated as 1.4 x the mean wind: "
                                   "all legs");
    assert_null(strstr(plan.schedule, "sea estimated"));

    struct planned along = planned_well("real-along", "along '%s/route.gpx' %s",
                                        plan.folder, options);
    assert_near(planned_arrive_s(&along), planned_arrive_s(&plan), 10.0);
}

static void open_water_passages_come_out(void **state) {
    (void)state;
    char options[OPTIONS_SIZE], line[OPTIONS_SIZE + 200];
    if (!madagascar(options)) {
        skip();
        return;
    }
    for (int i = 0; i < PASSAGES; i++) {
        snprintf(line, sizeof line, "%s --from '%s' --to '%s'", options,
                 passages[i].from, passages[i].to);
        whole_plan(line);
    }
}

static const char *track(double lat_a, double lon_a, double lat_b,
                         double lon_b) {
    char text[1000];
    snprintf(text, sizeof text,
             "<gpx version=\"1.1\" creator=\"a test\" "
             "xmlns=\"http://www.topografix.com/GPX/1/1\"><rte>"
             "<rtept lat=\"%g\" lon=\"%g\"/><rtept lat=\"%g\" lon=\"%g\"/>"
             "</rte></gpx>",
             lat_a, lon_a, lat_b, lon_b);
    return check_write("track.gpx", text);
}

/* One place, one sea (a swell from the south-west, 13 s, the wind from the
 * east, and its sea): 30 miles on eight courses. */
static void roll_varies_with_the_course(void **state) {
    (void)state;
    char options[OPTIONS_SIZE];
    double roll_deg[8], least = HUGE_VAL, most = 0.0;
    if (!madagascar(options)) {
        skip();
        return;
    }
    struct position middle = {-24.0, 57.0};
    int sailed = 0;
    for (int i = 0; i < 8; i++) {
        struct position end = geodesic_ahead(middle, 45.0 * i, 55560.0);
        struct planned along = planned_run(
            "course", "along '%s' %s --spar stowed",
            track(middle.lat_deg, middle.lon_deg, end.lat_deg, end.lon_deg),
            options);
        if (along.ran.status == 1) /* too near the wind */
            continue;
        assert_int_equal(along.ran.status, 0);
        roll_deg[sailed] = planned_figure(&along, "roll_mean_deg");
        assert_true(isfinite(roll_deg[sailed]) && roll_deg[sailed] >= 0.0);
        least = fmin(least, roll_deg[sailed]);
        most = fmax(most, roll_deg[sailed]);
        sailed++;
    }
    assert_true(sailed >= 5);
    assert_true(most > 1.2 * least && most > 0.5);
}

/* Land is in the bitmap: no wind, so no boat there. */
static void a_finish_on_land_has_no_wind(void **state) {
    (void)state;
    char options[OPTIONS_SIZE];
    if (!madagascar(options)) {
        skip();
        return;
    }
    struct planned plan = planned_run(
        "land", "plan %s --from '20 54 S 56 30 E' --to '20 S 47 E'", options);
    assert_int_equal(plan.ran.status, 4);
    assert_contains(plan.ran.err, "no wind in the forecast at the finish");
    assert_contains(plan.ran.err, "ask for ");
    assert_int_not_equal(access(plan.folder, F_OK), 0);
}

static void a_limit_that_no_field_can_answer_is_refused(void **state) {
    (void)state;
    char options[OPTIONS_SIZE];
    if (!madagascar(options)) {
        skip();
        return;
    }
    struct planned plan = planned_run(
        "gust", "plan %s --from '21 S 57 E' --to '22 S 56 E' --max-gust 30",
        options);
    assert_int_equal(plan.ran.status, 4);
    assert_contains(plan.ran.err, "max_gust is set but no file holds gusts");
}

static struct ran listed(const char *path) {
    char line[5000];
    snprintf(line, sizeof line, "forecast '%s'", path);
    return check_run(line);
}

/* Wind, pressure, waves and current of GRIB1 table version 0 on three grids
 * across Greenwich: values of the file's own headers (grib_ls). */
static void the_marine_mix_is_listed(void **state) {
    (void)state;
    const char *path =
        check_real_file("5-currents/marine-mix-wind-msl-wave-current.grb");
    if (!path) {
        skip();
        return;
    }
    struct ran ran = listed(path);
    assert_int_equal(ran.status, 0);
    static const char *const parts[] = {
        "12 messages",          "wind: u and v (10 m)",
        "current: u and v",     "combined sea: direction",
        "2007-01-20 03:00 UTC", "41 N to 61 N, 22 W to 5 E",
        "A plan will miss",     "gust: "};
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++)
        assert_contains(ran.out, parts[i]);
}

static void a_file_that_breaks_off_gives_its_whole_messages(void **state) {
    (void)state;
    const char *path =
        check_real_file("6-zoo/damage/damage-truncated-midmessage.grb");
    if (!path) {
        skip();
        return;
    }
    struct planned plan = planned_well(
        "cut",
        "plan --boat polars/wanderer-12.ini --forecast '%s' --name Cut "
        "--depart 2016-03-01T12:00Z --from '22 S 57 E' --to '22 30 S 56 30 E'",
        path);
    json_t *passage = json_object_get(plan.json, "passage");
    /* 37 whole messages: 18 pairs of u and v, the last at +108 h; u at +114 h
     * has no v */
    assert_string_equal(
        json_string_value(json_object_get(passage, "forecast_end")),
        "2016-03-05T18:00:00Z");
    assert_true(json_array_size(json_object_get(plan.json, "warnings")) >= 2);
    assert_contains(plan.schedule, "damage-truncated-midmessage.grb");
}

/* What is said of each, and status 3 for all; nothing is written. */
static void files_without_wind_are_refused(void **state) {
    (void)state;
    static const struct {
        const char *file, *said;
    } rows[] = {
        {"3-gust-mslp/gefs-prmsl-simple.grib2", "no wind in "},
        {"2-waves/madagascar-wave-7days.grb", "no wind in "},
        {"1-wind-series/ec-10u-without-v.grib", "u without v"},
        {"6-zoo/wind-traps/wind-speed-300hPa-only.grib1", "300 hPa"},
        {"6-zoo/wind-traps/wind-10si-probability.grib2", "no "},
        {"6-zoo/damage/damage-9-bytes.grb", "GRIB"},
        {"CATALOG.md", "GRIB"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const char *path = check_real_file(rows[i].file);
        if (!path) {
            skip();
            return;
        }
        struct planned plan = planned_run(
            "no-wind",
            "plan --boat polars/wanderer-12.ini --forecast '%s' --name None "
            "--depart 2016-03-01T12:00Z --from '22 S 57 E' --to '23 S 56 E'",
            path);
        assert_int_equal(plan.ran.status, 3);
        assert_contains(plan.ran.err, rows[i].said);
        assert_contains(plan.ran.err, strrchr(path, '/') + 1);
        assert_int_not_equal(access(plan.folder, F_OK), 0);
    }
}

/* Nothing in the whole collection ends the listing with a signal. */
static void every_file_ends_the_listing_in_order(void **state) {
    (void)state;
    const char *path = check_real_file("CATALOG.md");
    char line[5000];
    if (!path) {
        skip();
        return;
    }
    snprintf(line, sizeof line, "find '%.*s' -name '*.gr*b*' | sort",
             (int)(strrchr(path, '/') - path), path);
    struct ran files = check_shell(line);
    int count = 0;
    for (char *file = strtok(files.out, "\n"); file;
         file = strtok(NULL, "\n")) {
        count++;
        if (!check_is_long() && !strstr(file, "damage") && count % 10 != 0)
            continue;
        struct ran ran = listed(file);
        if (ran.status != 0 && ran.status != 3)
            fail_msg("%s: status %d: %s", file, ran.status, ran.err);
    }
    assert_true(count > 50);
}

/* This program once more, with no folder of real files. */
static void without_the_folder_the_tests_say_skipped(void **state) {
    (void)state;
    char self[2000], line[3000];
    if (getenv("SPARWISE_TEST_WITHOUT"))
        return;
    ssize_t length = readlink("/proc/self/exe", self, sizeof self - 1);
    if (length < 0) {
        print_message("skipped: no /proc\n");
        skip();
        return;
    }
    self[length] = '\0';
    snprintf(line, sizeof line,
             "SPARWISE_TEST_WITHOUT=1 SPARWISE_GRIBS=/nonexistent '%s' 2>&1",
             self);
    struct ran ran = check_shell(line);
    assert_int_equal(ran.status, 0);
    assert_contains(ran.out, "skipped: no file /nonexistent/");
    assert_contains(ran.out, "[  SKIPPED ] open_water_passages_come_out");
    assert_null(strstr(ran.out, "FAILED"));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(open_water_passages_come_out),
        cmocka_unit_test(roll_varies_with_the_course),
        cmocka_unit_test(a_finish_on_land_has_no_wind),
        cmocka_unit_test(a_limit_that_no_field_can_answer_is_refused),
        cmocka_unit_test(the_marine_mix_is_listed),
        cmocka_unit_test(a_file_that_breaks_off_gives_its_whole_messages),
        cmocka_unit_test(files_without_wind_are_refused),
        cmocka_unit_test(every_file_ends_the_listing_in_order),
        cmocka_unit_test(without_the_folder_the_tests_say_skipped),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
