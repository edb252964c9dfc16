/* Several eases beside one another. */
#include "../support/check.h"
#include "../support/scratch.h"

#include "report/eases_report.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct eases eases;

/* 2026-03-10T06:00Z, date -u -d @1773122400. */
#define DEPART_S 1773122400

static struct request asked(size_t count, const double *list) {
    struct request request = {.ease_count = count};
    for (size_t i = 0; i < count; i++)
        request.eases[i] = list[i];
    return request;
}

static void put(size_t index, double ease, double elapsed_h) {
    struct many_row *row = &eases.rows[index];
    *row = (struct many_row){.planned = true};
    row->plan.depart = (struct instant){DEPART_S};
    row->plan.ease = ease;
    row->plan.summary = (struct plan_summary){
        .reached = true,
        .arrive = instant_plus(row->plan.depart, elapsed_h * 3600.0),
        .elapsed_s = elapsed_h * 3600.0,
        .distance_m = 100.0 * METRES_PER_NMI,
        .roll_mean_deg = 4.0 - ease,
        .deck_work = 3,
        .night_deck_work = ease < 1.0 ? 1 : 0};
}

static int begin(void **state) {
    scratch_begin(state);
    eases = (struct eases){.count = 3, .chosen = 1};
    put(0, 0.0, 20.0);
    put(1, 1.0, 21.5);
    put(2, 3.0, 24.0);
    return 0;
}

static char *table(void) {
    char *text = NULL;
    size_t size = 0;
    struct error error;
    FILE *stream = open_memstream(&text, &size);
    assert_true(eases_write(&eases, stream, &error));
    fclose(stream);
    char *kept = arena_copy(&arena, text);
    free(text);
    return kept;
}

static void the_middle_is_found_whatever_the_order(void **state) {
    (void)state;
    static const struct {
        size_t count;
        double list[4];
        size_t middle;
    } cases[] = {{1, {5}, 0},          {2, {0, 1}, 1},       {2, {1, 0}, 0},
                 {3, {0, 1, 3}, 1},    {3, {3, 0, 1}, 2},    {3, {1, 1, 1}, 1},
                 {4, {0, 1, 2, 3}, 2}, {4, {2, 3, 0, 1}, 0}, {3, {1, 0, 1}, 0}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct request request = asked(cases[i].count, cases[i].list);
        assert_int_equal(eases_middle(&request), cases[i].middle);
    }
}

static void an_ease_has_a_word_for_what_it_asks(void **state) {
    (void)state;
    assert_string_equal(eases_word(&eases, 0), "for speed");
    assert_string_equal(eases_word(&eases, 1), "balanced");
    assert_string_equal(eases_word(&eases, 2), "for ease");
    put(3, 2.0, 22.0);
    eases.count = 4;
    assert_string_equal(eases_word(&eases, 1), "");
    eases.count = 1;
    assert_string_equal(eases_word(&eases, 0), "");
}

static void a_column_for_each_and_words_for_the_one_taken(void **state) {
    (void)state;
    char *text = table();
    assert_contains(
        text,
        "                              1: ease 0    2: ease 1    3: ease 3\n"
        "                              for speed     balanced     for ease\n"
        "  arrive          UTC      11 Mar 02:00 11 Mar 03:30 11 Mar 06:00\n"
        "  light then                      night        night         dawn\n"
        "  under way       h                20.0         21.5         24.0\n");
    assert_contains(text, "\nTaken: 2, ease 1, balanced, the one in the middle "
                          "(--choose N takes another);\n");
    assert_contains(text,
                    "\nBeside 1, ease 0: no deck work at night (1 there), "
                    "1.0 deg less roll; but 1.5 h\n");
    assert_contains(text,
                    "\nBeside 3, ease 3: 2.5 h less under way; but 2.0 deg "
                    "more roll.\n");
    eases.by_choice = true;
    assert_contains(table(), "\nTaken: 2, ease 1, balanced; its schedule "
                             "follows.\n");
}

/* 4.0, 3.0 and 4.3 degrees of roll: that of ease 3 is for the work that it
 * saves, 4.5 h as counted against 0.4 h of discomfort. */
static void a_higher_ease_that_rolls_more_says_why(void **state) {
    (void)state;
    assert_null(strstr(table(), "rolls more"));
    eases.rows[2].plan.summary.roll_mean_deg = 4.3;
    assert_null(strstr(table(), "rolls more"));
    eases.rows[1].plan.summary.hardship_s = 4.5 * 3600.0;
    eases.rows[1].plan.summary.discomfort_s = 0.2 * 3600.0;
    eases.rows[2].plan.summary.discomfort_s = 0.6 * 3600.0;
    char *text = table();
    assert_contains(text, "\nBeside 3, ease 3: ");
    assert_contains(
        text,
        "\nEase 3 rolls more than ease 1, 4.3 deg against 3.0, to save "
        "deck work: an ease\n  weighs that, too, and 4.5 h less of it are "
        "more than 0.4 h more of discomfort.\n\n");
    /* the rest of the cost is the time's affair */
    eases.rows[1].plan.summary.hardship_s = 0.3 * 3600.0;
    assert_null(strstr(table(), "rolls more"));
    eases.rows[1].plan.summary.hardship_s = 4.5 * 3600.0;
    eases.rows[2].plan.summary.roll_mean_deg = 3.04; /* both read 3.0 */
    assert_null(strstr(table(), "rolls more"));
}

static void one_that_fails_says_why(void **state) {
    (void)state;
    eases.rows[2].planned = false;
    error_set(&eases.rows[2].error, STATUS_NO_ROUTE, "no route: that is why");
    char *text = table();
    assert_contains(text, "         20.0         21.5            -\n");
    assert_contains(text, "\nNumber 3, ease 3: no route: that is why.\n");
}

static void no_line_is_wider_than_80(void **state) {
    (void)state;
    put(3, 2.0, 22.0);
    eases.count = 4;
    for (char *line = table(); *line;) {
        size_t length = strcspn(line, "\n");
        assert_true(length <= 80);
        line += length + (line[length] == '\n');
    }
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(the_middle_is_found_whatever_the_order),
        TEST(an_ease_has_a_word_for_what_it_asks),
        TEST(a_column_for_each_and_words_for_the_one_taken),
        TEST(a_higher_ease_that_rolls_more_says_why),
        TEST(one_that_fails_says_why),
        TEST(no_line_is_wider_than_80),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
