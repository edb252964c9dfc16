/* Names of the points where legs start, as a list in the order of the table:
 * three and more in a row are told by the first and the last, "W003 to W008".
 */
#ifndef REPORT_LEG_NAMES_H
#define REPORT_LEG_NAMES_H

#include "report/waypoint.h"

/* Zeroed: none yet. */
struct leg_names {
    const char *text;                    /* what is before the last row */
    const struct waypoint *first, *last; /* of that row */
};

/* A point that starts a leg, after those that are there already. */
void leg_names_add(struct leg_names *names, const struct waypoint *point,
                   struct arena *arena);

/* "" where there is none. */
const char *leg_names_text(const struct leg_names *names, struct arena *arena);

#endif
