/* What is written of the finished plan (plan_example.h), its schedule or a part
 * of it, and what that says. */
#ifndef TESTS_SCHEDULE_TEXT_H
#define TESTS_SCHEDULE_TEXT_H

#include "plan_example.h"
#include "scratch.h"

#include <stdio.h>

/* Made anew for each test by begin(), to be changed by it. */
extern struct plan_example example;

/* The text that was written last; lives until the next one. */
extern char *text;

int begin(void **state);
int finish(void **state);

/* Writes the schedule. */
const char *schedule(void);

/* Writes what goes into the stream until text_close(), which looks at its
 * sides (side_words.h). */
FILE *text_begin(void);
const char *text_close(void);

/* Ends the test where it does not say that, wherever its lines break; where it
 * does. */
void tells(const char *part);
void lacks(const char *part);

#endif
