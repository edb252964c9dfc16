/* When a leg starts, for a column of a table. */
#ifndef REPORT_LEG_START_H
#define REPORT_LEG_START_H

#include "report/clock.h"

/* As clock_print_short(); two rows of one time would say that one of them is
 * nothing: where another leg starts in the same quarter of an hour, the minute
 * is told. `leg` is one of the plan's. */
void leg_start_print(const struct plan *plan, const struct plan_leg *leg,
                     char text[SHARP_TEXT_SIZE]);

#endif
