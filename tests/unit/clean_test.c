/* Names out of foreign files, on one line and not too long. */
#include "../support/check.h"
#include "../support/scratch.h"

#include "exchange/clean.h"
#include <stdlib.h>
#include <string.h>

static void names_are_one_line(void **state) {
    (void)state;
    assert_string_equal(clean_name(&arena, " A\n\tB \x1b[2J\xff "),
                        "A  B [2J\xEF\xBF\xBD");
    assert_string_equal(clean_name(&arena, ""), "");
}

/* C1 in UTF-8 and as a bare byte: on some terminals a control sequence begins
 * with U+009B alone (ECMA-48). Signs that turn the order of letters: Unicode
 * 15, section 23.2. */
static const struct {
    const char *text, *shown, *cleaned;
} hostile[] = {
    {"a\xC2\x9B"
     "31mb",
     "a?31mb", "a31mb"},
    {"a\x9B"
     "31mb",
     "a?31mb",
     "a\xEF\xBF\xBD"
     "31mb"},
    {"a\x1B[31mb\x7F", "a?[31mb?", "a[31mb"},
    {"12\xE2\x80\xAE"
     "34\xE2\x80\xAC",
     "12?34?", "1234"},
    {"12\xE2\x81\xA7"
     "34\xE2\x81\xA9",
     "12?34?", "1234"},
    {"\xC2\xA0\xC3\xA9\xE6\x97\xA5", "\xC2\xA0\xC3\xA9\xE6\x97\xA5",
     "\xC2\xA0\xC3\xA9\xE6\x97\xA5"},
    {"a\tb\nc", "a?b?c", "a\tb\nc"},
};

static void no_control_of_a_terminal_gets_through(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof hostile / sizeof *hostile; i++) {
        char *shown = NULL;
        size_t size;
        FILE *memory = open_memstream(&shown, &size);
        assert_non_null(memory);
        clean_print(memory, hostile[i].text, strlen(hostile[i].text));
        fclose(memory);
        assert_string_equal(shown, hostile[i].shown);
        assert_string_equal(clean_text(&arena, hostile[i].text),
                            hostile[i].cleaned);
        free(shown);
    }
}

/* 120 bytes, and one more. */
static void a_name_is_cut_at_the_limit(void **state) {
    (void)state;
    char text[200];
    memset(text, 'x', sizeof text);
    text[CLEAN_NAME_BYTES] = '\0';
    assert_string_equal(clean_name(&arena, text), text);
    text[CLEAN_NAME_BYTES] = 'x';
    text[CLEAN_NAME_BYTES + 1] = '\0';
    const char *cut = clean_name(&arena, text);
    assert_int_equal(strlen(cut), CLEAN_NAME_BYTES);
    assert_string_equal(cut + CLEAN_NAME_BYTES - 4, "x...");
}

/* Two bytes a letter: the 117th byte is the second of one, so the letter goes
 * whole and 116 bytes are left. */
static void a_letter_is_not_cut_in_two(void **state) {
    (void)state;
    char text[200] = "";
    for (int i = 0; i < 80; i++)
        strcat(text, "\xC3\xA9");
    const char *cut = clean_name(&arena, text);
    assert_int_equal(strlen(cut), 116 + 3);
    assert_string_equal(cut + 114, "\xC3\xA9...");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_control_of_a_terminal_gets_through),
        cmocka_unit_test(names_are_one_line),
        cmocka_unit_test(a_name_is_cut_at_the_limit),
        cmocka_unit_test(a_letter_is_not_cut_in_two),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
