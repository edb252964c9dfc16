/* The three files of a plan, for each of the samples, read by others: GPX by
 * its schema, gpsbabel and GDAL; JSON by jansson, key by key and sum by sum;
 * the schedule as a text of 80 columns. */
#include "../support/check.h"
#include "../support/gpx_schema.h"
#include "../support/one_screen.h"
#include "../support/planned.h"
#include "../support/scratch.h"
#include "../support/side_words.h"
#include "../support/unit_words.h"

#include "exchange/gpx.h"
#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

static const char *const names[] = {"trade-crossing", "coastal-hop",
                                    "dateline-hop"};
enum { SAMPLES = sizeof names / sizeof names[0] };

static struct planned samples[SAMPLES];
static struct gpx routes[SAMPLES];

static const char *route_path(int sample) {
    static char path[4300];
    snprintf(path, sizeof path, "%s/route.gpx", samples[sample].folder);
    return path;
}

static int begin(void **state) {
    struct error error;
    scratch_begin(state);
    for (int i = 0; i < SAMPLES; i++) {
        samples[i] =
            planned_well(names[i], "plan grib-samples/%s.ini", names[i]);
        if (!gpx_load(&routes[i], route_path(i), &arena, &error))
            fail_msg("%s", error.text);
    }
    return 0;
}

static const json_t *part(int sample, const char *key) {
    const json_t *value = json_object_get(samples[sample].json, key);
    assert_non_null(value);
    return value;
}

static double number(const json_t *object, const char *key) {
    const json_t *value = json_object_get(object, key);
    if (!json_is_number(value))
        fail_msg("%s is no number", key);
    return json_number_value(value);
}

static double time_s(const json_t *object, const char *key) {
    return planned_time_s(json_object_get(object, key));
}

static const char *text(const json_t *object, const char *key) {
    const char *value = json_string_value(json_object_get(object, key));
    if (!value)
        fail_msg("%s is no text", key);
    return value;
}

static bool flag(const json_t *object, const char *key) {
    const json_t *value = json_object_get(object, key);
    assert_true(json_is_boolean(value));
    return json_is_true(value);
}

/* --- route.gpx -------------------------------------------------------------*/

static void the_route_is_valid_by_the_schema(void **state) {
    (void)state;
    if (!gpx_schema())
        skip();
    for (int i = 0; i < SAMPLES; i++) {
        struct ran ran = gpx_schema_validate(route_path(i));
        if (ran.status != 0)
            fail_msg("%s", ran.err);
    }
}

static bool lacks(const char *program) {
    char line[100];
    snprintf(line, sizeof line, "command -v %s", program);
    if (check_shell(line).status == 0)
        return false;
    print_message("skipped: no program %s\n", program);
    return true;
}

static size_t lines_with(const char *text_, const char *mark) {
    size_t count = 0;
    for (const char *at = strstr(text_, mark); at; at = strstr(at + 1, mark))
        count++;
    return count;
}

static void gpsbabel_reads_every_point(void **state) {
    (void)state;
    char line[9000];
    if (lacks("gpsbabel"))
        skip();
    for (int i = 0; i < SAMPLES; i++) {
        snprintf(line, sizeof line,
                 "gpsbabel -r -t -i gpx -f '%s' -o gpx,gpxver=1.1 -F -",
                 route_path(i));
        struct ran ran = check_shell(line);
        assert_int_equal(ran.status, 0);
        assert_string_equal(ran.err, "");
        assert_int_equal(lines_with(ran.out, "<rtept "),
                         routes[i].routes[0].count);
        assert_int_equal(lines_with(ran.out, "<trkpt "),
                         routes[i].tracks[0].count);
        for (size_t k = 0; k < routes[i].routes[0].count; k++) {
            snprintf(line, sizeof line, "<name>%s</name>",
                     routes[i].routes[0].points[k].name);
            assert_contains(ran.out, line);
        }
    }
}

/* With no word of ours in the file changes may fall anywhere, and the best
 * places are those of the plan. */
static void saved_by_gpsbabel_it_still_arrives_as_planned(void **state) {
    (void)state;
    char line[9000], name[100];
    if (lacks("gpsbabel"))
        skip();
    const char *saved = check_write("saved.gpx", "");
    for (int i = 0; i < SAMPLES; i++) {
        snprintf(line, sizeof line,
                 "gpsbabel -r -i gpx -f '%s' -o gpx,gpxver=1.1 -F '%s'",
                 route_path(i), saved);
        assert_int_equal(check_shell(line).status, 0);
        snprintf(name, sizeof name, "%s-saved", names[i]);
        struct planned again = planned_well(
            name, "along '%s' grib-samples/%s.ini", saved, names[i]);
        assert_near(planned_figure(&again, "elapsed_h") /
                        planned_figure(&samples[i], "elapsed_h"),
                    1.0, 0.001);
        assert_near(planned_figure(&again, "cost_h") /
                        planned_figure(&samples[i], "cost_h"),
                    1.0, 0.001);
    }
}

static void gdal_reads_every_point(void **state) {
    (void)state;
    char line[9000], count[100];
    if (lacks("ogrinfo"))
        skip();
    for (int i = 0; i < SAMPLES; i++) {
        snprintf(line, sizeof line, "ogrinfo -ro -so '%s' route_points",
                 route_path(i));
        struct ran ran = check_shell(line);
        snprintf(count, sizeof count, "Feature Count: %zu\n",
                 routes[i].routes[0].count);
        assert_int_equal(ran.status, 0);
        assert_contains(ran.out, count);
        snprintf(line, sizeof line, "ogrinfo -ro -so '%s' track_points",
                 route_path(i));
        ran = check_shell(line);
        snprintf(count, sizeof count, "Feature Count: %zu\n",
                 routes[i].tracks[0].count);
        assert_contains(ran.out, count);
    }
}

/* Receivers cut names and know few signs: short, A-Z and 0-9, and unique. */
static void names_are_short_plain_and_unique(void **state) {
    (void)state;
    for (int i = 0; i < SAMPLES; i++) {
        const struct gpx_line *route = &routes[i].routes[0];
        assert_in_range(route->count, 2, 50 + 10);
        for (size_t k = 0; k < route->count; k++) {
            const char *name = route->points[k].name;
            assert_in_range(strlen(name), 1, 7);
            assert_int_equal(strspn(name, "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
                                          "0123456789"),
                             strlen(name));
            for (size_t other = 0; other < k; other++)
                assert_string_not_equal(name, route->points[other].name);
        }
    }
}

/* Ends the test where there is none. */
static struct gpx_point point_of(int sample, const char *prefix, double at_s) {
    const struct gpx_line *route = &routes[sample].routes[0];
    for (size_t k = 0; k < route->count; k++) {
        const struct gpx_point *point = &route->points[k];
        if (strncmp(point->name, prefix, strlen(prefix)) == 0 &&
            fabs((double)point->time.unix_s - at_s) < 0.5)
            return *point;
    }
    fail_msg("%s has no point %s", names[sample], prefix);
    return route->points[0];
}

/* "SET", "GYBE", "STOW", or "MAIN" for a single preventer. */
static const char *prefix_of(const char *change) {
    static const char *const prefixes[][2] = {{"set", "SET"},
                                              {"gybe", "GYBE"},
                                              {"spar_across", "CROSS"},
                                              {"stow", "STOW"},
                                              {"mainsail_gybe", "MAIN"}};
    for (size_t i = 0; i < sizeof prefixes / sizeof prefixes[0]; i++)
        if (strcmp(change, prefixes[i][0]) == 0)
            return prefixes[i][1];
    fail_msg("'%s' is no deck work", change);
    return NULL;
}

/* Done as soon as hands are free from the one before: the route has its point
 * where the whole begins, so that it is the same route when it is read again.
 */
static bool is_second_part(const json_t *changes, size_t index) {
    const json_t *first = json_array_get(changes, index - 1);
    double free_s = time_s(first, "at") + 60.0 * number(first, "minutes");
    return fabs(time_s(json_array_get(changes, index), "at") - free_s) <= 1.0;
}

static void all_deck_work_has_a_point_of_its_own(void **state) {
    (void)state;
    size_t works = 0;
    for (int i = 0; i < SAMPLES; i++) {
        const json_t *changes = part(i, "changes");
        for (size_t k = 0; k < json_array_size(changes); k++) {
            const json_t *change = json_array_get(changes, k);
            if (!flag(change, "deck_work"))
                continue;
            bool second = k > 0 && is_second_part(changes, k);
            const json_t *first = json_array_get(changes, k - second);
            /* one from the cockpit has no point of its own */
            bool shared = second && !flag(first, "deck_work");
            struct gpx_point point =
                point_of(i, prefix_of(text(change, "change")),
                         time_s(shared ? first : change, "at"));
            const json_t *place = json_object_get(first, "position");
            assert_near(point.position.lat_deg, number(place, "lat"), 1e-6);
            assert_near(point.position.lon_deg, number(place, "lon"), 1e-6);
            assert_string_equal(point.symbol, "Flag");
            works++;
        }
    }
    assert_true(works >= 5);
}

static void times_rise_from_departure_to_arrival(void **state) {
    (void)state;
    for (int i = 0; i < SAMPLES; i++) {
        const struct gpx_line *lines[] = {&routes[i].routes[0],
                                          &routes[i].tracks[0]};
        double depart = time_s(part(i, "passage"), "depart");
        for (int which = 0; which < 2; which++) {
            const struct gpx_line *line = lines[which];
            const struct gpx_point *last = &line->points[line->count - 1];
            assert_near((double)line->points[0].time.unix_s, depart, 0.0);
            assert_near((double)last->time.unix_s,
                        planned_arrive_s(&samples[i]), 0.0);
            for (size_t k = 0; k < line->count; k++)
                assert_true(line->points[k].timed);
            for (size_t k = 1; k < line->count; k++)
                assert_true(line->points[k].time.unix_s >
                            line->points[k - 1].time.unix_s);
        }
    }
}

/* --- plan.json -------------------------------------------------------------*/

/* Exactly these keys, blanks between. */
static void has_keys(const json_t *object, const char *keys) {
    char copy[1000];
    size_t count = 0;
    assert_true(strlen(keys) < sizeof copy);
    strcpy(copy, keys);
    for (char *key = strtok(copy, " "); key; key = strtok(NULL, " ")) {
        if (!json_object_get(object, key))
            fail_msg("no key %s", key);
        count++;
    }
    assert_int_equal(json_object_size(object), count);
}

static void the_json_has_all_its_keys(void **state) {
    (void)state;
    for (int i = 0; i < SAMPLES; i++) {
        has_keys(samples[i].json, "sparwise format passage summary legs "
                                  "changes isochrones warnings land zones "
                                  "previous");
        has_keys(part(i, "passage"),
                 "name from to depart forecast_start forecast_end");
        has_keys(part(i, "summary"),
                 "arrive elapsed_h distance_nmi great_circle_nmi cost_h "
                 "discomfort_h spar_h wing_h poled_reach_h motor_h "
                 "motor_litres upwind_h "
                 "night_deck_work roll_mean_deg roll_over_limit_h max_tws_kn "
                 "max_gust_kn max_wave_m beyond_forecast_h "
                 "elapsed_without_spar_h kept_gybes_cost_h");
        const json_t *legs = part(i, "legs"), *changes = part(i, "changes");
        for (size_t k = 0; k < json_array_size(legs); k++)
            has_keys(json_array_get(legs, k),
                     "start end from to course_deg distance_nmi spar rolled "
                     "mode tws_kn twd_deg twa_deg aws_kn awa_deg stw_kn sog_kn "
                     "gust_kn wave_m wave_period_s wave_from_deg roll_deg "
                     "night_h motor_h beyond_forecast sun_altitude_deg "
                     "moon_altitude_deg moon_lit_frac pace_part wait_h");
        for (size_t k = 0; k < json_array_size(changes); k++)
            has_keys(json_array_get(changes, k),
                     "change deck_work at position from_state to_state minutes "
                     "earliest latest light trust gust_kn roll_deg "
                     "pole_length_m headsail why lee_nmi sure_earliest "
                     "sure_latest skip_cost_h skip_later_h skip_roll_deg "
                     "sun_altitude_deg moon_altitude_deg moon_lit_frac");
        assert_int_equal(number(samples[i].json, "format"), 1);
    }
}

static void same_place(const json_t *a, const json_t *b) {
    assert_near(number(a, "lat"), number(b, "lat"), 1e-9);
    assert_near(number(a, "lon"), number(b, "lon"), 1e-9);
}

static void legs_join_from_start_to_finish(void **state) {
    (void)state;
    for (int i = 0; i < SAMPLES; i++) {
        const json_t *legs = part(i, "legs"), *passage = part(i, "passage");
        size_t count = json_array_size(legs);
        const json_t *first = json_array_get(legs, 0);
        const json_t *last = json_array_get(legs, count - 1);
        assert_near(time_s(first, "start"), time_s(passage, "depart"), 0.0);
        assert_near(time_s(last, "end"), planned_arrive_s(&samples[i]), 0.0);
        same_place(json_object_get(first, "from"),
                   json_object_get(passage, "from"));
        same_place(json_object_get(last, "to"), json_object_get(passage, "to"));
        for (size_t k = 1; k < count; k++) {
            const json_t *before = json_array_get(legs, k - 1);
            const json_t *leg = json_array_get(legs, k);
            assert_near(time_s(leg, "start"), time_s(before, "end"), 0.0);
            same_place(json_object_get(leg, "from"),
                       json_object_get(before, "to"));
        }
    }
}

static double leg_h(const json_t *leg) {
    return (time_s(leg, "end") - time_s(leg, "start")) / 3600.0;
}

/* Of a leg on which the headsail is told to draw: how long it was rolled all
 * the same, from the cockpit, because the spar could not. */
static double rolled_h(const json_t *changes, const json_t *leg) {
    double start_s = time_s(leg, "start"), end_s = time_s(leg, "end");
    double from_s = HUGE_VAL, hours = 0.0;
    for (size_t i = 0; i < json_array_size(changes); i++) {
        const json_t *change = json_array_get(changes, i);
        double at_s = time_s(change, "at");
        if (strcmp(text(change, "change"), "roll") == 0)
            from_s = at_s;
        if (strcmp(text(change, "change"), "unroll") != 0)
            continue;
        hours += fmax(0.0, fmin(at_s, end_s) - fmax(from_s, start_s)) / 3600.0;
        from_s = HUGE_VAL;
    }
    return json_is_true(json_object_get(leg, "rolled")) ? 0.0 : hours;
}

static void the_sums_of_the_legs_are_those_of_the_summary(void **state) {
    (void)state;
    for (int i = 0; i < SAMPLES; i++) {
        const json_t *legs = part(i, "legs"), *changes = part(i, "changes");
        size_t count = json_array_size(legs);
        double hours = 0.0, miles = 0.0, spar = 0.0, wing = 0.0, reach = 0.0;
        double square = 0.0, wave = 0.0;
        for (size_t k = 0; k < count; k++) {
            const json_t *leg = json_array_get(legs, k);
            const char *mode = text(leg, "mode");
            double roll = number(leg, "roll_deg");
            hours += leg_h(leg);
            miles += number(leg, "distance_nmi");
            spar += strcmp(text(leg, "spar"), "stowed") ? leg_h(leg) : 0.0;
            double drawn = leg_h(leg) - rolled_h(changes, leg);
            wing += strcmp(mode, "wing") == 0 ? drawn : 0.0;
            reach += strcmp(mode, "poled_reach") == 0 ? drawn : 0.0;
            square += leg_h(leg) * roll * roll;
            wave = fmax(wave, number(leg, "wave_m"));
            assert_near(number(leg, "sog_kn") * leg_h(leg),
                        number(leg, "distance_nmi"), 0.01 * leg_h(leg) + 0.01);
        }
        const struct planned *plan = &samples[i];
        assert_near(hours, planned_figure(plan, "elapsed_h"), 0.0003);
        assert_near(miles, planned_figure(plan, "distance_nmi"),
                    0.0006 * (double)count);
        assert_near(spar, planned_figure(plan, "spar_h"), 0.02);
        assert_near(wing, planned_figure(plan, "wing_h"), 0.02);
        assert_near(reach, planned_figure(plan, "poled_reach_h"), 0.02);
        assert_near(sqrt(square / hours), planned_figure(plan, "roll_mean_deg"),
                    0.02);
        assert_near(wave, planned_figure(plan, "max_wave_m"), 0.0);
        assert_true(miles >= planned_figure(plan, "great_circle_nmi") - 0.001);
    }
}

static void the_cost_is_time_discomfort_and_hardship(void **state) {
    (void)state;
    for (int i = 0; i < SAMPLES; i++) {
        const json_t *changes = part(i, "changes");
        const struct planned *plan = &samples[i];
        int at_night = 0;
        for (size_t k = 0; k < json_array_size(changes); k++) {
            const json_t *change = json_array_get(changes, k);
            at_night += flag(change, "deck_work") &&
                        strcmp(text(change, "light"), "night") == 0;
        }
        assert_near(planned_figure(plan, "cost_h"),
                    planned_figure(plan, "elapsed_h") +
                        planned_figure(plan, "discomfort_h") +
                        planned_hardship_h(plan),
                    0.001);
        assert_int_equal(at_night, planned_figure(plan, "night_deck_work"));
    }
}

/* From stowed to stowed, each change begins where the last one ended. */
static void deck_states_follow_each_other(void **state) {
    (void)state;
    for (int i = 0; i < SAMPLES; i++) {
        const json_t *changes = part(i, "changes");
        size_t count = json_array_size(changes);
        for (size_t k = 1; k < count; k++) {
            const json_t *before = json_array_get(changes, k - 1);
            const json_t *change = json_array_get(changes, k);
            assert_true(time_s(change, "at") >= time_s(before, "at"));
            assert_string_equal(text(change, "from_state"),
                                text(before, "to_state"));
        }
        if (count == 0)
            continue;
        assert_memory_equal(text(json_array_get(changes, 0), "from_state"),
                            "stowed", 6);
        assert_memory_equal(
            text(json_array_get(changes, count - 1), "to_state"), "stowed", 6);
    }
}

static void isochrones_rise_and_stand_on_earth(void **state) {
    (void)state;
    for (int i = 0; i < SAMPLES; i++) {
        const json_t *isochrones = part(i, "isochrones");
        double last = 0.0;
        assert_true(json_array_size(isochrones) > 0);
        for (size_t k = 0; k < json_array_size(isochrones); k++) {
            const json_t *front = json_array_get(isochrones, k);
            const json_t *points = json_object_get(front, "points");
            assert_true(time_s(front, "at") > last);
            last = time_s(front, "at");
            for (size_t p = 0; p < json_array_size(points); p++) {
                const json_t *pair = json_array_get(points, p);
                double lon = json_number_value(json_array_get(pair, 0));
                double lat = json_number_value(json_array_get(pair, 1));
                assert_true(lon >= -180.0 && lon < 180.0);
                assert_true(fabs(lat) <= 90.0);
            }
        }
    }
}

/* --- schedule.txt and all three --------------------------------------------*/

static void the_schedule_is_ascii_of_80_columns(void **state) {
    (void)state;
    for (int i = 0; i < SAMPLES; i++) {
        int width = 0;
        assert_true(strlen(samples[i].schedule) > 2000);
        for (const char *at = samples[i].schedule; *at; at++) {
            assert_true(*at == '\n' || (*at >= ' ' && *at <= '~'));
            width = *at == '\n' ? 0 : width + 1;
            if (width > 80)
                fail_msg("%s: too wide at '%.40s'", names[i], at - 79);
        }
        assert_string_equal(samples[i].schedule, samples[i].ran.out);
    }
}

static void every_number_has_its_unit(void **state) {
    (void)state;
    for (int i = 0; i < SAMPLES; i++)
        check_unit_words(samples[i].schedule);
}

static void what_the_watch_reads_fits_one_screen(void **state) {
    (void)state;
    for (int i = 0; i < SAMPLES; i++)
        check_one_screen(samples[i].schedule);
}

static void port_never_stands_alone(void **state) {
    (void)state;
    for (int i = 0; i < SAMPLES; i++) {
        check_side_words(samples[i].schedule);
        const struct gpx_line *route = &routes[i].routes[0];
        for (size_t k = 0; k < route->count; k++)
            check_side_words(route->points[k].description);
    }
}

/* "-0", "-0.00": a minus, then no other digit than 0. */
static bool is_minus_zero(const char *text_, const char *at) {
    if (*at != '-' || !isdigit((unsigned char)at[1]) ||
        (at > text_ && isalnum((unsigned char)at[-1])))
        return false;
    size_t zeros = strspn(at + 1, "0.");
    return !isdigit((unsigned char)at[1 + zeros]);
}

static bool is_word(const char *text_, const char *at, const char *word) {
    size_t length = strlen(word);
    for (size_t i = 0; i < length; i++)
        if (tolower((unsigned char)at[i]) != word[i])
            return false;
    return (at == text_ || !isalpha((unsigned char)at[-1])) &&
           !isalpha((unsigned char)at[length]);
}

static void no_odd_numbers(const char *text_) {
    for (const char *at = text_; *at; at++)
        if (is_minus_zero(text_, at) || is_word(text_, at, "nan") ||
            is_word(text_, at, "inf"))
            fail_msg("an odd number at '%.40s'", at);
}

static void no_file_holds_a_minus_zero_nor_a_number_that_is_none(void **state) {
    (void)state;
    static const char odd[] = "-0.00 -0.5 2026-00 -0";
    assert_true(is_minus_zero(odd, odd));
    assert_false(is_minus_zero(odd, odd + 6));
    assert_false(is_minus_zero(odd, odd + 15));
    assert_true(is_minus_zero(odd, odd + 19));
    for (int i = 0; i < SAMPLES; i++) {
        no_odd_numbers(samples[i].schedule);
        no_odd_numbers(samples[i].gpx);
        no_odd_numbers(samples[i].json_text);
    }
}

static void the_schedule_names_all_deck_work_and_the_cautions(void **state) {
    (void)state;
    for (int i = 0; i < SAMPLES; i++) {
        const struct gpx_line *route = &routes[i].routes[0];
        const char *schedule = samples[i].schedule;
        for (size_t k = 0; k + 1 < route->count; k++)
            assert_contains(schedule, route->points[k].name);
        bool land = strstr(schedule, "The coast check sees shorelines only");
        assert_true(land || strstr(schedule, "LAND IS NOT CHECKED"));
        assert_contains(schedule, "the skipper decides");
        assert_contains(schedule, "(invented)");
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_route_is_valid_by_the_schema),
        cmocka_unit_test(gpsbabel_reads_every_point),
        cmocka_unit_test(saved_by_gpsbabel_it_still_arrives_as_planned),
        cmocka_unit_test(gdal_reads_every_point),
        cmocka_unit_test(names_are_short_plain_and_unique),
        cmocka_unit_test(all_deck_work_has_a_point_of_its_own),
        cmocka_unit_test(times_rise_from_departure_to_arrival),
        cmocka_unit_test(the_json_has_all_its_keys),
        cmocka_unit_test(legs_join_from_start_to_finish),
        cmocka_unit_test(the_sums_of_the_legs_are_those_of_the_summary),
        cmocka_unit_test(the_cost_is_time_discomfort_and_hardship),
        cmocka_unit_test(deck_states_follow_each_other),
        cmocka_unit_test(isochrones_rise_and_stand_on_earth),
        cmocka_unit_test(the_schedule_is_ascii_of_80_columns),
        cmocka_unit_test(every_number_has_its_unit),
        cmocka_unit_test(what_the_watch_reads_fits_one_screen),
        cmocka_unit_test(port_never_stands_alone),
        cmocka_unit_test(no_file_holds_a_minus_zero_nor_a_number_that_is_none),
        cmocka_unit_test(the_schedule_names_all_deck_work_and_the_cautions),
    };
    return cmocka_run_group_tests(tests, begin, scratch_end);
}
