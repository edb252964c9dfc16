#include "../support/check.h"
#include "../support/plan_example.h"
#include "../support/scratch.h"

#include "command/outputs.h"

#include "base/file.h"

#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

static struct error error;
static struct plan_example example;

static const char *in_folder(const char *name) {
    return arena_print(&arena, "%s/%s", check_folder(), name);
}

static const char *content_of(const char *folder) {
    return check_shell(arena_print(&arena, "ls -A '%s'", folder)).out;
}

static void a_folder_is_named_in_plain_letters(void **state) {
    (void)state;
    static const struct {
        const char *name, *folder;
    } cases[] = {
        {"Trade crossing (invented)", "trade-crossing-invented"},
        {"a", "a"},
        {"  Hop 2 ", "hop-2"},
        {"A -- B", "a-b"},
        {"../../etc", "etc"},
        {"S\xC3\xA3o Jo\xC3\xA3o", "s-o-jo-o"},
        {"...", "passage"},
        {"", "passage"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_string_equal(outputs_folder(cases[i].name, &arena),
                            cases[i].folder);
}

static void a_free_folder_passes_and_a_taken_one_does_not(void **state) {
    (void)state;
    const char *folder = in_folder("taken");
    assert_true(outputs_check(folder, false, &error)); /* can be made */
    assert_true(
        outputs_check(arena_print(&arena, "%s/", folder), false, &error));
    assert_int_equal(mkdir(folder, 0777), 0);
    assert_true(outputs_check(folder, false, &error));
    static const char *const names[] = {"schedule.txt", "route.gpx",
                                        "plan.json", "report.html"};
    for (size_t i = 0; i < 4; i++) {
        const char *path =
            check_write(arena_print(&arena, "taken/%s", names[i]), "x");
        assert_false(outputs_check(folder, false, &error));
        assert_int_equal(error.status, STATUS_WRITE);
        assert_contains(error.text,
                        arena_print(&arena, "'%s'; give --force", path));
        assert_true(outputs_check(folder, true, &error));
        assert_int_equal(remove(path), 0);
    }
}

static void a_folder_that_can_not_be_is_told(void **state) {
    (void)state;
    check_write("file", "x");
    assert_false(outputs_check(in_folder("file"), true, &error));
    assert_contains(error.text, "is there and is not a folder; give another");
    assert_false(outputs_check(in_folder("file/x"), true, &error));
    assert_contains(error.text, "can't be made in ");
    assert_false(outputs_check(in_folder("no/x"), true, &error));
    assert_contains(error.text, "No such file or directory");
    assert_int_equal(error.status, STATUS_WRITE);
}

static void all_files_appear_together(void **state) {
    (void)state;
    const char *folder = in_folder("whole");
    plan_example_make(&example);
    assert_true(outputs_write(&example.plan, folder, true, &error));
    assert_string_equal(content_of(folder),
                        "plan.json\nreport.html\nroute.gpx\nschedule.txt\n");
}

/* The second of them can't be written: the first does not stay. */
static void none_appears_when_one_fails(void **state) {
    (void)state;
    const char *folder = in_folder("half");
    plan_example_make(&example);
    assert_int_equal(mkdir(folder, 0777), 0);
    assert_int_equal(mkdir(in_folder("half/route.gpx"), 0777), 0);
    assert_false(outputs_write(&example.plan, folder, true, &error));
    assert_int_equal(error.status, STATUS_WRITE);
    assert_contains(error.text, "half/route.gpx' is there and is not a plain "
                                "file");
    assert_string_equal(content_of(folder), "route.gpx\n");
}

static void a_folder_that_can_not_be_made_is_an_error(void **state) {
    (void)state;
    plan_example_make(&example);
    assert_false(outputs_write(&example.plan, "/proc/plan", true, &error));
    assert_int_equal(error.status, STATUS_WRITE);
    assert_contains(error.text, "folder '/proc/plan' can't be made");
}

/* One that writes into the folder at the same time is waited for; the plan that
 * it leaves there is not replaced unasked. */
static void another_run_is_waited_for_and_its_plan_kept(void **state) {
    (void)state;
    const char *folder = in_folder("together");
    int held, status;
    plan_example_make(&example);
    assert_int_equal(mkdir(folder, 0777), 0);
    assert_true(file_lock(folder, &held));
    fflush(NULL);
    pid_t child = fork();
    if (child == 0)
        _exit(outputs_write(&example.plan, folder, false, &error)
                  ? STATUS_DONE
                  : (int)error.status);
    check_shell("sleep 0.2");
    assert_int_equal(waitpid(child, &status, WNOHANG), 0);
    assert_string_equal(content_of(folder), "");
    check_write("together/plan.json", "another's");
    file_unlock(held);
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_true(WIFEXITED(status));
    assert_int_equal(WEXITSTATUS(status), STATUS_WRITE);
    assert_string_equal(content_of(folder), "plan.json\n");
}

#define TEST(name)                                                             \
    cmocka_unit_test_setup_teardown(name, scratch_begin, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(a_folder_is_named_in_plain_letters),
        TEST(a_free_folder_passes_and_a_taken_one_does_not),
        TEST(a_folder_that_can_not_be_is_told),
        TEST(all_files_appear_together),
        TEST(none_appears_when_one_fails),
        TEST(a_folder_that_can_not_be_made_is_an_error),
        TEST(another_run_is_waited_for_and_its_plan_kept),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
