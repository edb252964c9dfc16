/* The best deck states along a given track, by dynamic programming: at every
 * vertex the spar may be set, gybed, stowed, the headsail rolled or unrolled;
 * for each deck state the cheapest way to be there in it is kept.
 */
#ifndef SEARCH_RIG_H
#define SEARCH_RIG_H

#include "search/track.h"

/* Finds the orders for the vertices of `track` (their own orders are not
 * looked at) from the deck state of `start`, which stands at its first vertex
 * with the wind on the side that suits. The spar ends stowed. `cost_s` is that
 * of the whole track. Where the track can't be sailed: why. */
enum obstacle rig_track(const struct voyage *voyage, struct track *track,
                        const struct underway *start, struct arena *scratch,
                        double *cost_s);

/* The same track with more vertices, so that changes find their place: none
 * further apart than `spacing_m`, closer where the spar has to be in before
 * the finish. */
struct track rig_divide(const struct voyage *voyage, const struct track *track,
                        double spacing_m, struct arena *arena);

/* The same track with one more vertex in the middle of every stretch. */
struct track rig_halve(const struct track *track, struct arena *arena);

/* The same track without the added vertices at which nothing changes. */
struct track rig_thin(const struct track *track, struct arena *arena);

#endif
