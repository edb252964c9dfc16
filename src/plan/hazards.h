/* What a finished plan has to say of land and zones. */
#ifndef PLAN_HAZARDS_H
#define PLAN_HAZARDS_H

#include "plan/plan.h"
#include "plan/water.h"

/* Stops in order: start, places to pass, finish. */
struct stops {
    const struct position *places;
    size_t count;
};

/* Fills `zones` of the plan, whose legs are there. */
void hazards_find_zones(struct plan *plan, const struct water *water,
                        struct stops stops, struct arena *arena);

/* Calls `warn` with a sentence, in `arena`, for each shore that a leg crosses,
 * each leg that comes nearer to the land than the clearance, or leaves the
 * coast that is known, and each zone that the track enters while it is closed.
 * A plan of ours has none of these; a track that was given may. */
void hazards_warn(const struct plan *plan, const struct water *water,
                  void (*warn)(void *context, const char *text), void *context,
                  struct arena *arena);

#endif
