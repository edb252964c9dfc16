/* Memory for what a test makes: one arena, begun and ended with each test or
 * with all of a program's, as its main() says. */
#ifndef TESTS_SCRATCH_H
#define TESTS_SCRATCH_H

#include "base/arena.h"

extern struct arena arena;

/* Set-up and teardown. A test that makes more ready calls them from its own;
 * both return 0. */
int scratch_begin(void **state);
int scratch_end(void **state);

#endif
