/* What `spread` prints, from figures made by hand. */
#include "../support/check.h"
#include "../support/plan_example.h"
#include "../support/scratch.h"

#include "base/units.h"
#include "report/spread_report.h"
#include <jansson.h>
#include <stdlib.h>
#include <string.h>

enum { MEMBERS = 12, WORKS = 3 };

static struct plan_example example;
static struct spread_row rows[MEMBERS];
static struct spread_seen seen[MEMBERS][WORKS];
static struct spread_work works[WORKS];
static struct spread spread;
static char *text;
static json_t *root;

/* Members arrive an hour apart, from 40 h after departure on. */
static void make_row(size_t i) {
    struct spread_way way = {.arrives = true,
                             .elapsed_s = hours_to_s(40.0 + (double)i),
                             .gust_mps =
                                 figure_of(kn_to_mps(20.0 + (double)i))};
    rows[i] = (struct spread_row){
        .member = {i == 0 ? SPREAD_CONTROL : SPREAD_NUMBERED, (int)i},
        .track = way,
        .own = way,
        .seen = seen[i]};
    for (int k = 0; k < WORKS; k++)
        seen[i][k] =
            (struct spread_seen){.done = true,
                                 .done_s = hours_to_s(10.0 * k + 1.0),
                                 .inside_margin = i < 7,
                                 .inside_limits = i < 9,
                                 .own = true,
                                 .own_s = hours_to_s(10.0 * k + (double)i)};
}

static int begin(void **state) {
    size_t count = 0;
    scratch_begin(state);
    plan_example_make(&example);
    for (size_t i = 0; i < MEMBERS; i++)
        make_row(i);
    for (size_t i = 0; i < PLAN_EXAMPLE_CHANGES; i++)
        if (example.changes[i].deck_work && count < WORKS)
            works[count++] =
                (struct spread_work){.change = &example.changes[i]};
    assert_int_equal(count, WORKS);
    spread = (struct spread){.plan = &example.plan,
                             .used = {SPREAD_CONTROL, 0},
                             .rows = rows,
                             .count = MEMBERS,
                             .works = works,
                             .work_count = WORKS};
    return 0;
}

static int finish(void **state) {
    free(text);
    text = NULL;
    json_decref(root);
    root = NULL;
    return scratch_end(state);
}

static void write_it(bool json) {
    size_t size = 0;
    struct error error;
    free(text);
    spread_sum_up(&spread, &arena);
    FILE *stream = open_memstream(&text, &size);
    assert_non_null(stream);
    assert_true(json ? spread_json_write(&spread, stream, &error)
                     : spread_write(&spread, stream, &error));
    fclose(stream);
}

/* The line that starts so. */
static const char *line_of(const char *start) {
    const char *at = strstr(text, start);
    if (!at)
        fail_msg("no line '%s' in: %s", start, text);
    return arena_print(&arena, "%.*s", (int)strcspn(at, "\n"), at);
}

static void lines_are_narrow_and_plain(void **state) {
    (void)state;
    rows[3].track.arrives = rows[5].track.arrives = false;
    rows[3].track.why = rows[5].track.why = "too little wind";
    write_it(false);
    int lines = 0;
    for (const char *line = text; *line; line = strchr(line, '\n') + 1) {
        assert_true(strcspn(line, "\n") <= 80);
        lines++;
    }
    assert_true(lines <= 32); /* a screen */
    for (const char *byte = text; *byte; byte++)
        assert_true(*byte == '\n' || (*byte >= ' ' && *byte <= '~'));
}

/* Of 12 members the k-th is that of k / 13: 10 % lies at 1.3, 50 % at 6.5 and
 * 90 % at 11.7, which is 40.3, 45.5 and 50.7 h after departure; 40 h and 51 h
 * are the ends. Known to the quarter for 48 h, then to the hour. */
static void times_of_arrival_stand_in_their_order(void **state) {
    (void)state;
    bool zone;
    example.plan.display.zone_s = 0.0;
    instant_parse("2026-03-10T06:00Z", &example.plan.depart, &zone);
    write_it(false);
    assert_string_equal(line_of("  this plan's track"),
                        "  this plan's track  11 22:00  11 22:15  12 03:30  "
                        "12 09h    12 09h    12 of 12");
    assert_contains(text, "ARRIVAL, day and time UTC\n");
}

static void deck_work_is_named_with_its_counts(void **state) {
    (void)state;
    write_it(false);
    assert_contains(text, " set, spar ");
    assert_contains(text, " gybe, spar ");
    assert_contains(text, " stow the spar ");
    assert_contains(text, "12      7      9\n");
    assert_contains(text, "made with the control;");
    assert_contains(text, "  Members     the control, 1 to 11\n");
}

static void few_members_are_marked(void **state) {
    (void)state;
    for (size_t i = 0; i < 8; i++)
        seen[i][0].own = false;
    write_it(false);
    assert_contains(text, "*: fewer than 9 members tell no 10 and 90 %");
    assert_contains(text, " 4      7      9\n");
    for (size_t i = 8; i < MEMBERS; i++)
        seen[i][0].own = false;
    write_it(false);
    assert_contains(text, " -         -         -          0 ");
}

/* Entries that are wrapped become one line again. */
static void join_lines(void) {
    char *to = text;
    for (const char *from = text; *from; from++) {
        bool wrapped = strncmp(from, "\n              ", 15) == 0;
        if (wrapped)
            from += 14;
        *to++ = wrapped ? ' ' : *from;
    }
    *to = '\0';
}

static void nobody_is_dropped_in_silence(void **state) {
    (void)state;
    rows[0].track.arrives = rows[4].track.arrives = false;
    rows[0].track.why = rows[4].track.why = "too little wind";
    rows[6].own.arrives = false;
    rows[6].own.why = "no route inside the forecast: closed by max_gust, 25 kn";
    rows[7].track.broken = rows[9].track.broken = OBSTACLE_GUST;
    rows[2].track.beyond_s = 3600.0;
    rows[11].track.gust_estimated = true;
    write_it(false);
    join_lines();
    assert_contains(line_of("  this plan's track"), "10 of 12");
    assert_contains(line_of("  each its own best"), "11 of 12");
    assert_contains(text, "  Not sailed  this plan's track, in 2 of 12 members "
                          "(the control, 4): stopped");
    assert_contains(text, "  No route    in 1 of 12 members (6): no route");
    assert_contains(text, "  Limits      this plan's track breaks a limit of "
                          "yours in 2 of 12 members (7, 9);");
    assert_contains(text, "  A guess     in 1 of 12 members (2) this plan's");
    assert_contains(text, "on this plan's track 31 kn (estimated), member 11;");
}

static void unknown_is_said(void **state) {
    (void)state;
    for (size_t i = 0; i < MEMBERS; i++)
        rows[i].own.gust_mps = figure_unknown();
    example.changes[0].earliest_known = false;
    write_it(false);
    assert_contains(text, "bests not known\n");
    assert_contains(text, "12      -      9\n");
}

static json_t *get(const char *a, const char *b, const char *c) {
    json_t *value = json_object_get(root, a);
    if (b)
        value = json_object_get(value, b);
    return c ? json_object_get(value, c) : value;
}

static void the_document_has_its_keys(void **state) {
    (void)state;
    rows[4].track.arrives = false;
    rows[4].track.why = "too little wind";
    rows[7].track.broken = OBSTACLE_GUST;
    write_it(true);
    root = json_loads(text, JSON_REJECT_DUPLICATES, NULL);
    assert_non_null(root);
    assert_int_equal(json_integer_value(get("spread_format", NULL, NULL)), 1);
    assert_null(get("format", NULL, NULL)); /* it is no plan.json */
    assert_int_equal(json_integer_value(get("members", NULL, NULL)), MEMBERS);
    assert_string_equal(json_string_value(get("plan", "member", "kind")),
                        "control");
    assert_int_equal(json_integer_value(get("track", "arrive", "members")), 11);
    assert_int_equal(json_integer_value(get("track", "break_a_limit", NULL)),
                     1);
    assert_int_equal(json_integer_value(get("own", "arrive", "members")), 12);
    assert_near(json_number_value(get("own", "worst_gust_kn", NULL)), 31.0,
                0.01);
    json_t *list = get("rows", NULL, NULL);
    assert_int_equal(json_array_size(list), MEMBERS);
    json_t *track = json_object_get(json_array_get(list, 4), "track");
    assert_true(json_is_null(json_object_get(track, "arrive")));
    assert_string_equal(json_string_value(json_object_get(track, "why_not")),
                        "too little wind");
    track = json_object_get(json_array_get(list, 7), "track");
    assert_string_equal(json_string_value(json_object_get(track, "breaks")),
                        "max_gust");
    assert_near(json_number_value(json_object_get(track, "elapsed_h")), 47.0,
                1e-9);
    json_t *work = json_array_get(get("deck_work", NULL, NULL), 0);
    assert_string_equal(json_string_value(json_object_get(work, "change")),
                        "set");
    assert_int_equal(json_integer_value(json_object_get(work, "inside_margin")),
                     7);
    assert_int_equal(json_integer_value(json_object_get(work, "inside_limits")),
                     9);
}

#define A_TEST(name) cmocka_unit_test_setup_teardown(name, begin, finish)

int main(void) {
    const struct CMUnitTest tests[] = {
        A_TEST(lines_are_narrow_and_plain),
        A_TEST(times_of_arrival_stand_in_their_order),
        A_TEST(deck_work_is_named_with_its_counts),
        A_TEST(few_members_are_marked),
        A_TEST(nobody_is_dropped_in_silence),
        A_TEST(unknown_is_said),
        A_TEST(the_document_has_its_keys),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
