#include "../support/check.h"

#include "base/file.h"

#include <signal.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

static struct error error;

static const char *in_folder(const char *name) {
    static char path[300];
    snprintf(path, sizeof path, "%s/%s", check_folder(), name);
    return path;
}

static const char *content(const char *path) {
    static char text[100];
    FILE *stream = fopen(path, "rb");
    assert_non_null(stream);
    text[fread(text, 1, sizeof text - 1, stream)] = '\0';
    fclose(stream);
    return text;
}

static int drafts_left(void) {
    char line[300];
    snprintf(line, sizeof line, "! ls %s/*.part", check_folder());
    return check_shell(line).status;
}

static void a_draft_appears_only_when_complete(void **state) {
    (void)state;
    struct draft draft;
    const char *path = in_folder("plan.txt");
    assert_true(draft_open(&draft, path, &error));
    fputs("whole", draft.stream);
    assert_false(file_exists(path));
    assert_true(draft_commit(&draft, &error));
    assert_string_equal(content(path), "whole");
    draft_discard(&draft); /* safe when done */
    assert_true(file_exists(path));
    assert_int_equal(drafts_left(), 0);
}

static void an_older_file_is_replaced_or_untouched(void **state) {
    (void)state;
    struct draft draft;
    const char *path = check_write("old.txt", "old");
    assert_true(draft_open(&draft, path, &error));
    fputs("new", draft.stream);
    draft_discard(&draft);
    assert_string_equal(content(path), "old");
    assert_true(draft_open(&draft, path, &error));
    fputs("new", draft.stream);
    assert_true(draft_commit(&draft, &error));
    assert_string_equal(content(path), "new");
    assert_int_equal(drafts_left(), 0);
}

static void the_umask_gives_the_rights(void **state) {
    (void)state;
    struct draft draft;
    struct stat about;
    mode_t before = umask(027);
    const char *path = in_folder("rights.txt");
    bool good =
        draft_open(&draft, path, &error) && draft_commit(&draft, &error);
    umask(before);
    assert_true(good);
    assert_int_equal(stat(path, &about), 0);
    assert_int_equal(about.st_mode & 0777, 0640);
}

static void a_full_disk_leaves_nothing(void **state) {
    (void)state;
    struct draft draft;
    const char *path = check_write("kept.txt", "kept");
    struct rlimit before, small;
    assert_int_equal(getrlimit(RLIMIT_FSIZE, &before), 0);
    small = (struct rlimit){.rlim_cur = 1000, .rlim_max = before.rlim_max};
    signal(SIGXFSZ, SIG_IGN);
    assert_true(draft_open(&draft, path, &error));
    setrlimit(RLIMIT_FSIZE, &small);
    for (int i = 0; i < 100000; i++)
        fputs("a line that will not fit\n", draft.stream);
    bool good = draft_commit(&draft, &error);
    setrlimit(RLIMIT_FSIZE, &before);
    signal(SIGXFSZ, SIG_DFL);
    assert_false(good);
    assert_int_equal(error.status, STATUS_WRITE);
    assert_contains(error.text, "kept.txt' can't be written: ");
    assert_string_equal(content(path), "kept");
    assert_int_equal(drafts_left(), 0);
}

/* Ended by what nobody can catch: the draft stays, and is in nobody's way. */
static void a_run_that_is_killed_leaves_the_older_file(void **state) {
    (void)state;
    struct draft draft;
    const char *path = check_write("survivor.txt", "older");
    fflush(NULL);
    pid_t child = fork();
    if (child == 0) {
        if (draft_open(&draft, path, &error) &&
            fputs("half of it", draft.stream) >= 0 &&
            draft_finish(&draft, &error))
            raise(SIGKILL);
        _exit(0);
    }
    int status;
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_true(WIFSIGNALED(status));
    assert_string_equal(content(path), "older");
    assert_int_not_equal(drafts_left(), 0);
    assert_true(draft_open(&draft, path, &error));
    fputs("newer", draft.stream);
    assert_true(draft_commit(&draft, &error));
    assert_string_equal(content(path), "newer");
    char line[300];
    snprintf(line, sizeof line, "rm '%s'/survivor.txt.*.part", check_folder());
    assert_int_equal(check_shell(line).status, 0);
}

static void a_folder_is_locked_until_it_is_given_back(void **state) {
    (void)state;
    int ours, other;
    assert_true(file_lock(check_folder(), &ours));
    assert_false(file_lock(check_folder(), &other));
    assert_int_equal(other, -1);
    file_unlock(ours);
    assert_true(file_lock(check_folder(), &other));
    file_unlock(other);
    assert_true(file_lock("/no/such/folder", &other)); /* nobody waits */
    file_unlock(other);
}

static void places_that_cannot_be_written_are_refused(void **state) {
    (void)state;
    struct draft draft;
    assert_false(draft_open(&draft, "/no/such/folder/x", &error));
    assert_int_equal(error.status, STATUS_WRITE);
    assert_contains(error.text, "'/no/such/folder/x' can't be written: No");
    draft_discard(&draft);
    assert_false(draft_open(&draft, check_folder(), &error));
    assert_contains(error.text, "is not a plain file");
    static char longer[FILE_PATH_SIZE + 10];
    memset(longer, 'x', sizeof longer - 1);
    assert_false(draft_open(&draft, longer, &error));
    assert_int_equal(error.status, STATUS_WRITE);
    longer[FILE_PATH_SIZE - 2] = '\0';
    assert_false(draft_open(&draft, longer, &error));
    assert_int_equal(error.status, STATUS_WRITE);
}

static void a_draft_never_opened_can_be_dropped(void **state) {
    (void)state;
    struct draft draft = {.stream = NULL};
    draft_discard(&draft);
    assert_null(draft.stream);
}

static void folders_are_made_once(void **state) {
    (void)state;
    const char *path = in_folder("out");
    assert_true(file_make_folder(path, &error));
    assert_true(file_exists(path));
    assert_true(file_make_folder(path, &error));
    assert_false(file_make_folder("/no/such/parent", &error));
    assert_int_equal(error.status, STATUS_WRITE);
    assert_contains(error.text, "folder '/no/such/parent' can't be made");
    assert_false(file_make_folder(check_write("file", ""), &error));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_draft_appears_only_when_complete),
        cmocka_unit_test(an_older_file_is_replaced_or_untouched),
        cmocka_unit_test(the_umask_gives_the_rights),
        cmocka_unit_test(a_full_disk_leaves_nothing),
        cmocka_unit_test(a_run_that_is_killed_leaves_the_older_file),
        cmocka_unit_test(a_folder_is_locked_until_it_is_given_back),
        cmocka_unit_test(places_that_cannot_be_written_are_refused),
        cmocka_unit_test(a_draft_never_opened_can_be_dropped),
        cmocka_unit_test(folders_are_made_once),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
