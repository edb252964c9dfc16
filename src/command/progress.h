/* How far the work has come, on one line of a terminal that is written over
 * and wiped in the end. Nothing at all in a pipe or a file. */
#ifndef COMMAND_PROGRESS_H
#define COMMAND_PROGRESS_H

#include "plan/passage.h"

/* The line is shown only if `wanted` and standard error is a terminal. */
void progress_begin(bool wanted);

/* For the planner; NULL where nothing is shown. */
const struct plan_progress *progress_of_plan(void);

/* A stage of unknown length: "reading the forecast". */
void progress_stage(const char *stage);

/* Wipes the line; call before anything else is printed. */
void progress_end(void);

#endif
