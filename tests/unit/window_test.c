/* Departures of a window, their order by cost, and its table. */
#include "../support/check.h"
#include "../support/flat.h"
#include "../support/scratch.h"

#include "report/window_report.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct error error;

/* 2026-03-10T06:00Z, date -u -d @1773122400. */
#define DEPART_S 1773122400

enum { ROWS = 5 };

static struct request request;
static struct many_row rows[ROWS];
static struct window window;

/* Five departures, six hours apart: cost 110, 108, none, 108 and 112 h. */
static int begin(void **state) {
    scratch_begin(state);
    memset(rows, 0, sizeof rows);
    static const double cost_h[ROWS] = {110.0, 108.0, 0.0, 108.0, 112.0};
    request = (struct request){.every_s = 21600.0};
    for (size_t i = 0; i < ROWS; i++) {
        struct plan *plan = &rows[i].plan;
        rows[i].planned = true;
        plan->name = "Hand made";
        plan->boat_name = "Plank";
        plan->depart = (struct instant){DEPART_S + (int64_t)i * 21600};
        plan->forecast_run = (struct instant){DEPART_S - 21600};
        plan->forecast_end = (struct instant){DEPART_S + 10 * 86400};
        plan->ease = 1.0;
        plan->coast.name = "no real coast";
        plan->summary = (struct plan_summary){
            .reached = true,
            .arrive = instant_plus(plan->depart, 100.0 * 3600.0),
            .elapsed_s = 100.0 * 3600.0,
            .cost_s = cost_h[i] * 3600.0,
            .discomfort_s = (cost_h[i] - 100.0) * 3600.0,
            .deck_work = 3,
            .night_deck_work = 2,
            .spar_s = 40.0 * 3600.0,
            .roll_mean_deg = 3.26,
            .roll_easy_s = 0.02 * 3600.0,
            .max_tws_mps = kn_to_mps(17.6)};
    }
    rows[1].plan.summary.night_deck_work = 0;
    rows[1].plan.summary.deck_work = 1;
    rows[1].plan.summary.spar_s = 71.0 * 3600.0;
    rows[2].planned = false;
    error_set(&rows[2].error, STATUS_NO_ROUTE,
              "no route inside the forecast: closed by max_wind, 25 kn; raise "
              "it or depart at another time");
    window = (struct window){.request = &request, .rows = rows, .count = ROWS};
    window_rank(&window, &arena);
    return 0;
}

/* --- the departures ------------------------------------------------------- */

static bool count_of(const char *earliest, const char *latest, double every_h,
                     size_t *count) {
    bool zone;
    request = (struct request){.path = "p.ini", .every_s = every_h * 3600.0};
    request.depart_text = "2026-03-10T06:00Z";
    request.earliest_text = earliest;
    request.latest_text = latest;
    instant_parse(request.depart_text, &request.depart, &zone);
    if (earliest)
        instant_parse(earliest, &request.earliest, &zone);
    if (latest)
        instant_parse(latest, &request.latest, &zone);
    return window_count(&request, count, &arena, &error);
}

static void the_last_departure_is_not_after_the_latest(void **state) {
    (void)state;
    size_t count;
    assert_true(count_of(NULL, "2026-03-11T06:00Z", 6.0, &count));
    assert_int_equal(count, 5);
    assert_int_equal(request.depart.unix_s, DEPART_S);
    assert_true(count_of(NULL, "2026-03-11T05:59Z", 6.0, &count));
    assert_int_equal(count, 4);
    assert_true(count_of(NULL, "2026-03-10T06:00Z", 6.0, &count));
    assert_int_equal(count, 1);
    /* a step that no binary fraction is */
    assert_true(count_of(NULL, "2026-03-10T07:00Z", 0.1, &count));
    assert_int_equal(count, 11);
}

static void the_earliest_goes_before_the_departure(void **state) {
    (void)state;
    size_t count;
    assert_true(
        count_of("2026-03-09T06:00Z", "2026-03-10T06:00Z", 12.0, &count));
    assert_int_equal(count, 3);
    assert_int_equal(request.depart.unix_s, DEPART_S - 86400);
}

static void a_window_that_is_none_is_told(void **state) {
    (void)state;
    size_t count;
    assert_false(count_of(NULL, NULL, 6.0, &count));
    assert_contains(error.text,
                    "p.ini: key 'latest' is missing from [passage]");
    assert_false(count_of(NULL, "2026-03-10T05:59Z", 6.0, &count));
    assert_contains(error.text, "is before the earliest, '2026-03-10T06:00Z'");
    assert_int_equal(error.status, STATUS_INPUT);
    assert_true(count_of(NULL, "2026-06-07T21:00Z", 2.2, &count));
    assert_true(count <= WINDOW_DEPARTURES);
    assert_false(count_of(NULL, "2026-04-21T00:00Z", 1.0, &count));
    assert_contains(error.text, "the window has 1003 departures, and 1000 is "
                                "the most");
    request.depart_text = NULL;
    assert_false(window_count(&request, &count, &arena, &error));
    assert_contains(error.text, "key 'earliest' is missing from [passage]");
}

/* --- the order ------------------------------------------------------------ */

static void
those_that_arrive_are_ranked_the_earlier_of_two_alike_first(void **state) {
    (void)state;
    static const size_t expected[] = {1, 3, 0, 4};
    assert_int_equal(window.ranked_count, 4);
    for (size_t i = 0; i < 4; i++)
        assert_int_equal(window.ranked[i], expected[i]);
    rows[1].plan.summary.reached = false; /* cheap, but only half the way */
    window_rank(&window, &arena);
    assert_int_equal(window.ranked_count, 3);
    assert_int_equal(window.ranked[0], 3);
}

static void where_none_can_be_planned_the_first_says_why(void **state) {
    (void)state;
    assert_true(window_check(&window, &error));
    for (size_t i = 0; i < ROWS; i++) {
        rows[i].planned = false;
        error_set(&rows[i].error, STATUS_OUTSIDE + (i > 0), "cause %zu", i);
    }
    assert_false(window_check(&window, &error));
    assert_string_equal(
        error.text, "none of 5 departures can be planned; the first: cause 0");
    assert_int_equal(error.status, STATUS_OUTSIDE);
    window.count = 1;
    assert_false(window_check(&window, &error));
    assert_string_equal(error.text, "cause 0");
}

/* --- the table ------------------------------------------------------------ */

static char *table(void) {
    char *text = NULL;
    size_t size = 0;
    FILE *stream = open_memstream(&text, &size);
    assert_true(window_write(&window, stream, &error));
    fclose(stream);
    char *kept = arena_copy(&arena, text);
    free(text);
    return kept;
}

/* At 0 N 0 E on 14 March 10:00 to 12:00 it is day; 16:00 to 20:00 ends in the
 * dark (sunset about 18:13, as in daylight_test.c). */
static void a_line_for_each_departure_the_best_with_a_star(void **state) {
    (void)state;
    assert_contains(
        table(),
        "Hand made: when to depart\n"
        "  Boat        Plank\n"
        "  Departures  5, from Tue 10 Mar 2026 06:00 UTC to Wed 11 Mar 2026 "
        "06:00 UTC,\n"
        "              every 6 h\n"
        "  Forecast    run of Tue 10 Mar 2026 00:00 UTC; its wind ends Fri 20 "
        "Mar 2026\n"
        "              06:00 UTC\n"
        "  Coast       no real coast\n"
        "\n"
        "  passage                            crew            deck            "
        "doubt\n"
        "  depart       arrive   light  time  rest roll over  work spar beat  "
        "guess wind gust  sea\n"
        "  UTC          UTC                h     h  deg    h   d/n    h    h  "
        "    h   kn   kn    m\n"
        "  10 Mar 06:00 14 08-12 day   100.0  <0.1  3.3    0   1/2   40    0  "
        "    0   18    -    -\n"
        "* 10 Mar 12:00 14 16-20 part  100.0  <0.1  3.3    0   1/0   71    0  "
        "    0   18    -    -\n"
        "  10 Mar 18:00 no route inside the forecast: closed by max_wind, 25 "
        "kn\n"
        "  11 Mar 00:00 15 04-08 part  100.0  <0.1  3.3    0   1/2   40    0  "
        "    0   18    -    -\n"
        "  11 Mar 06:00 15 08-12 day   100.0  <0.1  3.3    0   1/2   40    0  "
        "    0   18    -    -\n");
}

static void under_it_stands_what_makes_the_best_better(void **state) {
    (void)state;
    char *text = table();
    flatten(text);
    assert_contains(
        text,
        " * Best by cost (time, roll and deck work as ease 1 weighs them): "
        "depart Tue 10 Mar 12:00 UTC, cost 108.0 h. "
        "Beside the next best, Wed 11 Mar 00:00 UTC, which costs 0 h more: 31 "
        "h more under spar, no deck work at night (2 there). "
        "Beside the middle one of all, Tue 10 Mar 06:00 UTC, which costs 2.0 h "
        "more (roll +2.0 h): 31 h more under spar, no deck work at night (2 "
        "there). ");
    rows[0].plan.summary.discomfort_s = 9.5 * 3600.0;
    rows[0].plan.summary.hardship_s = 0.5 * 3600.0;
    text = table();
    flatten(text);
    assert_contains(text, "which costs 2.0 h more (roll +1.5 h, deck work +0.5 "
                          "h): 31 h more under spar");
    for (size_t i = 0; i < ROWS; i++)
        rows[i].plan.ease = 0.0;
    text = table();
    flatten(text);
    assert_contains(text, "Best by cost (time alone, as ease 0 asks): depart");
}

/* Of three members from the first to the last; nine tell 10 and 90 %. */
static void members_have_a_column_where_there_are_any(void **state) {
    (void)state;
    assert_null(strstr(table(), "span"));
    rows[1].members = (struct quantiles){
        .count = 3, .earliest_s = 95.0 * 3600.0, .latest_s = 102.5 * 3600.0};
    const char *text = table();
    assert_contains(text, " guess span wind ");
    assert_contains(text, "7.5");
    assert_contains(text, "span: of the arrivals");
    rows[1].members.count = 9;
    rows[1].members.tenth_s = figure_of(96.0 * 3600.0);
    rows[1].members.ninetieth_s = figure_of(101.0 * 3600.0);
    assert_contains(table(), "5.0");
}

static void the_engine_has_a_column_where_there_is_one(void **state) {
    (void)state;
    assert_null(strstr(table(), "motor"));
    rows[4].plan.summary.motor_s = figure_of(5.5 * 3600.0);
    char *text = table();
    assert_contains(text, " spar motor beat ");
    assert_contains(text, "  40   5.5    0 ");
    assert_contains(text, "  40     -    0 ");
    flatten(text);
    assert_contains(text, "motor: hours under engine");
}

static void what_does_not_arrive_is_a_line_of_words(void **state) {
    (void)state;
    rows[0].plan.summary.reached = false;
    assert_contains(table(),
                    "\n  10 Mar 06:00 not reached: the forecast ends on "
                    "the way\n");
    for (size_t i = 0; i < ROWS; i++)
        rows[i].plan.summary.reached = false;
    window_rank(&window, &arena);
    char *text = table();
    assert_contains(text, "\nNone of them reaches the finish.\n");
    assert_null(strstr(text, "\n*"));
}

/* By ship's time, too, and to the minute however far on. */
static void times_in_words_are_those_of_the_columns(void **state) {
    (void)state;
    error_set(&rows[2].error, STATUS_OUTSIDE,
              "the departure 2026-03-10T18:00:00Z is not before the last step "
              "of the wind, 2026-03-20T06:10:00Z, of 2026-03 (25 kn); wait");
    char *text = table();
    flatten(text);
    assert_contains(text, " 10 Mar 18:00 the departure 10 Mar 18:00 is not "
                          "before the last step of the wind, 20 Mar 06:10, of "
                          "2026-03 (25 kn) ");
    rows[2].plan.display.zone_s = 3.0 * 3600.0;
    text = table();
    flatten(text);
    assert_contains(text, " 10 Mar 21:00 the departure 10 Mar 21:00 is not "
                          "before the last step of the wind, 20 Mar 09:10, of");
}

static void without_a_coast_it_says_so(void **state) {
    (void)state;
    for (size_t i = 0; i < ROWS; i++)
        rows[i].plan.coast.name = NULL;
    assert_contains(table(), "NO LAND CHECK");
}

static void times_are_those_of_the_ship(void **state) {
    (void)state;
    for (size_t i = 0; i < ROWS; i++)
        rows[i].plan.display.zone_s = -7200.0;
    char *text = table();
    assert_contains(text, "  ship's       ship's ");
    assert_contains(text, "\n  10 Mar 04:00 14 08-12 ");
    flatten(text);
    assert_contains(text, "): depart Tue 10 Mar 10:00 UTC-2, cost ");
}

static void no_line_is_wider_than_a_terminal(void **state) {
    (void)state;
    rows[0].plan.summary.motor_s = figure_of(5.5 * 3600.0);
    rows[0].plan.summary.elapsed_s = 999.9 * 3600.0;
    rows[0].members = (struct quantiles){
        .count = 3, .earliest_s = 95.0 * 3600.0, .latest_s = 102.5 * 3600.0};
    for (char *line = table(); *line;) {
        size_t length = strcspn(line, "\n");
        assert_true(length <= 100);
        line += length + (line[length] == '\n');
    }
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(the_last_departure_is_not_after_the_latest),
        TEST(the_earliest_goes_before_the_departure),
        TEST(a_window_that_is_none_is_told),
        TEST(those_that_arrive_are_ranked_the_earlier_of_two_alike_first),
        TEST(where_none_can_be_planned_the_first_says_why),
        TEST(a_line_for_each_departure_the_best_with_a_star),
        TEST(under_it_stands_what_makes_the_best_better),
        TEST(members_have_a_column_where_there_are_any),
        TEST(the_engine_has_a_column_where_there_is_one),
        TEST(what_does_not_arrive_is_a_line_of_words),
        TEST(times_in_words_are_those_of_the_columns),
        TEST(without_a_coast_it_says_so),
        TEST(times_are_those_of_the_ship),
        TEST(no_line_is_wider_than_a_terminal),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
