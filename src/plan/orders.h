/* The orders for a track whose places are given, by dynamic programming; for
 * an arrival by daylight in a hurry or with time to spare, whichever is best:
 * plan/haste.h. */
#ifndef PLAN_ORDERS_H
#define PLAN_ORDERS_H

#include "plan/pacing.h"

struct orders_options {
    bool own_changes; /* changes at its places only; else places for them are
                         added, and those that are not used taken out */
    struct pacing_options pacing;
};

/* Where no orders can be chosen the obstacle is told, and the track has those
 * that it had, if perhaps at more places. It lives in `arena`. */
enum obstacle orders_give(const struct voyage *voyage, struct track *track,
                          const struct underway *start,
                          const struct orders_options *options,
                          struct arena *arena);

#endif
