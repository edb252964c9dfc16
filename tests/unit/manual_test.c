#include "../support/check.h"
#include "../support/scratch.h"

#include "base/text.h"
#include "boat/boat_keys.h"
#include "command/manual.h"
#include "command/options.h"
#include "plan/request.h"
#include <stdlib.h>
#include <string.h>

static struct error error;
static char *made; /* by manual_print() */

static int begin(void **state) {
    scratch_begin(state);
    made = NULL;
    return 0;
}

static int finish(void **state) {
    free(made);
    return scratch_end(state);
}

static bool print(const char *text) {
    size_t size;
    free(made);
    FILE *stream = open_memstream(&made, &size);
    assert_non_null(stream);
    bool good = manual_print(arena_copy(&arena, text), stream, &error);
    assert_int_equal(fclose(stream), 0);
    return good;
}

static void print_page(const char *name) {
    char *text = text_load(
        &arena, arena_print(&arena, "docs/pages/%s.in", name), 1 << 20, &error);
    if (!text || !print(text))
        fail_msg("%s: %s", name, error.text);
}

/* Does the line begin the text, as far as both go? */
static bool begins(const char *line, const char *text) {
    size_t length = strcspn(line, "\n");
    if (strlen(text) < length)
        length = strlen(text);
    return length > 0 && strncmp(line, text, length) == 0;
}

/* `first` somewhere in the page, and `then` from the line after it on. Two
 * commands may have options of one name. */
static void assert_item(const char *first, const char *then) {
    const char *at = made;
    while ((at = strstr(at, first))) {
        at += strlen(first);
        const char *next = at[-1] == '\n' ? at : at + strcspn(at, "\n") + 1;
        if (begins(next, then))
            return;
    }
    fail_msg("'%s' is not told after '%s'", then, first);
}

static void the_program_s_page_has_every_option(void **state) {
    (void)state;
    print_page("sparwise.1");
    for (size_t i = 0; i < request_keys.count; i++) {
        const struct key *key = &request_keys.keys[i];
        const char *name = request_option_name(key, &arena);
        if (name)
            assert_item(arena_print(&arena, "\n.It Fl Fl %s%s", name,
                                    option_is_switch(key) ? "\n" : " Ar \""),
                        key->help);
    }
    for (size_t i = 0; i < own_option_count; i++)
        assert_item(arena_print(&arena, "\n.It Fl Fl %s%s", own_options[i].name,
                                own_options[i].word ? " Ar \"" : "\n"),
                    own_options[i].help);
}

static void the_program_s_page_has_every_command(void **state) {
    (void)state;
    print_page("sparwise.1");
    for (size_t i = 0; i < COMMAND_COUNT; i++) {
        assert_item(arena_print(&arena, "\n.It Cm %s\n", commands[i].name),
                    commands[i].summary);
        if (commands[i].run)
            assert_contains(made,
                            arena_print(&arena, "\n.Nm sparwise\n.Cm %s\n",
                                        commands[i].name));
    }
}

static void the_program_s_page_has_every_exit_status(void **state) {
    (void)state;
    static const enum status statuses[] = {
        STATUS_DONE,    STATUS_NO_ROUTE, STATUS_USAGE, STATUS_INPUT,
        STATUS_OUTSIDE, STATUS_WRITE,    STATUS_BUG,   STATUS_RESOURCE};
    print_page("sparwise.1");
    for (size_t i = 0; i < sizeof statuses / sizeof *statuses; i++)
        assert_contains(
            made, arena_print(&arena, "\n.It %u\n", (unsigned)statuses[i]));
}

/* Under the head of its own section, before the next. */
static void assert_keys(const struct key_table *table) {
    for (size_t i = 0; i < table->count; i++) {
        const struct key *key = &table->keys[i];
        const char *head =
            strstr(made, arena_print(&arena, "\n.Ss [%s]\\&\n", key->section));
        if (!head)
            fail_msg("no section [%s]", key->section);
        const char *next = strstr(head + 1, "\n.Ss ");
        const char *item =
            strstr(head, arena_print(&arena, "\n.It Cm %s\n", key->name));
        if (!item || (next && item > next))
            fail_msg("no %s in [%s]", key->name, key->section);
    }
}

static void the_pages_of_the_files_have_every_key(void **state) {
    (void)state;
    print_page("sparwise-passage.5");
    assert_keys(&request_keys);
    print_page("sparwise-boat.5");
    assert_keys(&boat_keys);
    assert_keys(&headsail_keys);
    assert_keys(&reef_keys);
    assert_contains(made, "\n.It Cm max_wave_m\n"
                          "greatest significant wave height to go forward in "
                          "(0.1 to 30 m, default 2.5)\n");
}

static void the_same_text_stands_in_help_and_page(void **state) {
    (void)state;
    assert_true(print("before\n@options plan@\nafter"));
    assert_contains(made, "before\n.Bl -tag -width Ds\n.It Fl Fl boat Ar "
                          "\"BOAT.ini\"\nthe boat file (required)\n");
    assert_contains(made, ".It Fl Fl max-wind Ar \"KN\"\n"
                          "most true wind to sail in (1 to 100 kn)\n");
    assert_contains(made, ".El\nafter\n");
    assert_true(print("@options forecast@"));
    assert_contains(made, ".It Fl Fl depart Ar \"TIME\"\n");
    assert_null(strstr(made, "max-wind"));
}

static void lines_fit_the_width(void **state) {
    (void)state;
    static const char *const pages[] = {"sparwise.1", "sparwise-boat.5",
                                        "sparwise-passage.5"};
    for (size_t i = 0; i < sizeof pages / sizeof *pages; i++) {
        print_page(pages[i]);
        for (const char *line = made; *line; line += strcspn(line, "\n") + 1)
            assert_true(strcspn(line, "\n") <= 80);
    }
}

static void a_mark_that_stands_for_nothing_is_refused(void **state) {
    (void)state;
    static const char *const marks[] = {"@keys boots@", "@options sail@",
                                        "@synopsis", "@everything@", "@keys@"};
    for (size_t i = 0; i < sizeof marks / sizeof *marks; i++) {
        assert_false(print(marks[i]));
        assert_int_equal(error.status, STATUS_INPUT);
        assert_contains(error.text, marks[i]);
    }
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, finish)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(the_program_s_page_has_every_option),
        TEST(the_program_s_page_has_every_command),
        TEST(the_program_s_page_has_every_exit_status),
        TEST(the_pages_of_the_files_have_every_key),
        TEST(the_same_text_stands_in_help_and_page),
        TEST(lines_fit_the_width),
        TEST(a_mark_that_stands_for_nothing_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
