/* Where the spar pays along a given track: schedule.txt of `along`. */
#ifndef REPORT_STRETCHES_H
#define REPORT_STRETCHES_H

#include "report/waypoint.h"
#include <stdio.h>

/* Nothing for a plan that was searched. */
void stretches_write(const struct plan *plan, const struct waypoints *waypoints,
                     FILE *stream);

#endif
