/* schedule.txt: what the person on watch must know at three in the morning,
 * first things first; then legs, changes, arrival, summary, warnings, cautions
 * and the order of steps on deck. ASCII, 80 columns. */
#ifndef REPORT_SCHEDULE_H
#define REPORT_SCHEDULE_H

#include "plan/plan.h"
#include <stdio.h>

/* False (STATUS_WRITE) where the stream can't be written. */
bool schedule_write(const struct plan *plan, FILE *stream, struct error *error);

#endif
