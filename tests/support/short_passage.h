/* What tests of the program from outside begin with: texts in an arena that
 * lasts for one test, and a passage of 6 nmi over an invented forecast. */
#ifndef TESTS_SHORT_PASSAGE_H
#define TESTS_SHORT_PASSAGE_H

#include "check.h"

#include "base/arena.h"

/* Of the test that runs. */
extern struct arena short_arena;

/* Set-up and teardown of each test. */
int short_start(void **state);
int short_end(void **state);
#define TEST(name) cmocka_unit_test_setup_teardown(name, short_start, short_end)

/* The root of the project: where the tests are started. */
const char *short_root(void);

/* Its file: every key can be changed by an option behind it. */
const char *short_passage(void);

struct ran short_plan(const char *arguments);

/* A path in the folder of the tests. */
const char *short_path(const char *name);

/* `text` with `new` wherever `old` stands. */
char *short_replaced(const char *text, const char *old, const char *new);

#endif
