/* Why she rolls: for each leg, how much of the roll comes from the wind sea,
 * from each swell and from the sails' own drive. For those who ask (--verbose),
 * not for the watch. */
#ifndef REPORT_EXPLAIN_H
#define REPORT_EXPLAIN_H

#include "plan/plan.h"
#include <stdio.h>

/* ASCII, 80 columns. The squares of the degrees add up to that of the leg's
 * roll, the shares to 100 %, both but for rounding. */
void explain_roll(const struct plan *plan, FILE *stream);

#endif
