/* Listings: breaking at blanks, and names that come out of files. */
#include "../support/check.h"

#include "report/listing.h"
#include <stdlib.h>
#include <string.h>

static char *text;
static size_t size;

static int tear_down(void **state) {
    (void)state;
    free(text);
    text = NULL;
    return 0;
}

static FILE *begin(void) {
    FILE *memory = open_memstream(&text, &size);
    assert_non_null(memory);
    return memory;
}

static const char *const forty = "0123456789012345678901234567890123456789";

/* A mark and a blank, 37 characters, a blank and 40: 80 columns. */
static void an_entry_is_broken_at_the_80th_column(void **state) {
    (void)state;
    char expected[200];
    FILE *memory = begin();
    listing_item(memory, "%.37s %s next", forty, forty);
    fclose(memory);
    snprintf(expected, sizeof expected, "* %.37s %s\n  next\n", forty, forty);
    assert_string_equal(text, expected);
}

static void one_more_goes_to_the_next_line(void **state) {
    (void)state;
    char expected[200];
    FILE *memory = begin();
    listing_item(memory, "%.38s %s next", forty, forty);
    fclose(memory);
    snprintf(expected, sizeof expected, "* %.38s\n  %s next\n", forty, forty);
    assert_string_equal(text, expected);
}

static void plain_text_has_no_mark_and_no_indent(void **state) {
    (void)state;
    char expected[200];
    FILE *memory = begin();
    listing_text(memory, "%s %s two", forty, forty);
    fclose(memory);
    snprintf(expected, sizeof expected, "%s\n%s two\n", forty, forty);
    assert_string_equal(text, expected);
}

static void names_can_t_command_a_terminal(void **state) {
    (void)state;
    FILE *memory = begin();
    listing_name(memory, "Tern\x1b[2J\x7f");
    listing_item(memory, "a %s", "\tjib");
    fclose(memory);
    assert_string_equal(text, "Tern?[2J?* a ?jib\n");
}

static void headings_are_underlined(void **state) {
    (void)state;
    FILE *memory = begin();
    listing_heading(memory, "Length");
    fclose(memory);
    assert_string_equal(text, "\nLength\n------\n");
}

#define TEST(f) cmocka_unit_test_teardown(f, tear_down)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(an_entry_is_broken_at_the_80th_column),
        TEST(one_more_goes_to_the_next_line),
        TEST(plain_text_has_no_mark_and_no_indent),
        TEST(names_can_t_command_a_terminal),
        TEST(headings_are_underlined),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
