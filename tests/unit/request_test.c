#include "../support/check.h"
#include "../support/scratch.h"

#include "plan/request.h"

#include "base/text.h"
#include "base/units.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

static struct error error;
static struct request request;

static const char whole[] = "[passage]\n"
                            "boat = boats/ours.ini\n"
                            "forecast = a.grb\n"
                            "forecast = /b.grb\n"
                            "from = 16 53.4 N 025 00.6 W\n"
                            "to = 14.5,-61\n"
                            "depart = 2024-03-31T01:30:00Z\n";

/* `whole` and more lines, in a file of its own. */
static const char *file_with(const char *more) {
    static int files;
    const char *name = arena_print(&arena, "passage-%d.ini", ++files);
    return check_write(name, arena_print(&arena, "%s%s", whole, more));
}

static bool load(const char *more) {
    return request_load(&request, file_with(more), &arena, &error);
}

static bool option(const char *name, const char *value) {
    return request_option(&request, name, value, &arena, &error);
}

static bool resolve(void) {
    return request_resolve(&request, false, &arena, &error);
}

static void a_passage_file_is_read(void **state) {
    (void)state;
    assert_true(load("name = Over\nspar = port\nmax_wind = 25\nmax_wave = 4\n"
                     "leg_loss = 0.01\nvia = 16N 40W\nvia = 15N 50W\n"
                     "approach_nmi = 2\nmargin_minutes = 30\n"
                     "forecast_gap_hours = 6\nwave_direction = towards\n"
                     "fallback = Cala Bruna 15 00 N 55 00 W\n"));
    assert_true(resolve());
    const char *folder = check_folder();
    assert_string_equal(request.boat_path,
                        arena_print(&arena, "%s/boats/ours.ini", folder));
    assert_int_equal(request.forecast_paths.count, 2);
    assert_string_equal(request.forecast_paths.texts[0],
                        arena_print(&arena, "%s/a.grb", folder));
    assert_string_equal(request.forecast_paths.texts[1], "/b.grb");
    assert_near(request.from.lat_deg, 16.89, 1e-12);
    assert_near(request.from.lon_deg, -25.01, 1e-12);
    assert_near(request.to.lon_deg, -61.0, 0.0);
    assert_int_equal(request.via_count, 2);
    assert_near(request.via[1].lon_deg, -50.0, 0.0);
    assert_int_equal(request.start.spar, SPAR_PORT);
    assert_false(request.start.rolled);
    assert_near(request.max_wind_mps.value, 12.861111, 1e-6);
    assert_near(request.max_wave_m.value, 4.0, 0.0);
    assert_false(request.max_gust_mps.known);
    assert_near(request.leg_loss_frac, 0.01, 0.0);
    assert_near(request.approach_m, 3704.0, 0.0);
    assert_near(request.margin_s.value, 1800.0, 0.0);
    assert_near(request.forecast_gap_s, 21600.0, 0.0);
    assert_int_equal(request.wave_towards, 1);
    assert_string_equal(request.name, "Over");
    assert_int_equal(request.port_count, 1);
    assert_string_equal(request.ports[0].name, "Cala Bruna");
    assert_near(request.ports[0].at.lat_deg, 15.0, 1e-12);
    assert_near(request.ports[0].at.lon_deg, -55.0, 1e-12);
}

static void what_is_left_out_has_its_default(void **state) {
    (void)state;
    assert_true(load(""));
    assert_true(resolve());
    assert_near(request.ease, 1.0, 0.0);
    assert_int_equal(request.after, AFTER_HOLD);
    assert_int_equal(request.start.spar, SPAR_STOWED);
    assert_int_equal(request.route_points, 50);
    assert_near(request.leg_loss_frac, 0.003, 0.0);
    assert_near(request.forecast_gap_s, 43200.0, 0.0);
    assert_int_equal(request.threads, 0);
    assert_null(request.out);
    assert_false(request.margin_s.known);
    /* a passage without a name has that of its file */
    assert_int_equal(strncmp(request.name, "passage-", 8), 0);
    assert_null(strchr(request.name, '.'));
}

static void an_option_wins_over_the_file(void **state) {
    (void)state;
    assert_true(load("max_wind = 25\nease = 2\nspar = port\n"
                     "out = plans\nvia = 16N 40W\ncoast = auto\n"));
    assert_true(option("max-wind", "30"));
    assert_true(option("ease", "0.5"));
    assert_true(option("spar", "starboard"));
    assert_true(option("out", "here"));
    assert_true(option("from", "16,-24"));
    assert_true(option("coast", "none"));
    assert_true(resolve());
    assert_near(mps_to_kn(request.max_wind_mps.value), 30.0, 1e-12);
    assert_near(request.ease, 0.5, 0.0);
    assert_int_equal(request.start.spar, SPAR_STARBOARD);
    assert_string_equal(request.out, "here"); /* from the working folder */
    assert_near(request.from.lon_deg, -24.0, 0.0);
    assert_int_equal(request.via_count, 1);
}

static void lists_start_anew_with_their_first_option(void **state) {
    (void)state;
    assert_true(load("via = 16N 40W\nvia = 15N 50W\n"
                     "fallback = A 16N 40W\n"));
    assert_true(option("fallback", "B C 15N 50W"));
    assert_int_equal(request.port_count, 1);
    assert_string_equal(request.ports[0].name, "B C");
    assert_true(option("via", "12N 30W"));
    assert_int_equal(request.via_count, 1);
    assert_near(request.via[0].lat_deg, 12.0, 0.0);
    assert_true(option("via", "12N 31W"));
    assert_int_equal(request.via_count, 2);
    assert_true(option("forecast", "c.grb"));
    assert_true(option("forecast", "d.grb"));
    assert_int_equal(request.forecast_paths.count, 2);
    assert_string_equal(request.forecast_paths.texts[0], "c.grb");
}

static void other_options_are_given_once(void **state) {
    (void)state;
    assert_true(load(""));
    assert_true(option("max-wind", "30"));
    assert_false(option("max-wind", "31"));
    assert_string_equal(error.text,
                        "'--max-wind' is given twice; keep one of them");
    assert_int_equal(error.status, STATUS_USAGE);
}

/* One message each: the file and its line, what is wrong, what to do. */
static void faults_of_the_file_are_told_with_their_line(void **state) {
    (void)state;
    static const struct {
        const char *line, *expected;
    } cases[] = {
        {"max_wnd = 30", ":8: unknown key 'max_wnd' in [passage]; did you mean "
                         "'max_wind'"},
        {"max_wind = 300", ":8: '300' for 'max_wind' in [passage] is out of "
                           "range; give 1 to 100 kn"},
        {"max_wind = 22,5", ":8: '22,5' for 'max_wind' in [passage] is not a "
                            "number; give 1 to 100 kn"},
        {"to = 1N 1W", ":8: key 'to' in [passage] is given twice; keep one of "
                       "them"},
        {"via = 91 N 5 E", ":8: '91 N 5 E' for 'via' in [passage]: latitude is "
                           "beyond 90 degrees"},
        {"ease = soft", ":8: 'soft' for 'ease' in [passage]: not a number from "
                        "0 to 100; 1 is the default"},
        {"ease = -1", "not a number from 0 to 100"},
        {"ease = 100.1", "not a number from 0 to 100"},
        {"ease = 0,soft", ":8: '0,soft' for 'ease' in [passage]: not a number"},
        {"ease = 1,", "not a number from 0 to 100"},
        {"ease = 0,1,2,3,4", "more than four; leave some out"},
        {"earliest = noon", ":8: 'noon' for 'earliest' in [passage]: not a "
                            "time; write it as 2026-03-10T06:00Z, or now"},
        {"latest = noon", "'noon' for 'latest' in [passage]: not a time"},
        {"every = 0", "out of range; give 0.1 to 720 h"},
        {"after_forecast = wait", ":8: 'wait' for 'after_forecast' in "
                                  "[passage]: not known; give hold, stop, or "
                                  "wind:FROM,KN"},
        {"after_forecast = wind:", "not known"},
        {"after_forecast = wind:75", "not known"},
        {"after_forecast = wind:75,", "not known"},
        {"after_forecast = wind:361,18", "not known"},
        {"after_forecast = wind:75,101", "not known"},
        {"after_forecast = wind:75,18,20", "not known"},
        {"fallback = Bruna", ":8: 'Bruna' for 'fallback' in [passage]: give a "
                             "name, a blank, and its position"},
        {"fallback = Bruna 91N 5W", "latitude is beyond 90 degrees"},
        {"spar = left", ":8: 'left' for 'spar' in [passage] is not known; give "
                        "one of stowed, port, starboard"},
        {"name_length = 4", "'4' for 'name_length' in [passage]: too short"},
        {"route_points = 1", "out of range; give 2 to 1000"},
        {"leg_loss = 0.3", "out of range; give 0 to 0.2"},
        {"[crew]\nwatch_hours = 13", ":9: '13' for 'watch_hours' in [crew] is "
                                     "out of range; give 1 to 12 h"},
        {"[crew]\nwatch_start = 24:00", ":9: '24:00' for 'watch_start' in "
                                        "[crew]: not a time of day"},
        {"[crew]\nnames = A,, B",
         "'A,, B' for 'names' in [crew]: a name is missing"},
        {"[crew]\nwatch_start = 8", "not a time of day; write it as 20:00"},
        {"[crew]\nboat = x", "'boat' in [crew]; it belongs under [passage]"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        assert_false(load(cases[i].line));
        assert_contains(error.text, cases[i].expected);
        assert_contains(error.text, check_folder());
        assert_int_equal(error.status, STATUS_INPUT);
    }
}

static void faults_of_options_are_told_as_options(void **state) {
    (void)state;
    static const struct {
        const char *name, *value, *expected;
    } cases[] = {
        {"max-wind", "300",
         "'300' for '--max-wind' is out of range; give 1 to 100 kn"},
        {"from", "x", "'x' for '--from': not a position; write it as"},
        {"depart", "noon",
         "'noon' for '--depart': not a time; write it as "
         "2026-03-10T06:00Z, or now"},
        {"ease", "", "'--ease' is given without a value; give what comfort"},
        {"boat", "", "'--boat' is given without a value; give the boat file"},
        {"spar", "left",
         "'left' for '--spar' is not known; give one of "
         "stowed, port, starboard"},
        {"after-forecast", "x", "'x' for '--after-forecast': not known; give"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        assert_true(load(""));
        assert_false(option(cases[i].name, cases[i].value));
        assert_int_equal(
            strncmp(error.text, cases[i].expected, strlen(cases[i].expected)),
            0);
        assert_null(strstr(error.text, "[passage]"));
        assert_int_equal(error.status, STATUS_USAGE);
    }
}

static void the_weather_after_the_forecast_is_chosen(void **state) {
    (void)state;
    assert_true(load("after_forecast = wind:075,18\n"));
    assert_int_equal(request.after, AFTER_WIND);
    assert_near(request.after_wind_from_deg, 75.0, 0.0);
    assert_near(request.after_wind_mps, 9.26, 1e-12); /* 18 * 1852 / 3600 */
    assert_true(option("after-forecast", "stop"));
    assert_int_equal(request.after, AFTER_STOP);
    assert_true(load("after_forecast = wind:360, 0\n"));
    assert_near(request.after_wind_from_deg, 0.0, 0.0);
}

static void land_and_zones_are_read(void **state) {
    (void)state;
    const char *folder = check_folder();
    assert_true(load(""));
    assert_true(resolve());
    assert_string_equal(request.coast_text, "auto");
    assert_near(request.clearance_m, 3704.0, 0.0);
    assert_near(request.approach_m, 9260.0, 0.0);
    assert_int_equal(request.zones.count, 0);
    assert_true(load("coast = land/h.nc\nclearance = 0.5\napproach_nmi = 0\n"
                     "zones = a.geojson\nzones = /b.geojson\n"));
    assert_true(resolve());
    assert_string_equal(request.coast_text,
                        arena_print(&arena, "%s/land/h.nc", folder));
    assert_near(request.clearance_m, 926.0, 0.0);
    assert_near(request.approach_m, 0.0, 0.0);
    assert_int_equal(request.zones.count, 2);
    assert_string_equal(request.zones.texts[0],
                        arena_print(&arena, "%s/a.geojson", folder));
    assert_string_equal(request.zones.texts[1], "/b.geojson");
    assert_true(option("coast", "h.nc")); /* from the working folder */
    assert_string_equal(request.coast_text, "h.nc");
    assert_true(load("coast = h.nc\n"));
    assert_true(option("coast", "none"));
    assert_string_equal(request.coast_text, "none");
    assert_false(option("clearance", "51"));
    assert_contains(error.text, "50 nmi");
}

static void several_eases_keep_their_order(void **state) {
    (void)state;
    assert_true(load("ease = -0,1\n"));
    assert_int_equal(signbit(request.eases[0]), 0); /* not printed "-0" */
    assert_true(load("ease = 3, 0,1\n"));
    assert_int_equal(request.ease_count, 3);
    assert_near(request.eases[0], 3.0, 0.0);
    assert_near(request.eases[1], 0.0, 0.0);
    assert_near(request.eases[2], 1.0, 0.0);
    assert_near(request.ease, 3.0, 0.0);
    assert_true(option("ease", "0.5"));
    assert_int_equal(request.ease_count, 1);
    assert_near(request.ease, 0.5, 0.0);
    assert_true(resolve());
}

static void what_changes_nothing_is_accepted(void **state) {
    (void)state;
    assert_true(load("coast = none\ndeck_work = any\narrive = any\n"
                     "magnetic = no\npoints_only = no\nascii = no\n"
                     "zone_hours = 0\nname_length = 0\nzones =\n"
                     "[crew]\nwatch_hours = 4\nnames = A, B\n"
                     "watch_start = 20:30\n"));
    assert_true(resolve());
    assert_near(request.watch_s.value, 14400.0, 0.0);
    assert_near(request.watch_start_s, 73800.0, 0.0);
    assert_string_equal(request.crew_names, "A, B");
    assert_int_equal(request.crew_count, 2);
    assert_string_equal(request.crew[0], "A");
    assert_string_equal(request.crew[1], "B");
}

static void a_crew_needs_names_and_watches(void **state) {
    (void)state;
    static const struct {
        const char *keys, *lack;
    } cases[] = {
        {"names = A", NULL},
        {"names = A\nwatch_start = 20:00", NULL},
        {"names = A, B", "watch_hours"},
        {"names = A, B\nwatch_start = 20:00", "watch_hours"},
        {"watch_hours = 4", "names"},
        {"watch_start = 20:00", "names"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        assert_true(load(arena_print(&arena, "[crew]\n%s\n", cases[i].keys)));
        bool complete = resolve();
        assert_int_equal(complete, cases[i].lack == NULL);
        if (complete)
            continue;
        assert_int_equal(error.status, STATUS_INPUT);
        assert_contains(
            error.text,
            arena_print(&arena, "'%s' is missing from [crew]", cases[i].lack));
        assert_contains(error.text, ".ini: ");
    }
}

static void what_is_missing_is_named(void **state) {
    (void)state;
    static const char *const names[] = {"boat", "forecast", "from", "to",
                                        "depart"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        /* all but one of them, as options without a file */
        assert_true(request_load(&request, NULL, &arena, &error));
        for (size_t k = 0; k < sizeof names / sizeof *names; k++)
            if (k != i)
                assert_true(option(names[k], k == 4 ? "2024-01-01" : "1N 1W"));
        assert_false(resolve());
        assert_int_equal(error.status, STATUS_USAGE);
        assert_contains(error.text,
                        arena_print(&arena, "'--%s' is missing", names[i]));
    }
    const char *path = check_write("short.ini", "[passage]\nboat = b.ini\n");
    assert_true(request_load(&request, path, &arena, &error));
    assert_false(resolve());
    assert_int_equal(error.status, STATUS_INPUT);
    assert_contains(error.text, "short.ini: key 'forecast' is missing from "
                                "[passage]; add it, or give --forecast: ");
}

static void a_place_twice_in_a_row_is_no_way(void **state) {
    (void)state;
    assert_true(load("via = 15N 40W\n"));
    assert_true(option("to", "16 53.4 N 25 00.6 W")); /* there and back */
    assert_true(resolve());
    assert_true(option("via", "16 53.4 N 025 00.6 W"));
    assert_false(resolve());
    assert_contains(error.text, "'via' is the same place as the one before it");
    assert_true(load("via = 14.5 N 61 W\n"));
    assert_false(resolve());
    assert_contains(error.text, "'to' is the same place as the one before it");
    assert_true(load("")); /* to stay where one is asks for nothing */
    assert_true(option("from", "10, 180"));
    assert_true(option("to", "10, -179.99999"));
    assert_true(resolve());
    assert_true(option("via", "10, 179.99999"));
    assert_false(resolve());
    assert_int_equal(error.status, STATUS_INPUT);
}

static void a_track_needs_neither_places_nor_time(void **state) {
    (void)state;
    const char *path =
        check_write("along.ini", "[passage]\nboat = b.ini\nforecast = f.grb\n");
    assert_true(request_load(&request, path, &arena, &error));
    assert_true(request_resolve(&request, true, &arena, &error));
    assert_null(request.name);
    assert_null(request.depart_text);
}

/* 2024-03-31T01:30Z is 1711848600 (date -u -d ... +%s); in Lisbon clocks go
 * forward at that hour, and in the other two places the local-time functions
 * would be off by half a day. */
static void times_do_not_depend_on_the_machines_zone(void **state) {
    (void)state;
    static const char *const zones[] = {"UTC", "Europe/Lisbon",
                                        "Pacific/Auckland", "America/New_York",
                                        "XXX+3:30"};
    for (size_t i = 0; i < sizeof zones / sizeof *zones; i++) {
        assert_int_equal(setenv("TZ", zones[i], 1), 0);
        tzset();
        assert_true(load(""));
        assert_int_equal(request.depart.unix_s, 1711848600);
        assert_true(request.depart_zone_given);
        assert_true(option("depart", "2024-03-31T14:30+13:00"));
        assert_int_equal(request.depart.unix_s, 1711848600);
    }
    unsetenv("TZ");
    tzset();
}

static void a_time_without_a_zone_is_utc_and_flagged(void **state) {
    (void)state;
    assert_true(load(""));
    assert_true(option("depart", "2024-03-31T01:30"));
    assert_int_equal(request.depart.unix_s, 1711848600);
    assert_false(request.depart_zone_given);
}

static void now_is_the_clock_and_can_be_held(void **state) {
    (void)state;
    assert_int_equal(setenv("SOURCE_DATE_EPOCH", "1711848600", 1), 0);
    assert_true(load(""));
    assert_true(option("depart", "now"));
    unsetenv("SOURCE_DATE_EPOCH");
    assert_int_equal(request.depart.unix_s, 1711848600);
    assert_true(request.depart_zone_given);
}

static void lists_have_a_limit(void **state) {
    (void)state;
    assert_true(request_load(&request, NULL, &arena, &error));
    for (int i = 0; i < REQUEST_VIA; i++)
        assert_true(option("via", "1N 1W"));
    assert_false(option("via", "1N 1W"));
    assert_string_equal(error.text,
                        "'--via' is given more than 50 times; leave some out");
    for (int i = 0; i < REQUEST_FILES; i++)
        assert_true(option("forecast", "a.grb"));
    assert_false(option("forecast", "a.grb"));
    assert_contains(error.text, "more than 200 times");
}

/* On the line, 180 degrees are 10,819 nmi of 1,852 m by way of a pole, where
 * the earth is flatter, but 90 degrees go along it: 6,378,137 m x pi / 2 =
 * 5,409.7 nmi. Five of them are 27,048 nmi, six 32,458 nmi. */
static void a_way_longer_than_the_limit_is_refused(void **state) {
    (void)state;
    assert_true(load(""));
    assert_true(option("from", "0N 0E"));
    static const char *const places[] = {"0N 90E", "0N 180E", "0N 90W",
                                         "0N 0E"};
    for (int i = 0; i < 4; i++)
        assert_true(option("via", places[i]));
    assert_true(option("to", "0N 90E"));
    assert_true(resolve());
    assert_true(option("via", "0N 90E"));
    /* 5 x 5,409.7 + 82 degrees of the line: 60.1078 nmi each: 31,977 */
    assert_true(request_option(&request, "via", "0N 172E", &arena, &error));
    struct request longer = request;
    longer.to = (struct position){0.0, 172.1};
    assert_true(request_resolve(&longer, false, &arena, &error));
    longer.to = (struct position){0.0, 173.0};
    assert_false(request_resolve(&longer, false, &arena, &error));
    assert_int_equal(error.status, STATUS_INPUT);
    assert_contains(error.text,
                    "nmi, and more than 32000 nmi are not planned; look at the "
                    "letters N, S, E and W of its places");
}

static void names_have_a_limit(void **state) {
    (void)state;
    char name[REQUEST_NAME_BYTES + 16];
    memset(name, 'x', REQUEST_NAME_BYTES + 1);
    name[REQUEST_NAME_BYTES + 1] = '\0';
    assert_true(load(""));
    assert_true(option("name", name + 1));
    assert_int_equal(strlen(request.name), REQUEST_NAME_BYTES);
    assert_true(load(""));
    assert_false(option("name", name));
    assert_string_equal(error.text, "a name of 121 bytes for '--name'; give "
                                    "one of 120 at most");
    assert_int_equal(error.status, STATUS_USAGE);
    strcat(name, " 1N 1W");
    assert_true(option("fallback", name + 1));
    assert_false(option("fallback", name));
    assert_contains(error.text, "a name of 121 bytes for '--fallback'");
}

/* Limits upside down: a gust is more than the wind. */
static void a_gust_limit_below_that_of_the_wind_is_refused(void **state) {
    (void)state;
    assert_true(load("max_wind = 25\nmax_gust = 24.9\n"));
    assert_false(resolve());
    assert_string_equal(error.text,
                        "max_gust, 24.9 kn, is below max_wind, 25 kn; a gust "
                        "is more than the wind: exchange them, or raise "
                        "max_gust");
    assert_int_equal(error.status, STATUS_INPUT);
    assert_true(load("max_wind = 25\nmax_gust = 25\n"));
    assert_true(resolve());
}

#define TEST(name)                                                             \
    cmocka_unit_test_setup_teardown(name, scratch_begin, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(a_passage_file_is_read),
        TEST(what_is_left_out_has_its_default),
        TEST(an_option_wins_over_the_file),
        TEST(lists_start_anew_with_their_first_option),
        TEST(other_options_are_given_once),
        TEST(faults_of_the_file_are_told_with_their_line),
        TEST(faults_of_options_are_told_as_options),
        TEST(the_weather_after_the_forecast_is_chosen),
        TEST(land_and_zones_are_read),
        TEST(several_eases_keep_their_order),
        TEST(what_changes_nothing_is_accepted),
        TEST(a_crew_needs_names_and_watches),
        TEST(what_is_missing_is_named),
        TEST(a_place_twice_in_a_row_is_no_way),
        TEST(a_track_needs_neither_places_nor_time),
        TEST(times_do_not_depend_on_the_machines_zone),
        TEST(a_time_without_a_zone_is_utc_and_flagged),
        TEST(now_is_the_clock_and_can_be_held),
        TEST(lists_have_a_limit),
        TEST(names_have_a_limit),
        TEST(a_gust_limit_below_that_of_the_wind_is_refused),
        TEST(a_way_longer_than_the_limit_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
