/* route.gpx of a plan: one route whose points are the ends of the legs and
 * every set, gybe and stow, with what to do there in words; and one track that
 * samples the legs. */
#ifndef REPORT_ROUTE_GPX_H
#define REPORT_ROUTE_GPX_H

#include "plan/plan.h"
#include <stdio.h>

/* Names as report/waypoint.h gives them; <sym> "Flag" where someone goes
 * forward, else "Waypoint"; <type> set, gybe, stow, mainsail_gybe, start, leg
 * or finish. False (STATUS_WRITE) where the stream can't be written. */
bool route_gpx_write(const struct plan *plan, FILE *stream,
                     struct error *error);

#endif
