#include "../support/check.h"
#include "../support/comma_locale.h"

#include "exchange/json.h"
#include <jansson.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The bytes that json_write() makes; frees the tree. */
static char *written(struct json *root) {
    char *text = NULL;
    size_t size = 0;
    struct error error;
    FILE *stream = open_memstream(&text, &size);
    assert_non_null(stream);
    assert_true(json_write(root, stream, &error));
    fclose(stream);
    json_free(root);
    return text;
}

static void a_line_has_neither_blanks_nor_ends_within(void **state) {
    (void)state;
    char *text = NULL;
    size_t size = 0;
    struct error error;
    struct json *root = json_make_object();
    json_put_text(root, "text", "a\nb c");
    json_put_number(json_put_array(root, "list"), NULL, 1.5, 1);
    FILE *stream = open_memstream(&text, &size);
    assert_true(json_write_line(root, stream, &error));
    fclose(stream);
    json_free(root);
    assert_string_equal(text, "{\"text\":\"a\\nb c\",\"list\":[1.5]}\n");
    free(text);
}

static struct json *one_of_each(void) {
    struct instant instant = {1709143200}; /* date -u -d @1709143200 */
    struct json *root = json_make_object();
    json_put_text(root, "text", "Cape");
    json_put_flag(root, "flag", true);
    json_put_count(root, "count", 3);
    json_put_number(root, "number", 6.25, 2);
    json_put_figure(root, "known", figure_of(-0.5), 1);
    json_put_figure(root, "unknown", figure_unknown(), 1);
    json_put_instant(root, "instant", instant);
    json_put_null(root, "nothing");
    struct json *list = json_put_array(root, "list");
    json_put_number(list, NULL, -25.0125, 4);
    struct json *inner = json_put_object(list, NULL);
    json_put_text(inner, "absent", NULL);
    return root;
}

static const char each_expected[] = "{\n"
                                    "  \"text\": \"Cape\",\n"
                                    "  \"flag\": true,\n"
                                    "  \"count\": 3,\n"
                                    "  \"number\": 6.25,\n"
                                    "  \"known\": -0.5,\n"
                                    "  \"unknown\": null,\n"
                                    "  \"instant\": \"2024-02-28T18:00:00Z\",\n"
                                    "  \"nothing\": null,\n"
                                    "  \"list\": [\n"
                                    "    -25.0125,\n"
                                    "    {\n"
                                    "      \"absent\": null\n"
                                    "    }\n"
                                    "  ]\n"
                                    "}\n";

static void keys_keep_the_order_in_which_they_were_put(void **state) {
    (void)state;
    char *text = written(one_of_each());
    assert_string_equal(text, each_expected);
    free(text);
}

static void numbers_are_rounded_to_their_decimals(void **state) {
    (void)state;
    static const struct {
        double value;
        int decimals;
        const char *expected;
    } cases[] = {
        {0.1 + 0.2, 2, "0.3"},
        {4.3, 1, "4.3"},
        {2.675000001, 2, "2.68"},
        {-0.0000004, 6, "0.0"},
        {-0.0, 1, "0.0"},
        {-0.4, 0, "0"},
        {261.7, 0, "262"},
        {-179.9999999, 7, "-179.9999999"},
        {123456789.25, 1, "123456789.3"},
        {3.0, 1, "3.0"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct json *root = json_make_array();
        json_put_number(root, NULL, cases[i].value, cases[i].decimals);
        char *text = written(root);
        char expected[64];
        snprintf(expected, sizeof expected, "[\n  %s\n]\n", cases[i].expected);
        assert_string_equal(text, expected);
        free(text);
    }
}

static void the_last_bit_changes_no_byte(void **state) {
    (void)state;
    struct seed seed = {7};
    for (int i = 0; i < 500; i++) {
        double value = seed_between(&seed, -2000.0, 2000.0);
        struct json *a = json_make_array(), *b = json_make_array();
        json_put_number(a, NULL, value, 3);
        json_put_number(b, NULL, value * (1.0 + 0x1.0p-52), 3);
        char *text_a = written(a), *text_b = written(b);
        assert_string_equal(text_a, text_b);
        free(text_a);
        free(text_b);
    }
}

/* Through jansson's own parser and back to the same text. */
static void hostile_text_reads_back(void **state) {
    (void)state;
    static const struct {
        const char *put, *read;
    } cases[] = {
        {"A & B <\"C\"> 'D' \\ /", "A & B <\"C\"> 'D' \\ /"},
        {"</script>]]>", "</script>]]>"},
        {"tab\tline\n", "tab\tline\n"},
        {"bell\a escape\x1b[2J", "bell escape[2J"},
        {"caf\xE9", "caf\xEF\xBF\xBD"}, /* Latin-1 */
        {"caf\xC3\xA9", "caf\xC3\xA9"}, /* UTF-8 */
        {"cut \xE2\x82", "cut \xEF\xBF\xBD\xEF\xBF\xBD"},
        {"slash \xC0\xAF", "slash \xEF\xBF\xBD\xEF\xBF\xBD"}, /* overlong */
        {"\xED\xA0\x80.", "\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD."},
        {"", ""},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct json *root = json_make_object();
        json_put_text(root, "name", cases[i].put);
        char *text = written(root);
        json_t *read = json_loads(text, 0, NULL);
        assert_non_null(read);
        assert_string_equal(json_string_value(json_object_get(read, "name")),
                            cases[i].read);
        json_decref(read);
        free(text);
    }
}

static void a_comma_locale_changes_no_byte(void **state) {
    (void)state;
    if (!comma_locale_begin())
        skip();
    char *text = written(one_of_each());
    comma_locale_end();
    assert_string_equal(text, each_expected);
    free(text);
}

static void a_full_disk_is_an_error(void **state) {
    (void)state;
    struct error error;
    FILE *stream = fopen("/dev/full", "w");
    if (!stream) {
        print_message("skipped: no /dev/full\n");
        skip();
        return;
    }
    struct json *root = one_of_each();
    assert_false(json_write(root, stream, &error));
    assert_int_equal(error.status, STATUS_WRITE);
    json_free(root);
    fclose(stream);
}

/* --- in --------------------------------------------------------------------
 */

static struct json *read_text(const char *text) {
    struct json *root;
    struct error error;
    if (!json_load(&root, check_write("in.json", text), 4096, &error))
        fail_msg("%s", error.text);
    return root;
}

static void what_was_put_is_got_again(void **state) {
    (void)state;
    struct json *made = one_of_each();
    char *bytes = written(made);
    struct json *root = read_text(bytes);
    const char *text = NULL;
    double number = 0.0;
    bool flag = false;
    struct instant instant = {0};
    assert_true(json_text(json_get(root, "text"), &text));
    assert_string_equal(text, "Cape");
    assert_true(json_flag(json_get(root, "flag"), &flag));
    assert_true(flag);
    assert_true(json_number(json_get(root, "count"), &number));
    assert_near(number, 3.0, 0.0);
    assert_true(json_number(json_get(root, "number"), &number));
    assert_near(number, 6.25, 0.0);
    assert_true(json_instant(json_get(root, "instant"), &instant));
    assert_int_equal(instant.unix_s, 1709143200);
    const struct json *list = json_get(root, "list");
    assert_int_equal(json_count(list), 2);
    assert_true(json_number(json_item(list, 0), &number));
    assert_near(number, -25.0125, 0.0);
    json_free(root);
    free(bytes);
}

/* Nothing is nothing, however deep one asks. */
static void what_is_not_there_or_no_such_thing_is_not_got(void **state) {
    (void)state;
    struct json *root = read_text("{\"none\": null, \"text\": \"3\"}");
    double number = 7.0;
    const char *text = "kept";
    struct instant instant;
    assert_null(json_get(root, "none"));
    assert_null(json_get(root, "absent"));
    assert_null(json_get(json_get(json_get(root, "absent"), "a"), "b"));
    assert_null(json_item(json_get(root, "text"), 0));
    assert_int_equal(json_count(json_get(root, "text")), 0);
    assert_int_equal(json_count(NULL), 0);
    assert_false(json_number(json_get(root, "text"), &number));
    assert_near(number, 7.0, 0.0);
    assert_false(json_text(root, &text));
    assert_string_equal(text, "kept");
    assert_false(json_instant(json_get(root, "text"), &instant));
    json_free(root);
}

static void a_bad_file_is_refused_with_its_line(void **state) {
    (void)state;
    static const struct {
        const char *text, *part;
    } cases[] = {{"{\n \"a\": 1,\n", "bad.json:3: not JSON: "},
                 {"{\"a\": 1, \"a\": 2}", "bad.json:1: not JSON: duplicate"},
                 {"", "bad.json:1: not JSON: "},
                 {"no", "it may be cut short: copy it again"}};
    struct json *root;
    struct error error;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        const char *path = check_write("bad.json", cases[i].text);
        assert_false(json_load(&root, path, 4096, &error));
        assert_int_equal(error.status, STATUS_INPUT);
        assert_contains(error.text, cases[i].part);
    }
    assert_false(
        json_load(&root, check_write("long.json", "[1, 2, 3]"), 8, &error));
    assert_contains(error.text, "long.json");
    assert_false(json_load(&root, "no/such.json", 8, &error));
    assert_contains(error.text, "no/such.json");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_line_has_neither_blanks_nor_ends_within),
        cmocka_unit_test(keys_keep_the_order_in_which_they_were_put),
        cmocka_unit_test(numbers_are_rounded_to_their_decimals),
        cmocka_unit_test(the_last_bit_changes_no_byte),
        cmocka_unit_test(hostile_text_reads_back),
        cmocka_unit_test(a_comma_locale_changes_no_byte),
        cmocka_unit_test(a_full_disk_is_an_error),
        cmocka_unit_test(what_was_put_is_got_again),
        cmocka_unit_test(what_is_not_there_or_no_such_thing_is_not_got),
        cmocka_unit_test(a_bad_file_is_refused_with_its_line),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
