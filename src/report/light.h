/* By what light work is done: sun, twilight and moon of its moment and place,
 * told by the hour where the hour is known to an hour. Night is the sun more
 * than 6 degrees below the horizon: nautical twilight down to 12, then dark. */
#ifndef REPORT_LIGHT_H
#define REPORT_LIGHT_H

#include "base/arena.h"
#include "report/waypoint.h"
#include <stdio.h>

/* "by day, sun 41 deg up", "in civil twilight", "at night, in nautical
 * twilight, no moon", "at night, dark, moon 34 deg up, 62 % lit". Where the
 * hour is not known: "by day", "in twilight", "at night, moon: see NIGHTS". */
const char *light_at(struct arena *arena, const struct plan *plan,
                     const struct plan_change *change);

/* What of that a column "day", "twilight" or "night" does not say: "sun 41 deg
 * up", "civil twilight", "nautical twilight, no moon", "dark, moon 34 deg up,
 * 62 % lit", "moon: see NIGHTS"; NULL where the hour is not known by day. */
const char *light_closer(struct arena *arena, const struct plan *plan,
                         const struct plan_change *change);

/* For under the legs, which of them start in what light. */
void light_write_legs(const struct plan *plan,
                      const struct waypoints *waypoints, FILE *stream);

#endif
