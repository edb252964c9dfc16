/* schedule.txt: what the person on watch must know at three in the morning,
 * first things first; then legs, changes, arrival, summary, warnings, cautions
 * and the order of steps on deck. ASCII, 80 columns. */
#ifndef REPORT_SCHEDULE_H
#define REPORT_SCHEDULE_H

#include "report/waypoint.h"
#include <stdio.h>

/* False (STATUS_WRITE) where the stream can't be written. */
bool schedule_write(const struct plan *plan, FILE *stream, struct error *error);

/* Parts of it, which other reports have, too: SUMMARY, WARNINGS, CAUTIONS. */
void schedule_write_summary(const struct plan *plan, FILE *stream);
void schedule_write_warnings(const struct plan *plan,
                             const struct waypoints *waypoints, FILE *stream);
void schedule_write_cautions(const struct plan *plan, FILE *stream);

#endif
