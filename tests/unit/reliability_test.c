/* docs/reliability.md names tests and limits: each stands where it says; and
 * all fuzz targets. */
#include "../support/check.h"
#include "../support/scratch.h"

#include "base/text.h"
#include <dirent.h>
#include <stdio.h>
#include <string.h>

static char *load(const char *path) {
    struct error error;
    char *text = text_load(&arena, path, 1 << 20, &error);
    if (!text)
        fail_msg("%s", error.text);
    return text;
}

/* A test has to be called too: its name stands there twice. */
static void stands_in(const char *path, const char *what) {
    const char *place = strstr(load(path), what);
    if (place && strncmp(path, "tests/", 6) == 0)
        place = strstr(place + 1, what);
    if (!place)
        fail_msg("'%s' is not in %s", what, path);
}

/* Every "`path: text`". Returns how many. */
static size_t check_all(char *page, const char *root) {
    size_t count = 0;
    char *rest = page, *start;
    while ((start = strchr(rest, '`'))) {
        char *end = strchr(start + 1, '`');
        assert_non_null(end);
        *end = '\0';
        rest = end + 1;
        char *colon = strstr(start, ": ");
        if (!colon || strncmp(start + 1, root, strlen(root)) != 0)
            continue;
        *colon = '\0';
        stands_in(start + 1, colon + 2);
        count++;
    }
    return count;
}

static void every_test_and_limit_that_is_named_is_there(void **state) {
    (void)state;
    static const char page[] = "docs/reliability.md";
    size_t tests = check_all(load(page), "tests/");
    size_t limits = check_all(load(page), "src/");
    assert_contains(load(page),
                    arena_print(&arena, "Named here: %zu tests, %zu limits.",
                                tests, limits));
}

/* A target has a folder of seeds. */
static void every_fuzz_target_is_named(void **state) {
    (void)state;
    const char *page = load("docs/reliability.md");
    DIR *seeds = opendir("tests/fuzz/seeds");
    assert_non_null(seeds);
    for (struct dirent *entry; (entry = readdir(seeds));)
        if (*entry->d_name != '.')
            assert_contains(
                page, arena_print(&arena, "`tests/fuzz/%s.c`", entry->d_name));
    closedir(seeds);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(
            every_test_and_limit_that_is_named_is_there, scratch_begin,
            scratch_end),
        cmocka_unit_test_setup_teardown(every_fuzz_target_is_named,
                                        scratch_begin, scratch_end),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
