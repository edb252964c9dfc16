/* What the columns of LEGS have no room for: the side of the boom, the engine,
 * what to beware of, what is an estimate. */
#ifndef REPORT_LEG_REMARKS_H
#define REPORT_LEG_REMARKS_H

#include "report/waypoint.h"
#include <stdio.h>

/* A line for each that is true of a leg, with the names of those legs. */
void leg_remarks_write(const struct plan *plan,
                       const struct waypoints *waypoints, FILE *stream);

#endif
