/* `forecast --for`, from outside: what it prints, and that what it asks for is
 * enough for a plan. */
#include "../support/check.h"
#include "../support/planned.h"
#include "../support/scene.h"

#include "base/units.h"
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A passage that names no forecast and no time: there is none yet. */
static const char *bare_passage(const char *more) {
    char text[5000], root[4096];
    struct ran pwd = check_shell("pwd");
    snprintf(root, sizeof root, "%.*s", (int)strcspn(pwd.out, "\n"), pwd.out);
    snprintf(text, sizeof text,
             "[passage]\nname = Out\nboat = %s/polars/wanderer-12.ini\n"
             "from = 24 30 N 18 30 W\nto = 16 N 40 W\n%s",
             root, more);
    return check_write("bare.ini", text);
}

static struct ran ask(const char *more, const char *options) {
    char line[5000];
    snprintf(line, sizeof line, "forecast --for '%s' %s", bare_passage(more),
             options);
    return check_run(line);
}

static double number_after(const char *text, const char *part) {
    const char *at = strstr(text, part);
    if (!at)
        fail_msg("'%s' does not stand in: %s", part, text);
    return strtod(at + strlen(part), NULL);
}

static void it_is_answered_without_forecast_time_and_net(void **state) {
    (void)state;
    struct ran ran = ask("", "");
    assert_int_equal(ran.status, 0);
    assert_string_equal(ran.err, "");
    assert_contains(ran.out, "What to ask a forecast for: Out\n");
    assert_contains(ran.out, "\nSMALL REQUEST  about ");
    assert_contains(ran.out, "\nFULLER REQUEST  about ");
    assert_contains(ran.out, "  Fields      wind at 10 m, both components\n");
    assert_contains(ran.out, "from the last step before departure on\n");
    assert_null(strstr(ran.out, "is set: without"));
    for (const char *line = ran.out; *line; line = strchr(line, '\n') + 1)
        assert_true(strcspn(line, "\n") <= 80);
    for (const char *byte = ran.out; *byte; byte++)
        assert_true(*byte == '\n' || (*byte >= ' ' && *byte <= '~'));
}

/* From where she is now: nearer to the finish it is less. */
static void options_go_before_the_file(void **state) {
    (void)state;
    struct ran whole = ask("depart = 2026-03-10T06:00Z\n", "");
    struct ran near = ask("depart = 2026-03-10T06:00Z\n",
                          "--from '18 N 36 W' --depart 2026-03-15T11:30Z");
    assert_contains(whole.out, "departure, Tue 10 Mar 2026 06:00\n");
    assert_contains(near.out, "departure, Sun 15 Mar 2026 11:30\n");
    /* 1313 nmi by GeodSolve of PROJ's geodesic, as in the schedule */
    assert_near(number_after(whole.out, "  Way "), 1313.0, 1.0);
    assert_true(number_after(near.out, "  Way ") < 300.0);
    struct ran limits = ask("max_gust = 35\nmax_wave = 4\n", "");
    assert_contains(limits.out, "max_gust is set: without gusts");
    assert_contains(limits.out, "max_wave is set: without heights");
    setenv("SOURCE_DATE_EPOCH", "1780302000", 1); /* 2026-06-01T08:20Z */
    struct ran now = ask("", "--depart now");
    unsetenv("SOURCE_DATE_EPOCH");
    assert_contains(now.out, "Mon 1 Jun 2026 08:20\n");
}

static void faults_are_told(void **state) {
    (void)state;
    static const struct {
        const char *arguments;
        int status;
        const char *part;
    } cases[] = {
        {"forecast", 2, "'forecast' is told no file"},
        {"forecast --for", 2, "'--for' needs a value"},
        {"forecast --for no.ini", 3, "no.ini' can't be read"},
        {"forecast --from '1 N 2 W' grib-samples/coastal-hop.grib2", 2,
         "'--from' goes with a passage; give one with --for"},
        {"forecast grib-samples/coastal-hop.grib2 --for "
         "grib-samples/coastal-hop.ini",
         2, "are two questions"},
        {"forecast --for grib-samples/coastal-hop.ini --ease 2", 2,
         "unknown option '--ease'"},
        {"forecast --for grib-samples/coastal-hop.ini --via "
         "'39 18.0 N 9 48.0 W'",
         3, "'via' is the same place as the one before it"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct ran ran = check_run(cases[i].arguments);
        assert_int_equal(ran.status, cases[i].status);
        assert_contains(ran.err, cases[i].part);
        assert_string_equal(ran.out, "");
    }
    char line[5000];
    snprintf(line, sizeof line, "forecast --for '%s'",
             check_write("none.ini", "[passage]\nfrom = 1 N 2 W\n"));
    struct ran ran = check_run(line);
    assert_int_equal(ran.status, 3);
    assert_contains(ran.err, "key 'boat' is missing");
}

/* Somebody gets just what the small request asks for, the trades as they may
 * be: the plan is made, ends inside, and the file is as large as was told,
 * 16 bits a value for 12. */
static void the_small_request_is_enough_for_a_plan(void **state) {
    (void)state;
    struct ran ran = ask("depart = 2026-06-01T02:00Z\n", "");
    const char *small = strstr(ran.out, "SMALL REQUEST");
    double south, north, west, east;
    assert_int_equal(sscanf(strstr(small, "  Area") + 6,
                            " %lf N to %lf N, %lf W to %lf W", &south, &north,
                            &west, &east),
                     4);
    struct scene scene = {.name = "small",
                          .weather = {.wind_from_deg = 60.0,
                                      .wind_mps = 6.5,
                                      .veer_deg_per_lat_deg = 2.0,
                                      .rise_mps_per_lat_deg = 0.1,
                                      .lat_deg = 20.0,
                                      .wave_m = 1.5,
                                      .wave_period_s = 7.0,
                                      .gust_frac = {true, 1.3}},
                          .south_deg = south,
                          .north_deg = north,
                          .west_deg = -west,
                          .east_deg = -east,
                          .step_deg = number_after(small, "  Spacing "),
                          .hours = (int)number_after(small, "  Hours "),
                          .every = (int)number_after(small, "every "),
                          .sea = SCENE_COMBINED};
    const char *file = scene_write(&scene);
    struct planned plan =
        planned_well("small", "plan '%s' --forecast '%s' --coast none",
                     bare_passage("depart = 2026-06-01T02:00Z\n"), file);
    assert_near(planned_figure(&plan, "beyond_forecast_h"), 0.0, 1e-9);
    char line[5000];
    snprintf(line, sizeof line, "wc -c < '%s'", file);
    double bytes = strtod(check_shell(line).out, NULL);
    double told = 1e3 * number_after(small, "SMALL REQUEST  about ");
    /* 168 kB for 180, measured; the sea is the same everywhere, and takes none
     */
    assert_true(bytes > 0.8 * told && bytes < 1.2 * told);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(it_is_answered_without_forecast_time_and_net),
        cmocka_unit_test(options_go_before_the_file),
        cmocka_unit_test(faults_are_told),
        cmocka_unit_test(the_small_request_is_enough_for_a_plan),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
