#include "../support/check.h"

#include "base/apart.h"

#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* --- what is done apart ----------------------------------------------------*/

static void say_words(void *context, FILE *out) {
    fputs(context, out);
}

static void say_and_crash(void *context, FILE *out) {
    fputs(context, out);
    fflush(out);
    raise(SIGSEGV);
}

static void end_early(void *context, FILE *out) {
    (void)context;
    (void)out;
    _exit(3);
}

static void never_stop_talking(void *context, FILE *out) {
    for (;;)
        fputs(context, out);
}

static void complain(void *context, FILE *out) {
    fputs(context, stderr);
    fputs("done", out);
}

/* --- and what is heard of it -----------------------------------------------*/

static struct apart begin(void (*work)(void *context, FILE *out)) {
    static char words[] = "words";
    struct apart apart;
    struct error error;
    assert_true(apart_begin(&apart, work, words, &error));
    return apart;
}

static void what_the_child_writes_is_read(void **state) {
    (void)state;
    char text[6] = "";
    struct apart apart = begin(say_words);
    assert_true(apart_read(&apart, text, 5));
    assert_string_equal(text, "words");
    assert_false(apart_read(&apart, text, 1));
    assert_true(apart_end(&apart));
}

static void a_crash_is_told_and_what_came_before_is_there(void **state) {
    (void)state;
    char text[6] = "";
    struct apart apart = begin(say_and_crash);
    assert_true(apart_read(&apart, text, 5));
    assert_string_equal(text, "words");
    assert_false(apart_read(&apart, text, 1));
    assert_false(apart_end(&apart));
}

static void an_end_that_is_not_its_own_is_told(void **state) {
    (void)state;
    struct apart apart = begin(end_early);
    assert_false(apart_end(&apart));
}

static void a_child_that_talks_on_is_stopped(void **state) {
    (void)state;
    char text[6] = "";
    struct apart apart = begin(never_stop_talking);
    assert_true(apart_read(&apart, text, 5));
    assert_false(apart_end(&apart));
}

static void it_does_not_disturb_our_own_streams(void **state) {
    (void)state;
    char text[5] = "";
    struct apart apart = begin(complain);
    assert_true(apart_read(&apart, text, 4));
    assert_string_equal(text, "done");
    assert_true(apart_end(&apart));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_the_child_writes_is_read),
        cmocka_unit_test(a_crash_is_told_and_what_came_before_is_there),
        cmocka_unit_test(an_end_that_is_not_its_own_is_told),
        cmocka_unit_test(a_child_that_talks_on_is_stopped),
        cmocka_unit_test(it_does_not_disturb_our_own_streams),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
