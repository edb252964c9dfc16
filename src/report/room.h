/* How long a change can wait, in words: its margin, what of it the forecast's
 * timing leaves, what it costs to leave it undone. Each NULL where there is
 * nothing to say. */
#ifndef REPORT_ROOM_H
#define REPORT_ROOM_H

#include "base/arena.h"
#include "plan/plan.h"

/* "between Fri 15 Mar 08:00 and 14:30 UTC"; "at its place, where the
 * course turns"; "when the wind asks for it"; "Fri 15 Mar 08:15 UTC, no sooner
 * and no later". */
const char *room_between(struct arena *arena, const struct plan *plan,
                         const struct plan_change *change);

/* "surely between Fri 15 Mar 09:15 and 13:15 UTC, be the forecast 1 h 15 min
 * out there or not"; "go by the sky, not by the clock: ..." where
 * nothing is sure, or not the planned moment; "not by the clock: ..." alone of
 * work that goes by the place: its sign (report/due.h) says so. */
const char *room_surely(struct arena *arena, const struct plan *plan,
                        const struct plan_change *change);

/* "done in the last light instead, begun by Fri 15 Mar 18:15 UTC: arrival 25
 * min later, weighed cost 40 min"; NULL where that is not worked out: of a last
 * stow in the dark it is. */
const char *room_lit(struct arena *arena, const struct plan *plan,
                     const struct plan_change *change);

/* "leaving it undone: arrival 2 h 30 min later, 0.9 deg more roll; weighed cost
 * 2 h 10 min, the track kept". */
const char *room_skip(struct arena *arena, const struct plan_change *change);

/* What that means, for under the changes. */
const char *room_key(struct arena *arena, const struct plan *plan);

#endif
