/* Windows of departures by the program: known times of arrival, its forms read
 * by jq, the same bytes whatever the threads, many runs put together. */
#include "../support/check.h"
#include "../support/grib_maker.h"
#include "../support/planned.h"
#include "../support/scratch.h"

#include "base/arena.h"
#include "base/units.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* --- two winds ------------------------------------------------------------ */

/* 5 kn in 10 kn of wind, 7 kn in 20, on all courses; invented. */
static const char boat_text[] = "[boat]\n"
                                "name = Two speeds\n"
                                "length_waterline_m = 10\n"
                                "beam_m = 3\n"
                                "draft_m = 1.5\n"
                                "displacement_kg = 6000\n"
                                "[polars]\n"
                                "stowed = two.csv\n"
                                "spar = two.csv\n"
                                "[spar]\n"
                                "length_m = 2 5\n";

static const char polar_text[] = "two speeds,10,20\n"
                                 "0,5,7\n"
                                 "180,5,7\n";

/* North wind over two degrees of the equator: 10 kn to 12 h after the run of 1
 * June 2026, 20 kn from 18 h to 36 h. */
static const char *forecast(void) {
    const char *path = arena_print(&arena, "%s/two.grib2", check_folder());
    struct grib_bytes bytes = {.bytes = NULL};
    for (int lead = 0; lead <= 36; lead += 6) {
        struct grib_spec spec = {.run = {2026, 6, 1, 0, 0, 0},
                                 .lead = lead,
                                 .category = 2,
                                 .first_lat = 1.0,
                                 .first_lon = 334.0,
                                 .last_lat = -1.0,
                                 .last_lon = 336.0};
        grib_add_wind(&bytes, &spec, 0.0, kn_to_mps(lead < 18 ? -10.0 : -20.0));
    }
    grib_save(&bytes, path);
    grib_free(&bytes);
    return path;
}

/* Half a degree along the equator, to the east. */
static const char *two_winds(void) {
    check_write("two.csv", polar_text);
    return check_write(
        "two.ini",
        arena_print(&arena,
                    "[passage]\nname = Two winds\nboat = %s\nforecast = %s\n"
                    "from = 0 N 25 15 W\nto = 0 N 24 45 W\nease = 0\n"
                    "coast = none\nearliest = 2026-06-01T00:00Z\n"
                    "latest = 2026-06-03T00:00Z\nevery = 24\n",
                    check_write("two.ini.boat", boat_text), forecast()));
}

/* A minute of the equator is 1855.325 m (6378137 m x 2 pi / 21600), so 30 of
 * them are 30.054 nmi: 6.0108 h at 5 kn, and 4.2934 h at 7 kn. The third
 * departure is after the last step of the wind. */
static void times_follow_from_the_polar(void **state) {
    (void)state;
    struct ran ran = check_shell(arena_print(
        &arena,
        "$SPARWISE window '%s' --quiet --json | jq -r '.best, (.departures[] | "
        "[.depart, .summary.elapsed_h, .failure.status] | @csv)'",
        two_winds()));
    double first_h, second_h;
    assert_int_equal(
        sscanf(ran.out,
               "2026-06-02T00:00:00Z\n\"2026-06-01T00:00:00Z\",%lf,\n"
               "\"2026-06-02T00:00:00Z\",%lf,\n",
               &first_h, &second_h),
        2);
    assert_near(first_h, 6.0108, 0.0060);
    assert_near(second_h, 4.2934, 0.0043);
    assert_contains(ran.out, "\n\"2026-06-03T00:00:00Z\",,4\n");
}

static void one_that_fails_is_a_line_among_good_ones(void **state) {
    (void)state;
    struct ran ran = check_run(arena_print(&arena, "window '%s'", two_winds()));
    assert_int_equal(ran.status, 0);
    assert_string_equal(ran.err, "");
    assert_contains(ran.out, "\n  01 Jun 00:00 01 06:00 night   6.0 ");
    assert_contains(ran.out, "\n* 02 Jun 00:00 02 04:15 night   4.3 ");
    assert_contains(ran.out, "\n  03 Jun 00:00 the departure 03 Jun 00:00 is "
                             "not before the last ");
    assert_contains(ran.out, "NO LAND CHECK");
    assert_contains(ran.out,
                    "Beside the next best, Mon 1 Jun 00:00 UTC, which costs "
                    "1.7 h more: 1.7 h less");
}

/* --- forms ---------------------------------------------------------------- */

/* The coastal hop cut to 6 nmi, over an invented forecast; with a coast, so
 * that the ways over open water are shared. */
static const char hop[] =
    "window grib-samples/coastal-hop.ini --to '39 12 N 9 48 W' --earliest "
    "2026-06-20T22:00Z --latest 2026-06-21T10:00Z --every 4 --quiet";

/* 28 nmi of it: long enough for fronts of many labels. */
static const char longer_hop[] =
    "window grib-samples/coastal-hop.ini --to '38 50 N 9 48 W' --earliest "
    "2026-06-21T00:00Z --latest 2026-06-21T10:00Z --every 5 --quiet";

static const char *line_of(const char *options) {
    return arena_print(&arena, "%s %s", hop, options);
}

static void jq_reads_the_document_and_the_lines_alike(void **state) {
    (void)state;
    struct ran document = check_shell(arena_print(
        &arena, "$SPARWISE %s | jq -cS '.departures[]'", line_of("--json")));
    /* lines with the head of the document taken off */
    struct ran lines = check_shell(arena_print(
        &arena,
        "$SPARWISE %s | jq -cS 'del(.sparwise, .format, .name, .from, .to, "
        ".boat, .ease, .forecast_run, .forecast_start, .forecast_end)'",
        line_of("--jsonl")));
    assert_string_equal(document.out, lines.out);
    struct ran kinds = check_shell(arena_print(
        &arena,
        "$SPARWISE %s | jq -c '[.boat, .forecast_run, .depart, (.summary | "
        "type), (.failure | type), (keys | length)]'",
        line_of("--jsonl")));
    assert_string_equal(
        kinds.out,
        "[\"Heron 9\",\"2026-06-21T00:00:00Z\",\"2026-06-20T22:00:00Z\","
        "\"null\",\"object\",19]\n"
        "[\"Heron 9\",\"2026-06-21T00:00:00Z\",\"2026-06-21T02:00:00Z\","
        "\"object\",\"null\",19]\n"
        "[\"Heron 9\",\"2026-06-21T00:00:00Z\",\"2026-06-21T06:00:00Z\","
        "\"object\",\"null\",19]\n"
        "[\"Heron 9\",\"2026-06-21T00:00:00Z\",\"2026-06-21T10:00:00Z\","
        "\"object\",\"null\",19]\n");
}

/* Every row has as many cells as the heading; jq makes the costs of the lines
 * out of it. The failure is quoted, and without quotes of its own. */
static void the_csv_has_the_figures_of_the_document(void **state) {
    (void)state;
    struct ran cells = check_shell(arena_print(
        &arena,
        "$SPARWISE %s | sed 's/\".*\"/x/' | awk -F, '{ print NF }' | "
        "sort -u",
        line_of("--csv")));
    assert_string_equal(cells.out, "22\n");
    struct ran csv = check_shell(arena_print(
        &arena,
        "$SPARWISE %s | jq -Rc 'split(\",\") | select(.[5] | tonumber?) | "
        "[.[0], (.[5] | tonumber), (.[17] | tonumber)]'",
        line_of("--csv")));
    struct ran json = check_shell(arena_print(
        &arena,
        "$SPARWISE %s | jq -c '.departures[] | select(.summary) | [.depart, "
        ".summary.cost_h, .summary.max_tws_kn]'",
        line_of("--json")));
    assert_string_equal(csv.out, json.out);
    assert_contains(csv.out, "[\"2026-06-21T10:00:00Z\",");
    struct ran best = check_shell(arena_print(
        &arena,
        "$SPARWISE %s | grep -c ',yes,$'; $SPARWISE %s | grep ',yes,$' | cut "
        "-d, -f1; $SPARWISE %s | jq -r .best",
        line_of("--csv"), line_of("--csv"), line_of("--json")));
    char of_csv[40], of_json[40];
    assert_int_equal(sscanf(best.out, "1 %39s %39s", of_csv, of_json), 2);
    assert_string_equal(of_csv, of_json);
}

static void it_is_the_same_whatever_the_threads(void **state) {
    (void)state;
    static const char *const forms[] = {"", "--csv", "--json", "--jsonl"};
    for (size_t i = 0; i < sizeof forms / sizeof *forms; i++) {
        struct ran one =
            check_run(arena_print(&arena, "%s --threads 1", line_of(forms[i])));
        struct ran five =
            check_run(arena_print(&arena, "%s --threads 5", line_of(forms[i])));
        assert_int_equal(one.status, 0);
        assert_string_equal(one.out, five.out);
    }
    struct ran one =
        check_run(arena_print(&arena, "%s --json --threads 1", longer_hop));
    struct ran two =
        check_run(arena_print(&arena, "%s --json --threads 2", longer_hop));
    assert_contains(one.out, "\"failure\": null");
    assert_string_equal(one.out, two.out);
}

/* A departure gives the figures of a plan of its own. */
static void a_row_has_the_figures_of_its_plan(void **state) {
    (void)state;
    struct planned plan = planned_well(
        "alone", "plan grib-samples/coastal-hop.ini --to '39 12 N 9 48 W' "
                 "--depart 2026-06-21T06:00Z --fallback 'Inlet 39 N 9 50 W'");
    struct ran own = check_shell(
        arena_print(&arena, "jq -cS .summary '%s/plan.json'", plan.folder));
    struct ran row = check_shell(arena_print(
        &arena,
        "$SPARWISE %s | jq -cS 'select(.depart == \"2026-06-21T06:00:00Z\") | "
        ".summary'",
        line_of("--jsonl")));
    assert_contains(row.out, "\"arrive\":\"2026-06-21T");
    assert_string_equal(own.out, row.out);
}

/* Where none can be planned, other programs still get the rows; people get the
 * reason. */
static void none_at_all_ends_with_the_status_of_the_first(void **state) {
    (void)state;
    struct ran rows = check_run(line_of("--max-wind 2 --jsonl"));
    assert_int_equal(rows.status, 4);
    assert_contains(rows.err, "none of 4 departures can be planned; the first: "
                              "the departure 2026-06-20T22:00:00Z is before");
    assert_contains(rows.out, "\"failure\":{\"status\":1,");
    struct ran table = check_run(line_of("--max-wind 2"));
    assert_int_equal(table.status, 4);
    assert_string_equal(table.out, "");
}

/* --- several eases -------------------------------------------------------- */

static const char eases[] = "grib-samples/coastal-hop.ini --to '39 12 N 9 48 W'"
                            " --coast none --ease 0,1,3";

static void the_plan_of_the_chosen_ease_is_written(void **state) {
    (void)state;
    struct planned middle = planned_well("eases", "plan %s", eases);
    struct planned alone = planned_well(
        "ease-1", "plan grib-samples/coastal-hop.ini --to '39 12 N 9 48 W' "
                  "--coast none --ease 1");
    assert_string_equal(middle.json_text, alone.json_text);
    assert_string_equal(middle.schedule, alone.schedule);
    assert_contains(middle.ran.out, "EASES SIDE BY SIDE\n");
    assert_contains(middle.ran.out, "Taken: 2, ease 1, balanced, the one in "
                                    "the middle");
    assert_contains(middle.ran.out, alone.schedule);
    struct planned third = planned_well("third", "plan %s --choose 3", eases);
    struct planned three = planned_well(
        "ease-3", "plan grib-samples/coastal-hop.ini --to '39 12 N 9 48 W' "
                  "--coast none --ease 3");
    assert_string_equal(third.json_text, three.json_text);
    assert_contains(third.ran.out, "Taken: 3, ease 3, for ease; its schedule");
}

static void with_json_it_is_the_chosen_plan_alone(void **state) {
    (void)state;
    struct planned third =
        planned_well("json", "plan %s --choose 3 --json --threads 1", eases);
    struct planned two =
        planned_well("json2", "plan %s --choose 3 --json --threads 2", eases);
    assert_string_equal(third.ran.out, third.json_text);
    assert_string_equal(third.json_text, two.json_text);
}

/* --- many runs ------------------------------------------------------------ */

static bool lacks(const char *program) {
    struct ran ran = check_shell(arena_print(&arena, "command -v %s", program));
    if (ran.status == 0)
        return false;
    print_message("skipped: %s is not installed\n", program);
    return true;
}

/* As docs/many-runs.md does it, on two jobs of this machine: the window cut
 * into two, the lines put together in order of time. */
static void parallel_jobs_give_the_lines_of_one_run(void **state) {
    (void)state;
    if (lacks("parallel"))
        skip();
    const char *passage = two_winds();
    struct ran one = check_run(arena_print(
        &arena,
        "window '%s' --earliest 2026-06-01T00:00Z --latest 2026-06-02T12:00Z "
        "--every 6 --jsonl",
        passage));
    assert_int_equal(one.status, 0);
    check_write("parts.csv", "2026-06-01T00:00Z,2026-06-01T18:00Z\n"
                             "2026-06-02T00:00Z,2026-06-02T12:00Z\n");
    struct ran many = check_shell(arena_print(
        &arena,
        "parallel --will-cite --jobs 2 --colsep , $SPARWISE window %s --every "
        "6 --jsonl --threads 1 --quiet --earliest {1} --latest {2} "
        ":::: '%s/parts.csv' | jq -sc 'sort_by(.depart)[]'",
        passage, check_folder()));
    assert_int_equal(many.status, 0);
    struct ran alike = check_shell(
        arena_print(&arena, "jq -c . '%s'", check_write("one.jsonl", one.out)));
    assert_string_equal(alike.out, many.out);
    assert_contains(many.out, "\"depart\":\"2026-06-02T12:00:00Z\"");
}

#define TEST(name)                                                             \
    cmocka_unit_test_setup_teardown(name, scratch_begin, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(times_follow_from_the_polar),
        TEST(one_that_fails_is_a_line_among_good_ones),
        TEST(jq_reads_the_document_and_the_lines_alike),
        TEST(the_csv_has_the_figures_of_the_document),
        TEST(it_is_the_same_whatever_the_threads),
        TEST(a_row_has_the_figures_of_its_plan),
        TEST(none_at_all_ends_with_the_status_of_the_first),
        TEST(the_plan_of_the_chosen_ease_is_written),
        TEST(with_json_it_is_the_chosen_plan_alone),
        TEST(parallel_jobs_give_the_lines_of_one_run),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
