/* The way left to a goal over open water, from anywhere: what a merit is made
 * of where land lies between, and the way home through straits that straight
 * runs miss.
 *
 * The sea is cut into squares of the Mercator chart, halved where the edge of
 * the open water (voyage.room_m) runs through them, down to half a mile, and
 * finer off the start and the goal. From the goal outwards every open square
 * learns its next corner, a place in straight sight from which the way goes on
 * (Nash, Koenig, Tovey 2010, "Lazy Theta*", on squares of many sizes). Squares
 * on ways over half as long again as the best one from the start stay unknown.
 *
 * Only what bars for good counts here: a zone that opens again is left to the
 * integrator. Ways are a little longer than the shortest, by a few parts in a
 * hundred at most.
 */
#ifndef SEARCH_WATERWAY_H
#define SEARCH_WATERWAY_H

#include "base/arena.h"
#include "voyage/voyage.h"
#include <stddef.h>

struct waterway;

/* Ways are shorter than they are told to be, by this factor at most. */
#define WATERWAY_SAFE_FRAC 0.95

/* For a voyage that has `room_m`. The result lives in `arena` and may be asked
 * from several threads. */
const struct waterway *waterway_make(const struct voyage *voyage,
                                     struct position start,
                                     struct position goal, struct arena *arena);

/* Is there a way from the start at all? */
bool waterway_reaches(const struct waterway *waterway);

/* The way left from a place, in metres. */
double waterway_left_m(const struct waterway *waterway, struct position at);

/* The places at which the way from `at` turns, in order, the goal the last one
 * if it is among the first `most`. Returns how many; 0 where none is known. */
size_t waterway_path(const struct waterway *waterway, struct position at,
                     struct position *corners, size_t most);

#endif
