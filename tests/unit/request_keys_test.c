/* The keys of a passage file: in its template, on the command line and in the
 * register of docs/files.md. */
#include "../support/check.h"
#include "../support/scratch.h"

#include "plan/request.h"

#include "base/text.h"

#include <stdio.h>
#include <string.h>

static struct error error;
static struct request request;

static bool resolve(void) {
    return request_resolve(&request, false, &arena, &error);
}

static const char *template_path(void) {
    const char *path = arena_print(&arena, "%s/template.ini", check_folder());
    FILE *stream = fopen(path, "w");
    assert_non_null(stream);
    request_template(stream);
    assert_int_equal(fclose(stream), 0);
    return path;
}

static void the_template_has_every_key_in_80_columns(void **state) {
    (void)state;
    char *rest = text_load(&arena, template_path(), 1 << 20, &error);
    assert_non_null(rest);
    for (size_t i = 0; i < request_keys.count; i++)
        assert_contains(rest,
                        arena_print(&arena, "\n%s%s =",
                                    request_keys.keys[i].fallback ? "#" : "",
                                    request_keys.keys[i].name));
    for (char *line; (line = text_next_line(&rest));)
        assert_true(strlen(line) <= 80);
}

static void a_template_filled_in_is_read(void **state) {
    (void)state;
    const char *path = template_path();
    char line[1000];
    snprintf(line, sizeof line,
             "sed -i 's/^\\(boat\\|forecast\\) =/& x/; "
             "s/^from =/& 1N 1W/; s/^to =/& 1N 2W/; s/^depart =/& now/' %s",
             path);
    assert_int_equal(check_shell(line).status, 0);
    assert_true(request_load(&request, path, &arena, &error));
    assert_true(resolve());
    /* and with every remark sign before a key taken off */
    snprintf(line, sizeof line, "sed -i 's/^#\\([a-z_]* =\\)/\\1/' %s", path);
    assert_int_equal(check_shell(line).status, 0);
    assert_true(request_load(&request, path, &arena, &error));
    assert_true(resolve());
}

static void only_keys_of_the_passage_are_options(void **state) {
    (void)state;
    for (size_t i = 0; i < request_keys.count; i++) {
        const struct key *key = &request_keys.keys[i];
        const char *name = request_option_name(key, &arena);
        assert_int_equal(name != NULL, text_same(key->section, "passage"));
        if (name)
            assert_null(strchr(name, '_'));
    }
}

/* The register's column of what is allowed. */
static const char *range_of(const struct key *key) {
    if (key->kind == KEY_PATH)
        return "path";
    if (key->kind == KEY_TEXT || key->kind == KEY_LIST)
        return "text";
    if (key->kind != KEY_CHOICE)
        return arena_print(&arena, "%.10g to %.10g", key->low, key->high);
    const char *text = key->choices[0];
    for (size_t i = 1; key->choices[i]; i++)
        text = arena_print(&arena, "%s, %s", text, key->choices[i]);
    return text;
}

/* docs/files.md is the register of keys: none may be missing from it, and what
 * it says of unit, range and default must be so. */
static void every_key_stands_in_the_register(void **state) {
    (void)state;
    char *docs = text_load(&arena, "docs/files.md", 1 << 20, &error);
    assert_non_null(docs);
    for (size_t i = 0; i < request_keys.count; i++) {
        const struct key *key = &request_keys.keys[i];
        const char *fallback = key->fallback ? key->fallback : "required";
        assert_contains(
            docs, arena_print(&arena, "\n| `%s` | %s | %s | %s | %s |\n",
                              key->name, key->unit, range_of(key),
                              *fallback ? fallback : "optional", key->help));
    }
}

#define TEST(name)                                                             \
    cmocka_unit_test_setup_teardown(name, scratch_begin, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(the_template_has_every_key_in_80_columns),
        TEST(a_template_filled_in_is_read),
        TEST(only_keys_of_the_passage_are_options),
        TEST(every_key_stands_in_the_register),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
