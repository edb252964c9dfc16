/* What every test file includes first: cmocka in its order, and comparisons
 * of our own. cmocka 1.1.5 compares doubles as float: use near() instead. */
#ifndef TESTS_CHECK_H
#define TESTS_CHECK_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <stdbool.h>

/* |actual - expected| <= tolerance, in double. */
#define assert_near(actual, expected, tolerance)                               \
    check_near((actual), (expected), (tolerance), __FILE__, __LINE__)

/* The same for angles, round the circle. */
#define assert_angle_near(actual, expected, tolerance)                         \
    check_angle_near((actual), (expected), (tolerance), __FILE__, __LINE__)

/* `part` stands somewhere in `text`. */
#define assert_contains(text, part)                                            \
    check_contains((text), (part), __FILE__, __LINE__)

void check_near(double actual, double expected, double tolerance,
                const char *file, int line);
void check_angle_near(double actual, double expected, double tolerance,
                      const char *file, int line);
void check_contains(const char *text, const char *part, const char *file,
                    int line);

/* True under `make check-long`: the whole of the slow tests. */
bool check_is_long(void);

/* Path of a real forecast file, or NULL (and a line "skipped: ...") when the
 * folder of $SPARWISE_GRIBS is not there. Then call skip(). */
const char *check_real_file(const char *name);

/* A fresh folder for this test's files, removed at exit. */
const char *check_folder(void);

/* Writes `text` into a file of check_folder(); returns its path (valid to the
 * end of the program). */
const char *check_write(const char *name, const char *text);

/* Runs `$SPARWISE arguments` (a shell line), output to files in
 * check_folder(); returns the exit status, and both texts. */
struct ran {
    int status;
    char *out, *err; /* NUL-terminated, never NULL; owned by the support */
};
struct ran check_run(const char *arguments);

/* Any shell line, the same way. */
struct ran check_shell(const char *line);

/* Seeded random numbers, the same on every machine: uniform in [low, high). */
struct seed {
    uint64_t state;
};
double seed_between(struct seed *seed, double low, double high);

#endif
