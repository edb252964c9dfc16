#include "../support/check.h"
#include "../support/scratch.h"

#include "base/text.h"

#include <fcntl.h>
#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

static struct error error;

static void a_whole_file_is_loaded(void **state) {
    (void)state;
    const char *path = check_write("plain.txt", "one\ntwo");
    assert_string_equal(text_load(&arena, path, 7, &error), "one\ntwo");
    path = check_write("empty.txt", "");
    assert_string_equal(text_load(&arena, path, 7, &error), "");
}

/* A byte order mark must not become part of the first word. */
static void the_byte_order_mark_is_taken_off(void **state) {
    (void)state;
    const char *path = check_write("mark.txt", "\xEF\xBB\xBF[boat]\r\n");
    assert_string_equal(text_load(&arena, path, 99, &error), "[boat]\r\n");
    path = check_write("mark-only.txt", "\xEF\xBB\xBF");
    assert_string_equal(text_load(&arena, path, 99, &error), "");
}

static void a_long_file_comes_whole(void **state) {
    (void)state;
    enum { SIZE = 100000 };
    char *text = arena_alloc(&arena, SIZE + 1, 1);
    for (int i = 0; i < SIZE; i++)
        text[i] = (char)('a' + i % 26);
    const char *path = check_write("long.txt", text);
    assert_string_equal(text_load(&arena, path, SIZE, &error), text);
}

static void what_is_no_text_file_is_refused(void **state) {
    (void)state;
    const char *path = check_write("eight.txt", "12345678");
    assert_null(text_load(&arena, path, 7, &error));
    assert_int_equal(error.status, STATUS_INPUT);
    assert_contains(error.text, "eight.txt' is larger than 7 bytes");
    assert_null(text_load(&arena, "/no/such/file", 7, &error));
    assert_contains(error.text, "'/no/such/file' can't be read: No such");
    assert_null(text_load(&arena, check_folder(), 7, &error));
    assert_contains(error.text, "is a folder");
    char name[200];
    snprintf(name, sizeof name, "%s/nul.bin", check_folder());
    FILE *stream = fopen(name, "wb");
    assert_non_null(stream);
    fwrite("GRIB\0\0", 1, 6, stream);
    fclose(stream);
    assert_null(text_load(&arena, name, 99, &error));
    assert_contains(error.text, "is not a text file");
}

static const char *pipe_of(const char *name) {
    static char path[300];
    snprintf(path, sizeof path, "%s/%s", check_folder(), name);
    assert_int_equal(mkfifo(path, 0600), 0);
    return path;
}

/* It would be waited for without end: then the alarm ends the test. */
static void a_pipe_that_nobody_writes_into_is_refused(void **state) {
    (void)state;
    const char *path = pipe_of("idle");
    alarm(20);
    assert_null(text_load(&arena, path, 99, &error));
    alarm(0);
    assert_int_equal(error.status, STATUS_INPUT);
    assert_contains(error.text, "idle' is a pipe that no program writes into");
}

static void write_late(int file) {
    static const struct timespec pause = {.tv_nsec = 50000000};
    nanosleep(&pause, NULL);
    _exit(write(file, "one\ntwo", 7) == 7 ? EXIT_SUCCESS : EXIT_FAILURE);
}

/* It may take its time. */
static void a_pipe_with_a_writer_is_read(void **state) {
    (void)state;
    const char *path = pipe_of("busy");
    int file = open(path, O_RDWR);
    assert_true(file >= 0);
    pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0)
        write_late(file);
    FILE *stream = text_open(path, &error);
    close(file);
    assert_non_null(stream);
    char text[16] = "";
    assert_int_equal(fread(text, 1, sizeof text, stream), 7);
    assert_string_equal(text, "one\ntwo");
    fclose(stream);
    assert_int_equal(waitpid(child, NULL, 0), child);
}

static void lines_are_cut_at_either_ending(void **state) {
    (void)state;
    char text[] = "one\r\ntwo\n\nfour\r\n five";
    char *rest = text;
    assert_string_equal(text_next_line(&rest), "one");
    assert_string_equal(text_next_line(&rest), "two");
    assert_string_equal(text_next_line(&rest), "");
    assert_string_equal(text_next_line(&rest), "four");
    assert_string_equal(text_next_line(&rest), " five");
    assert_null(text_next_line(&rest));
    assert_null(text_next_line(&rest));
}

static void blanks_come_off_both_ends(void **state) {
    (void)state;
    char text[] = " \t a b\t ", blanks[] = " \t ", empty[] = "";
    assert_string_equal(text_trim(text), "a b");
    assert_string_equal(text_trim(blanks), "");
    assert_string_equal(text_trim(empty), "");
}

static void numbers_are_read_whole_or_not_at_all(void **state) {
    (void)state;
    static const struct {
        const char *text;
        double value;
    } good[] = {{"6.5", 6.5},   {"-0.75", -0.75}, {"+3", 3.0}, {".5", 0.5},
                {"5.", 5.0},    {"1e3", 1000.0},  {"0", 0.0},  {"007", 7.0},
                {"2E-2", 0.02}, {"1e-400", 0.0}};
    for (size_t i = 0; i < sizeof good / sizeof *good; i++) {
        double value = -1.0;
        assert_true(text_to_double(good[i].text, &value));
        assert_near(value, good[i].value, 0.0);
    }
    static const char *const bad[] = {"",      " ",   "6,5", "6.5 ",  " 6.5",
                                      "0x10",  "inf", "nan", "NaN",   "-inf",
                                      "1e",    "e5",  "--1", "1.2.3", "6 5",
                                      "1e400", "+",   ".",   "5kn",   "1d3"};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        double value = 42.0;
        assert_false(text_to_double(bad[i], &value));
        assert_near(value, 42.0, 0.0);
    }
}

static void whole_numbers_stay_in_their_range(void **state) {
    (void)state;
    int value = 0;
    assert_true(text_to_int("-12", &value));
    assert_int_equal(value, -12);
    assert_true(text_to_int("2147483647", &value));
    assert_int_equal(value, 2147483647);
    static const char *const bad[] = {
        "",    " 1",  "1 ",         "1.0",
        "0x1", "1e3", "2147483648", "99999999999999999999"};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        assert_false(text_to_int(bad[i], &value));
}

static void the_nearest_word_is_found_if_near(void **state) {
    (void)state;
    static const char *const words[] = {"wing_max_wind_kn", "set_minutes",
                                        "gybe_minutes", "factor"};
    assert_string_equal(text_nearest("gybe_minute", words, 4), "gybe_minutes");
    assert_string_equal(text_nearest("facter", words, 4), "factor");
    assert_string_equal(text_nearest("wing_max_wind", words, 4),
                        "wing_max_wind_kn");
    assert_string_equal(text_nearest("factor", words, 4), "factor");
    assert_null(text_nearest("colour", words, 4));
    assert_null(text_nearest("", words, 4));
    assert_null(text_nearest("x", words, 0));
    char longer[200];
    memset(longer, 'f', sizeof longer - 1);
    longer[sizeof longer - 1] = '\0';
    assert_null(text_nearest(longer, words, 4));
}

static void names_are_taken_beside_the_file_that_names_them(void **state) {
    (void)state;
    static const struct {
        const char *base, *name, *expected;
    } cases[] = {{"boats/ours.ini", "ours.pol", "boats/ours.pol"},
                 {"ours.ini", "polars/a.csv", "polars/a.csv"},
                 {"/a/b.ini", "../c", "/a/../c"},
                 {"/b.ini", "c", "/c"},
                 {"boats/ours.ini", "/abs/c", "/abs/c"},
                 {NULL, "c", "c"}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_string_equal(text_beside(&arena, cases[i].base, cases[i].name),
                            cases[i].expected);
}

enum comma_trial { COMMA_GOOD, COMMA_BAD, COMMA_NONE };

/* Under a locale that writes 54,25, made on the spot: "6.5" must be refused
 * or be 6.5, and never be read as 6. */
static enum comma_trial try_comma_locale(void) {
    locale_t comma = newlocale(LC_ALL_MASK, "de_DE.UTF-8", (locale_t)0);
    if (comma == (locale_t)0)
        return COMMA_NONE;
    uselocale(comma);
    char written[20];
    snprintf(written, sizeof written, "%.2f", 54.25);
    if (strcmp(written, "54,25") != 0)
        return COMMA_NONE;
    double value = 6.5;
    text_to_double("6.5", &value);
    return value < 6.4 ? COMMA_BAD : COMMA_GOOD;
}

/* In a child: the C library never gives back what a locale takes. */
static enum comma_trial comma_trial(void) {
    fflush(stdout);
    pid_t child = fork();
    if (child == 0)
        _exit((int)try_comma_locale());
    int status = 0;
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_true(WIFEXITED(status));
    return (enum comma_trial)WEXITSTATUS(status);
}

/* The locale of the crew's machine must change no figure, read or written. */
static void a_comma_locale_changes_no_number(void **state) {
    (void)state;
    char line[300];
    snprintf(line, sizeof line, "localedef -c -i de_DE -f UTF-8 %s/de_DE.UTF-8",
             check_folder());
    check_shell(line); /* its exit status tells of warnings, too */
    setenv("LOCPATH", check_folder(), 1);
    setenv("LC_ALL", "de_DE.UTF-8", 1);
    double value = 0.0;
    assert_true(text_to_double("6.5", &value));
    assert_near(value, 6.5, 0.0);
    assert_string_equal(arena_print(&arena, "%.6f", 54.25), "54.250000");
    enum comma_trial trial = comma_trial();
    unsetenv("LC_ALL");
    unsetenv("LOCPATH");
    if (trial == COMMA_NONE) {
        print_message("skipped: no comma locale can be made here\n");
        skip();
    }
    assert_int_equal(trial, COMMA_GOOD);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_whole_file_is_loaded),
        cmocka_unit_test(the_byte_order_mark_is_taken_off),
        cmocka_unit_test(a_long_file_comes_whole),
        cmocka_unit_test(what_is_no_text_file_is_refused),
        cmocka_unit_test(a_pipe_that_nobody_writes_into_is_refused),
        cmocka_unit_test(a_pipe_with_a_writer_is_read),
        cmocka_unit_test(lines_are_cut_at_either_ending),
        cmocka_unit_test(blanks_come_off_both_ends),
        cmocka_unit_test(numbers_are_read_whole_or_not_at_all),
        cmocka_unit_test(whole_numbers_stay_in_their_range),
        cmocka_unit_test(the_nearest_word_is_found_if_near),
        cmocka_unit_test(names_are_taken_beside_the_file_that_names_them),
        cmocka_unit_test(a_comma_locale_changes_no_number),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
