/* What is printed of a fit: everything that was assumed, told and missed. */
#include "../support/check.h"
#include "../support/scratch.h"

#include "report/roll_seen_report.h"
#include <stdlib.h>
#include <string.h>

enum { MOST = 3 };

static struct error error;
static char *report;

static int start(void **state) {
    scratch_begin(state);
    error = (struct error){.text = ""};
    return 0;
}

static int end(void **state) {
    free(report);
    report = NULL;
    return scratch_end(state);
}

/* Reads up to MOST lines, closed by NULL, fits and prints. */
static void tell(const char *boat_path, const char *const *lines) {
    struct boat boat;
    assert_true(boat_load(&boat, boat_path, &arena, &error));
    struct roll_seen seen[MOST];
    struct roll_case cases[MOST];
    struct roll_fit_case each[MOST];
    size_t count = 0;
    for (; lines[count]; count++) {
        struct roll_seen *one = &seen[count];
        if (!roll_seen_read(one, lines[count], &arena, &error) ||
            !roll_seen_course(one, &boat, &cases[count].course, &error))
            print_error("%s\n", error.text);
        cases[count].sea = one->sea;
        cases[count].seen_rms_deg = roll_seen_rms_deg(one);
    }
    assert_string_equal(error.text, "");
    struct roll_fit fit;
    roll_fit(&fit, each, &boat.roller, cases, count);
    struct roll_sheet sheet = {&boat, seen, cases, each, count, &fit};
    size_t size = 0;
    free(report);
    FILE *memory = open_memstream(&report, &size);
    assert_non_null(memory);
    roll_seen_report(&sheet, memory);
    fclose(memory);
}

static void tell_one(const char *boat_path, const char *line) {
    const char *lines[] = {line, NULL};
    tell(boat_path, lines);
}

/* The report as one line, blanks single: for what may be wrapped anywhere. */
static const char *flat(void) {
    char *text = arena_copy(&arena, report), *to = text;
    for (const char *from = text; *from; from++) {
        bool blank = *from == ' ' || *from == '\n';
        if (!blank)
            *to++ = *from;
        else if (to > text && to[-1] != ' ')
            *to++ = ' ';
    }
    *to = '\0';
    return text;
}

/* The roll by the boat file, as told, of the first line. */
static double before_deg(void) {
    const char *number = strstr(flat(), " by the boat file");
    assert_non_null(number);
    while (number[-1] != ' ')
        number--;
    return strtod(number, NULL);
}

#define WANDERER "polars/wanderer-12.ini" /* its period is measured */
#define HERON "polars/heron-9.ini"        /* its period is estimated */

static void what_a_line_leaves_out_is_said(void **state) {
    (void)state;
    tell_one(WANDERER,
             "TWA 170, 16 kn, 2 m 7 s from 065, spar stowed: often 10");
    assert_contains(flat(), "1. TWA 170, 16 kn, 2 m 7 s from 065, spar stowed: "
                            "often 10 ");
    assert_contains(flat(),
                    "wind on the starboard side from 065, heading 255;");
    assert_contains(flat(), "neither heading nor wind direction is given: the "
                            "wind comes from 065, where the wind sea comes");
    assert_contains(flat(), "no side is given: the wind is on the starboard");
    tell_one(WANDERER, "TWA 170 port, 16 kn, 2 m 7 s, spar stowed: often 10");
    assert_contains(flat(), "no direction is given: the wind sea comes from "
                            "the wind's own");
    assert_null(strstr(report, "no side is given"));
    tell_one(WANDERER, "TWA 170 port, heading 10, 16 kn, 2 m 7 s, spar stowed: "
                       "often 10");
    assert_contains(flat(), "given without a direction, comes from the wind's "
                            "own, 200");
    tell_one(WANDERER,
             "TWA 170 port, heading 10, 16 kn, 2 m 7 s from 190, spar "
             "stowed: often 10");
    assert_null(strstr(report, "Assumed"));
}

#define ON_A_RUN "TWA 170, 16 kn, 2 m 7 s from 065, spar stowed: at times %.1f"

/* Asked for one degree more than she rolls now, which is no bound. */
static void before_after_and_seen_stand_together(void **state) {
    (void)state;
    tell_one(WANDERER, arena_print(&arena, ON_A_RUN, 10.0));
    double before = before_deg();
    tell_one(WANDERER, arena_print(&arena, ON_A_RUN, before + 1.0));
    assert_contains(
        flat(),
        arena_print(&arena,
                    "Roll degrees: at times %.1f by the boat file, at times "
                    "%.1f by the fit; seen: at times %.1f ",
                    before, before + 1.0, before + 1.0));
    assert_contains(report, "Tells       sail_roll_run_loose\n");
    assert_null(strstr(report, "Missed"));
    assert_contains(report, "\n[boat]\nsail_roll_run_loose = ");
    assert_contains(flat(), arena_print(&arena,
                                        "sail_roll_run_loose was %g; had the "
                                        "waves been a fifth lower",
                                        ROLL_SAIL_RUN_LOOSE));
    assert_contains(flat(), arena_print(&arena,
                                        "sail_roll_run_spar stays at %g: "
                                        "nothing that was seen tells it",
                                        ROLL_SAIL_RUN_SPAR));
    assert_contains(flat(), "To paste into wanderer-12.ini, in place of");
}

static void what_can_not_be_met_is_said_with_the_bound(void **state) {
    (void)state;
    tell_one(WANDERER, "TWA 178, 16 kn, 2 m 7 s, spar to windward: often 60");
    assert_contains(flat(), "the fit too little: no sail_roll_run_spar rolls "
                            "her more than often ");
    tell_one(WANDERER, "TWA 178, 16 kn, 3 m 6 s, spar to windward: often 1");
    assert_contains(flat(), "the fit too much: no sail_roll_run_spar rolls her "
                            "less than often ");
}

/* As much more as less than she rolls now: the least squares between. */
static void observations_that_differ_are_both_missed(void **state) {
    (void)state;
    tell_one(WANDERER, arena_print(&arena, ON_A_RUN, 10.0));
    double before = before_deg();
    const char *lines[] = {arena_print(&arena, ON_A_RUN, before - 1.0),
                           arena_print(&arena, ON_A_RUN, before + 1.0), NULL};
    tell(WANDERER, lines);
    assert_contains(flat(), "Missed by 1.0 degrees, the fit too much: the fit "
                            "lies between observations that do not agree");
    assert_contains(flat(),
                    "Missed by 1.0 degrees, the fit too little: the fit "
                    "lies between observations that do not agree");
}

static void what_tells_nothing_is_said(void **state) {
    (void)state;
    /* light wind, and waves that hardly move her */
    tell_one(WANDERER, "TWA 120, 4 kn, 0.1 m 20 s, spar stowed: often 10");
    assert_contains(flat(), "Tells nothing: the sails hardly change her roll "
                            "there");
    assert_contains(report, "Nothing to paste.");
    assert_null(strstr(report, "[boat]"));
    assert_null(strstr(report, "by the fit"));
    /* more than any value of the key can give */
    tell_one(WANDERER, "TWA 170, 16 kn, 2 m 7 s, spar stowed: often 50");
    assert_contains(flat(),
                    "sail_roll_run_loose stays at -0.05: no value of it "
                    "gives what was seen");
    assert_null(strstr(report, "[boat]"));
}

static void the_spar_outside_its_ranges_is_noted(void **state) {
    (void)state;
    tell_one(WANDERER, "TWA 175, 16 kn, 2 m 7 s, spar to leeward: often 6");
    assert_contains(flat(), "the spar is outside its ranges of the boat file");
    tell_one(WANDERER, "TWA 175, 16 kn, 2 m 7 s, spar to windward: often 6");
    assert_null(strstr(report, "outside its ranges"));
}

static void an_estimated_period_is_warned_of(void **state) {
    (void)state;
    tell_one(HERON, "TWA 175, 16 kn, 2 m 7 s, spar stowed: often 6");
    assert_contains(flat(), "roll period is estimated");
    tell_one(WANDERER, "TWA 175, 16 kn, 2 m 7 s, spar stowed: often 6");
    assert_null(strstr(report, "roll period is estimated"));
}

static void no_line_is_wider_than_the_sheet(void **state) {
    (void)state;
    const char *lines[] = {
        "TWA 170, wind from 065 16 kn, sea 2 m 7 s from 065, swell 1.5 m 11 s "
        "from 340, swell 1.25 m 14.5 s from 200, spar to windward: at times 14",
        "TWA 120 port, 16 kn, 2 m 7 s, spar stowed: often 30",
        "TWA 178, 16 kn, 2 m 7 s, spar stowed: often 60", NULL};
    tell(HERON, lines);
    for (const char *line = report; *line; line += strcspn(line, "\n") + 1)
        assert_true(strcspn(line, "\n") <= 80);
    for (const char *at = report; *at; at++)
        assert_true(*at == '\n' || (*at >= ' ' && *at <= '~'));
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, start, end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(what_a_line_leaves_out_is_said),
        TEST(before_after_and_seen_stand_together),
        TEST(what_can_not_be_met_is_said_with_the_bound),
        TEST(observations_that_differ_are_both_missed),
        TEST(what_tells_nothing_is_said),
        TEST(the_spar_outside_its_ranges_is_noted),
        TEST(an_estimated_period_is_warned_of),
        TEST(no_line_is_wider_than_the_sheet),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
