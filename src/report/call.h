/* When to call the skipper, and what to do in a squall: by the limits of the
 * spar and the reefs of the boat file. */
#ifndef REPORT_CALL_H
#define REPORT_CALL_H

#include "report/waypoint.h"
#include <stdio.h>

/* What a squall adds to the mean wind, in knots (common practice, no source).
 */
#define CALL_SQUALL_KN 12.0

/* With no sail on the spar: a wind that has shifted by so much is another than
 * that of the plan (common practice, no source). */
#define CALL_SHIFT_DEG 20.0

/* No boat sails nearer to the apparent wind than the one, and from the other
 * on the crew speaks of the wind as dead aft (common practice, no source). */
#define CALL_CLOSEST_DEG 25.0
#define CALL_ASTERN_DEG 170.0

/* For the leg that is sailed first: "  Call  " and "  Squall  ". */
void call_write_departure(const struct plan *plan, FILE *stream);

/* CALL THE SKIPPER: the same for each rig of the passage, its legs named. */
void call_write(const struct plan *plan, const struct waypoints *waypoints,
                FILE *stream);

#endif
