/* How the time until first light is spent, where the plan is to arrive by
 * daylight: she slows down, or waits (plan/pacing.h). */
#ifndef REPORT_SPARE_H
#define REPORT_SPARE_H

#include "report/waypoint.h"
#include <stdio.h>

/* "slow down to 4.9 kn to arrive by daylight; ": what of it a leg has, to stand
 * before what else is said of it; "" if nothing. In `arena`. */
const char *spare_of_leg(struct arena *arena, const struct plan_leg *leg);

/* Entries of the head and of a leg that has some of it. */
void spare_write_head(const struct plan *plan, FILE *stream);
void spare_write_leg(const struct plan_leg *leg, FILE *stream);

/* Under the table of legs: which, and how slow, how long. */
void spare_write_legs(const struct waypoints *waypoints, FILE *stream);

#endif
