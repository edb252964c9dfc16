/* What if: the spar breaks, or the crew runs to another port. */
#ifndef REPORT_ESCAPE_H
#define REPORT_ESCAPE_H

#include "report/waypoint.h"
#include <stdio.h>

/* For under the arrival, as it is at departure: "  Spar breaks  ", and the port
 * that is reached soonest, "  Fallback  "; that none is known is said, too. */
void escape_write_departure(const struct plan *plan, FILE *stream);

/* IF THE SPAR BREAKS, leg by leg; FALLBACK, port by port and leg by leg. */
void escape_write(const struct plan *plan, const struct waypoints *waypoints,
                  FILE *stream);

#endif
