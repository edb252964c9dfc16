#include "../support/check.h"

#include "command/interrupt.h"

#include "base/error.h"

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
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

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_held_interrupt_waits),
        cmocka_unit_test(a_released_one_ends_the_program),
        cmocka_unit_test(without_one_all_goes_on),
        cmocka_unit_test(what_was_ignored_stays_ignored),
        cmocka_unit_test(a_mistake_of_ours_has_its_status),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
