#include "../support/check.h"

#include "base/ini.h"

#include <stdio.h>
#include <string.h>

/* What was read, as one text: "section/name=value@line;". */
struct record {
    char text[4096];
    const char *refused; /* a name that the reader shall refuse, or NULL */
};

static bool take(void *context, const struct ini_entry *entry,
                 struct error *error) {
    struct record *record = context;
    if (record->refused && strcmp(entry->name, record->refused) == 0)
        return error_set(error, STATUS_INPUT, "unknown key '%s'", entry->name);
    size_t length = strlen(record->text);
    snprintf(record->text + length, sizeof record->text - length,
             "%s/%s=%s@%d|", entry->section, entry->name, entry->value,
             entry->line);
    return true;
}

static struct error error;

static const char *read_text(const char *text) {
    static struct record record;
    record = (struct record){.refused = NULL};
    const char *path = check_write("case.ini", text);
    return ini_load(path, take, &record, &error) ? record.text : NULL;
}

static void keys_come_in_order_with_their_lines(void **state) {
    (void)state;
    assert_string_equal(
        read_text("top = 0\n\n[boat]\nname = Ours\nbeam_m=3.2\n"
                  "# comment\n; comment\n   \n[spar]\nset_minutes =  20  \n"),
        "/top=0@1|boat/name=Ours@4|boat/beam_m=3.2@5|spar/set_minutes=20@10|");
}

/* Byte order mark and CRLF; no newline at the end. */
static void files_from_other_systems_read_the_same(void **state) {
    (void)state;
    assert_string_equal(
        read_text("\xEF\xBB\xBF[boat]\r\nname = Ours\r\n\r\n# x\r\nbeam_m = 3"),
        "boat/name=Ours@2|boat/beam_m=3@5|");
}

static void values_keep_semicolon_and_hash(void **state) {
    (void)state;
    assert_string_equal(read_text("[crew]\nnotes = reefed; heavy crew #2\n"
                                  "more = a ; b # c\nurl = x:y=z\n"),
                        "crew/notes=reefed; heavy crew #2@2|"
                        "crew/more=a ; b # c@3|crew/url=x:y=z@4|");
    assert_string_equal(read_text("[a;b]\nk;l = \n"), "a;b/k;l=@2|");
}

static void doubled_keys_are_handed_on(void **state) {
    (void)state;
    assert_string_equal(read_text("[passage]\nvia = a\nvia = b\n"),
                        "passage/via=a@2|passage/via=b@3|");
}

static void the_longest_line_comes_whole(void **state) {
    (void)state;
    char text[400] = "[a]\nk = ";
    size_t start = strlen(text);
    memset(text + start, 'x', 195); /* "k = " and 195 make 199 bytes */
    assert_non_null(read_text(text));
    assert_int_equal(strlen(read_text(text)), strlen("a/k=@2|") + 195);
    text[start + 195] = 'x';
    assert_null(read_text(text));
    assert_contains(error.text, "case.ini:2: line is 200 bytes or longer");
    assert_int_equal(error.status, STATUS_INPUT);
}

static void a_line_of_five_thousand_signs_is_refused(void **state) {
    (void)state;
    char text[5100] = "[a]\nk = 1\nm = ";
    memset(text + strlen(text), 'x', 5000);
    assert_null(read_text(text));
    assert_contains(error.text, "case.ini:3: line is 200 bytes or longer");
}

/* Remarks of 100 bytes, 1 MiB of them, and one byte more. */
static void a_file_up_to_the_limit_is_read(void **state) {
    (void)state;
    enum { LIMIT = 1 << 20, LINE = 100 };
    static char text[LIMIT + 2];
    memset(text, '#', LIMIT + 1);
    for (int i = LINE - 1; i < LIMIT; i += LINE)
        text[i] = '\n';
    memcpy(text, "[a]\nk = 1\n", 10);
    text[LIMIT] = '\0';
    assert_string_equal(read_text(text), "a/k=1@2|");
    text[LIMIT] = '#';
    assert_null(read_text(text));
    assert_contains(error.text, "is larger than 1048576 bytes");
    assert_int_equal(error.status, STATUS_INPUT);
}

static void the_longest_section_comes_whole(void **state) {
    (void)state;
    char text[100] = "[";
    memset(text + 1, 's', 49);
    strcpy(text + 50, "]\nk = 1\n");
    assert_int_equal(strlen(read_text(text)), 49 + strlen("/k=1@2|"));
    strcpy(text + 50, "s]\nk = 1\n");
    assert_null(read_text(text));
    assert_contains(error.text, "case.ini:1: section name is too long; shorten "
                                "it to 49 bytes");
}

static void bad_lines_are_refused_with_their_number(void **state) {
    (void)state;
    static const struct {
        const char *text, *expected;
    } cases[] = {
        {"[a]\nk = 1\n  l = 2\n", ":3: line starts with a blank"},
        {"[a]\nk = 1\n\tand more\n", ":3: line starts with a blank"},
        {"[a]\njust words\n", ":2: line is neither"},
        {"[a]\n= 3\n", ":2: no key stands before '='"},
        {"[a\nk = 1\n", ":1: a section must end with ']'"},
        {"[a] # note\n", ":1: a section must end with ']'"},
        {"[\n", ":1: a section must end with ']'"},
        {"[a]\nk = \001\n", ":2: line holds a control character"},
        {"[a]\nk = 1\rl = 2\r", ":2: line holds a control character"},
        {"[a23456789b23456789c23456789d23456789e23456789f234]\nk=1\n", NULL},
        {"[a23456789b23456789c23456789d23456789e23456789f2345]\nk=1\n",
         ":1: section name is too long"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        const char *read = read_text(cases[i].text);
        assert_int_equal(read == NULL, cases[i].expected != NULL);
        if (cases[i].expected)
            assert_contains(error.text, cases[i].expected);
    }
}

static void a_refused_key_stops_the_reading(void **state) {
    (void)state;
    struct record record = {.refused = "b"};
    const char *path = check_write("stop.ini", "[s]\na=1\nb=2\nc=3\nbroken\n");
    assert_false(ini_load(path, take, &record, &error));
    assert_contains(error.text, "stop.ini:3: unknown key 'b'");
    assert_string_equal(record.text, "s/a=1@2|");
}

static void a_missing_file_is_told(void **state) {
    (void)state;
    struct record record = {.refused = NULL};
    assert_false(ini_load("/no/such.ini", take, &record, &error));
    assert_int_equal(error.status, STATUS_INPUT);
    assert_contains(error.text, "'/no/such.ini' can't be read");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(keys_come_in_order_with_their_lines),
        cmocka_unit_test(files_from_other_systems_read_the_same),
        cmocka_unit_test(values_keep_semicolon_and_hash),
        cmocka_unit_test(doubled_keys_are_handed_on),
        cmocka_unit_test(the_longest_line_comes_whole),
        cmocka_unit_test(a_line_of_five_thousand_signs_is_refused),
        cmocka_unit_test(a_file_up_to_the_limit_is_read),
        cmocka_unit_test(the_longest_section_comes_whole),
        cmocka_unit_test(bad_lines_are_refused_with_their_number),
        cmocka_unit_test(a_refused_key_stops_the_reading),
        cmocka_unit_test(a_missing_file_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
