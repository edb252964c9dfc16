#include "../support/check.h"

#include "command/interrupt.h"

#include "base/error.h"
#include "forecast/scan.h"

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/mman.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

enum { WAITED = 42, DID_NOT_WAIT = 43 };

/* How `child` ended, run in a process of its own. */
static int ending_of(void (*child)(void)) {
    fflush(NULL);
    pid_t pid = fork();
    assert_true(pid >= 0);
    if (pid == 0) {
        child();
        _exit(EXIT_SUCCESS);
    }
    int status;
    assert_int_equal(waitpid(pid, &status, 0), pid);
    return status;
}

static void hold_and_look(void) {
    interrupt_hold();
    raise(SIGTERM);
    _exit(interrupt_is_waiting() ? WAITED : DID_NOT_WAIT);
}

static void hold_and_release(void) {
    interrupt_hold();
    raise(SIGINT);
    interrupt_release();
}

static void hold_in_peace(void) {
    interrupt_hold();
    if (interrupt_is_waiting())
        _exit(WAITED);
    interrupt_release();
    interrupt_hold();
    interrupt_release();
}

/* As under nohup. */
static void ignore_and_hold(void) {
    signal(SIGHUP, SIG_IGN);
    interrupt_hold();
    raise(SIGHUP);
    if (interrupt_is_waiting())
        _exit(WAITED);
    interrupt_release();
    raise(SIGHUP);
}

static void make_a_mistake(void) {
    if (!freopen("/dev/null", "w", stderr))
        _exit(EXIT_FAILURE);
    interrupt_begin();
    abort();
}

/* As OpenMP's library does without memory for a thread. */
static void give_up_in_a_library(void) {
    if (!freopen("/dev/null", "w", stderr))
        _exit(EXIT_FAILURE);
    interrupt_begin();
    exit(EXIT_FAILURE);
}

static void end_by_itself(void) {
    interrupt_begin();
    interrupt_end();
    exit(WAITED);
}

/* A forecast that gets shorter while it is open. */
static void read_what_has_gone(void) {
    struct arena arena;
    struct error error;
    struct source source;
    arena_init(&arena);
    const char *path = check_write("short.grib2", "");
    check_shell(
        arena_print(&arena, "cat grib-samples/coastal-hop.grib2 >'%s'", path));
    if (!freopen("/dev/null", "w", stderr) ||
        !source_open(&source, path, &arena, &error) || truncate(path, 0) != 0)
        _exit(EXIT_FAILURE);
    interrupt_begin();
    _exit(*(const volatile uint8_t *)source.bytes ? WAITED : DID_NOT_WAIT);
}

/* The same of any other file, as of memory that the system does not have. */
static void read_what_was_promised(void) {
    FILE *stream = tmpfile();
    if (!freopen("/dev/null", "w", stderr) || !stream)
        _exit(EXIT_FAILURE);
    const char *mapped =
        mmap(NULL, 1, PROT_READ, MAP_PRIVATE, fileno(stream), 0);
    if (mapped == MAP_FAILED)
        _exit(EXIT_FAILURE);
    interrupt_begin();
    _exit(*(const volatile char *)mapped ? WAITED : DID_NOT_WAIT);
}

/* By kill, whose number of the sender lies where the address would. */
static void be_sent_one(void) {
    if (!freopen("/dev/null", "w", stderr))
        _exit(EXIT_FAILURE);
    interrupt_begin();
    kill(getpid(), SIGBUS);
}

static void grow_too_far(void) {
    struct rlimit limit = {.rlim_cur = 1, .rlim_max = 1};
    FILE *stream = tmpfile();
    interrupt_begin();
    if (!stream || setrlimit(RLIMIT_FSIZE, &limit) != 0)
        _exit(EXIT_FAILURE);
    fputs("more than fits", stream);
    _exit(fflush(stream) == EOF ? WAITED : DID_NOT_WAIT);
}

static void a_held_interrupt_waits(void **state) {
    (void)state;
    int status = ending_of(hold_and_look);
    assert_true(WIFEXITED(status));
    assert_int_equal(WEXITSTATUS(status), WAITED);
}

static void a_released_one_ends_the_program(void **state) {
    (void)state;
    int status = ending_of(hold_and_release);
    assert_true(WIFSIGNALED(status));
    assert_int_equal(WTERMSIG(status), SIGINT);
}

static void without_one_all_goes_on(void **state) {
    (void)state;
    assert_int_equal(ending_of(hold_in_peace), 0);
}

static void what_was_ignored_stays_ignored(void **state) {
    (void)state;
    assert_int_equal(ending_of(ignore_and_hold), 0);
}

static void a_mistake_of_ours_has_its_status(void **state) {
    (void)state;
    int status = ending_of(make_a_mistake);
    assert_true(WIFEXITED(status));
    assert_int_equal(WEXITSTATUS(status), STATUS_BUG);
}

static void assert_exit(void (*child)(void), int expected) {
    int status = ending_of(child);
    assert_true(WIFEXITED(status));
    assert_int_equal(WEXITSTATUS(status), expected);
}

static void a_library_that_gives_up_is_out_of_memory(void **state) {
    (void)state;
    assert_exit(give_up_in_a_library, STATUS_RESOURCE);
    assert_exit(end_by_itself, WAITED);
}

static void a_file_cut_short_under_our_hands_is_bad_input(void **state) {
    (void)state;
    assert_exit(read_what_has_gone, STATUS_INPUT);
}

static void memory_that_is_not_there_is_no_fault_of_a_file(void **state) {
    (void)state;
    assert_exit(read_what_was_promised, STATUS_RESOURCE);
}

static void one_that_was_sent_tells_nothing_of_memory(void **state) {
    (void)state;
    int status = ending_of(be_sent_one);
    assert_true(WIFSIGNALED(status));
    assert_int_equal(WTERMSIG(status), SIGBUS);
}

static void a_file_that_may_not_grow_is_a_failed_write(void **state) {
    (void)state;
    assert_exit(grow_too_far, WAITED);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_held_interrupt_waits),
        cmocka_unit_test(a_released_one_ends_the_program),
        cmocka_unit_test(without_one_all_goes_on),
        cmocka_unit_test(what_was_ignored_stays_ignored),
        cmocka_unit_test(a_mistake_of_ours_has_its_status),
        cmocka_unit_test(a_library_that_gives_up_is_out_of_memory),
        cmocka_unit_test(a_file_cut_short_under_our_hands_is_bad_input),
        cmocka_unit_test(memory_that_is_not_there_is_no_fault_of_a_file),
        cmocka_unit_test(one_that_was_sent_tells_nothing_of_memory),
        cmocka_unit_test(a_file_that_may_not_grow_is_a_failed_write),
    };
    signal(SIGINT, SIG_DFL); /* run in the background it may be ignored */
    return cmocka_run_group_tests(tests, NULL, NULL);
}
