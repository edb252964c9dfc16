/* Sentences of a plan with words for the marks of plan/marks.h. */
#ifndef REPORT_MARKED_H
#define REPORT_MARKED_H

#include "report/waypoint.h"

/* As the schedule speaks: "leg W003", "Thu 15 Mar 08:15 UTC-3:30". In
 * `arena`. */
const char *marked_for_sheet(struct arena *arena, const struct plan *plan,
                             const struct waypoints *waypoints,
                             const char *text);

/* For files: legs counted from 1, "leg 3", and times as sharp as they can be
 * known, in UTC: "Thu 15 Mar 11:45 UTC". */
const char *marked_in_utc(struct arena *arena, const struct plan *plan,
                          const char *text);

/* For messages: UTC too, but the schedule's names of the legs. */
const char *marked_for_message(struct arena *arena, const struct plan *plan,
                               const struct waypoints *waypoints,
                               const char *text);

#endif
