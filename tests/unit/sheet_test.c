#include "../support/check.h"

#include "report/sheet.h"
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static char *text;
static size_t size;
static FILE *stream;

static int begin(void **state) {
    (void)state;
    stream = open_memstream(&text, &size);
    return stream ? 0 : -1;
}

static int finish(void **state) {
    (void)state;
    fclose(stream);
    free(text);
    return 0;
}

static const char *written(void) {
    fflush(stream);
    return text;
}

static void an_entry_is_wrapped_under_itself(void **state) {
    (void)state;
    sheet_entry(stream, "Label", "%s %d",
                "one two three four five six seven eight nine ten eleven "
                "twelve thirteen",
                14);
    assert_string_equal(
        written(),
        "  Label       one two three four five six seven eight nine ten eleven "
        "twelve\n"
        "              thirteen 14\n");
}

static void a_word_longer_than_the_line_is_cut(void **state) {
    (void)state;
    char word[201] = "";
    memset(word, 'x', 200);
    sheet_paragraph(stream, 4, 2, word);
    const char *line = written();
    assert_int_equal(strcspn(line, "\n"), SHEET_WIDTH);
    line += SHEET_WIDTH + 1;
    assert_int_equal(strcspn(line, "\n"), SHEET_WIDTH);
    assert_int_equal(strspn(line, " "), 6);
    line += SHEET_WIDTH + 1;
    assert_int_equal(strcspn(line, "\n"), 6 + 200 - 76 - 74);
}

static void a_line_that_just_fits_stays_whole(void **state) {
    (void)state;
    char words[82] = "";
    memset(words, 'x', 80);
    words[40] = ' ';
    sheet_paragraph(stream, 0, 0, words);
    assert_int_equal(strcspn(written(), "\n"), 80);
    words[80] = 'x';
    sheet_paragraph(stream, 0, 0, words);
    assert_int_equal(strcspn(written() + 81, "\n"), 40);
}

static void an_item_hangs_under_its_text(void **state) {
    (void)state;
    sheet_item(stream, "-",
               "one two three four five six seven eight nine ten eleven twelve "
               "thirteen fourteen");
    assert_string_equal(written(),
                        "  -  one two three four five six seven eight nine ten "
                        "eleven twelve thirteen\n"
                        "     fourteen\n");
}

static void headings_stand_after_an_empty_line(void **state) {
    (void)state;
    sheet_heading(stream, "NEXT %d", 1);
    sheet_paragraph(stream, 2, 0, "");
    assert_string_equal(written(), "\nNEXT 1\n  \n");
}

/* For the page: markup is ours, signs of markup in texts are escaped, letters
 * outside ASCII stay. Other streams have lines all the while. */
static void one_stream_may_be_html(void **state) {
    (void)state;
    char *other = NULL;
    size_t other_size = 0;
    FILE *lines = open_memstream(&other, &other_size);
    assert_non_null(lines);
    sheet_as_html(stream);
    sheet_heading(stream, "NEXT <%d>", 1);
    sheet_entry(stream, "A&B", "S\xC3\xA3o <b>");
    sheet_item(stream, "-", "\"item\"");
    sheet_paragraph(stream, 2, 4, "text");
    sheet_entry(lines, "A&B", "<b>");
    sheet_as_html(NULL);
    sheet_paragraph(stream, 2, 4, "line");
    fclose(lines);
    assert_string_equal(written(),
                        "<h3>NEXT &lt;1&gt;</h3>\n"
                        "<p class=\"entry\"><b>A&amp;B</b> <span>S\xC3\xA3o "
                        "&lt;b&gt;</span></p>\n"
                        "<p class=\"item\"><b>-</b> "
                        "<span>&quot;item&quot;</span></p>\n"
                        "<p>text</p>\n"
                        "  line\n");
    assert_string_equal(other, "  A&B         <b>\n");
    free(other);
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, finish)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(an_entry_is_wrapped_under_itself),
        TEST(a_word_longer_than_the_line_is_cut),
        TEST(a_line_that_just_fits_stays_whole),
        TEST(an_item_hangs_under_its_text),
        TEST(headings_stand_after_an_empty_line),
        TEST(one_stream_may_be_html),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
