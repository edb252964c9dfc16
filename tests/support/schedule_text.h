/* The schedule of the finished plan (plan_example.h), and what it says. */
#ifndef TESTS_SCHEDULE_TEXT_H
#define TESTS_SCHEDULE_TEXT_H

#include "plan_example.h"

/* Made anew for each test by begin(), to be changed by it. */
extern struct plan_example example;

/* The text that schedule() wrote last. */
extern char *text;

int begin(void **state);
int finish(void **state);

/* Writes it anew; lives until the next one. */
const char *schedule(void);

/* Ends the test where it does not say that, wherever its lines break; where it
 * does. */
void tells(const char *part);
void lacks(const char *part);

#endif
