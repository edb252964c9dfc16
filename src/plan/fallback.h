/* Ports to run to: how far each is from the track, how long it takes, and the
 * last moment to turn off for it.
 *
 * The way is the shortest over open water, land and zones kept off as on the
 * passage. It is sailed with the spar stowed, engine not counted, beating where
 * the port lies to windward, whatever the crew's limits of wind, gust and sea.
 * The last turn-off is the last moment on the track from which the port is
 * reached in less time than the finish, the wind on the first course not
 * forward of 60 degrees: what lies to windward is no refuge (common practice,
 * no source).
 *
 * What was not found out is told apart from what is so: a port with no wind in
 * the forecast is `outside`, and a look that something stopped keeps what it
 * was.
 */
#ifndef PLAN_FALLBACK_H
#define PLAN_FALLBACK_H

#include "base/arena.h"
#include "base/error.h"
#include "plan/plan.h"
#include "plan/request.h"
#include "plan/water.h"

/* Legs are looked at one by one up to so many; of more, as many, evenly. */
enum { FALLBACK_LEGS = 100 };

/* Longest time between two looks at the track. */
#define FALLBACK_LOOK_S (6.0 * SECONDS_PER_HOUR)

/* The first course of a turn-off is no nearer to the wind. */
#define FALLBACK_OFF_DEG 60.0

/* A way that takes longer leads nowhere. */
#define FALLBACK_MOST_S (60.0 * 24.0 * SECONDS_PER_HOUR)

/* The ports of the request. One on land is brought to the sea, or refused
 * (STATUS_INPUT), as a start or finish is: plan/berth.h. `water` as for the
 * passage. */
bool fallback_find(struct plan *plan, const struct request *request,
                   const struct water *water, struct arena *arena,
                   struct error *error);

/* Fills what is told of them, by the legs and the track of the plan. `voyage`
 * and `water` are those of the passage. */
void fallback_give(struct plan *plan, const struct voyage *voyage,
                   const struct water *water, struct arena *arena);

#endif
