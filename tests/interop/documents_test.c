/* The documents for users: every command whose output they show still gives
 * one, and what they name is there. */
#include "../support/check.h"
#include "../support/scratch.h"

#include "base/arena.h"
#include "base/text.h"
#include "command/options.h"
#include "plan/request.h"
#include <string.h>

static const char *const documents[] = {"README.md", "docs/first-passage.md",
                                        "docs/polars.md", "docs/cautions.md"};
enum { DOCUMENTS = sizeof documents / sizeof *documents };

static const char *text_of(const char *path) {
    struct error error;
    const char *text = text_load(&arena, path, 1 << 20, &error);
    if (!text)
        fail_msg("%s", error.text);
    return text;
}

static void the_commands_of_the_documents_print_something(void **state) {
    (void)state;
    struct ran ran = check_shell("tests/support/update-readme --dry "
                                 "docs/first-passage.md docs/polars.md");
    assert_string_equal(ran.err, "");
    assert_int_equal(ran.status, 0);
    assert_contains(text_of("docs/first-passage.md"), "\n<!-- sh: ");
}

static void a_command_that_fails_would_be_told(void **state) {
    (void)state;
    static const char *const lines[] = {"false", "true", "no-such-program"};
    for (size_t i = 0; i < sizeof lines / sizeof *lines; i++) {
        const char *path = check_write(
            "broken.md",
            arena_print(&arena, "<!-- sh: %s -->\n<!-- end -->\n", lines[i]));
        struct ran ran = check_shell(arena_print(
            &arena, "tests/support/update-readme --dry '%s'", path));
        assert_int_equal(ran.status, 1);
        assert_contains(
            ran.err,
            arena_print(&arena, "fails or prints nothing: %s", lines[i]));
    }
}

static bool is_option(const char *name, size_t length) {
    for (size_t i = 0; i < request_keys.count; i++) {
        const char *known = request_option_name(&request_keys.keys[i], &arena);
        if (known && strlen(known) == length &&
            strncmp(known, name, length) == 0)
            return true;
    }
    for (size_t i = 0; i < own_option_count; i++)
        if (strlen(own_options[i].name) == length &&
            strncmp(own_options[i].name, name, length) == 0)
            return true;
    return false;
}

/* "--ease 2", with a blank or a quotation mark before it. */
static void every_option_that_is_named_is_there(void **state) {
    (void)state;
    size_t found = 0;
    for (int i = 0; i < DOCUMENTS; i++) {
        const char *at = text_of(documents[i]);
        while ((at = strstr(at, "--"))) {
            bool starts = strchr(" `\n", at[-1]) != NULL;
            size_t length = strspn(at + 2, "abcdefghijklmnopqrstuvwxyz-");
            if (starts && length > 0 && at[2] != '-') {
                found++;
                if (!is_option(at + 2, length))
                    fail_msg("%s: no option --%.*s", documents[i], (int)length,
                             at + 2);
            }
            at += 2 + length;
        }
    }
    assert_true(found > 20);
}

/* Links from one document to another; the file alone. */
static void every_link_leads_to_a_file(void **state) {
    (void)state;
    for (int i = 0; i < DOCUMENTS; i++) {
        const char *at = text_of(documents[i]);
        size_t found = 0;
        while ((at = strstr(at, "]("))) {
            size_t length = strcspn(at += 2, "#)");
            if (length == 0 || strncmp(at, "http", 4) == 0)
                continue;
            const char *path =
                text_beside(&arena, documents[i],
                            arena_print(&arena, "%.*s", (int)length, at));
            if (check_shell(arena_print(&arena, "test -e '%s'", path)).status)
                fail_msg("%s: no file %s", documents[i], path);
            found++;
        }
        assert_true(found > 0);
    }
}

#define TEST(name)                                                             \
    cmocka_unit_test_setup_teardown(name, scratch_begin, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(the_commands_of_the_documents_print_something),
        TEST(a_command_that_fails_would_be_told),
        TEST(every_option_that_is_named_is_there),
        TEST(every_link_leads_to_a_file),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
