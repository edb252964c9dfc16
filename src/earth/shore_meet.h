/* Does a way meet a shoreline? Only the sea's own counts, COAST_LAND; a lake
 * is no water for us. All places must be covered by the shore, asserted. A leg
 * is the rhumb line, the shorter way round.
 */
#ifndef EARTH_SHORE_MEET_H
#define EARTH_SHORE_MEET_H

#include "earth/shore.h"

/* Meeting is crossing, touching with an end, and passing through a point of
 * the shoreline. Two places are a leg of no length. */
bool shore_meets(const struct shore *shore, struct position from,
                 struct position to);

/* The same for the geodesic, in chords of 10 km or less. True also where the
 * geodesic leaves the box: nothing is known there. */
bool shore_meets_geodesic(const struct shore *shore, struct position from,
                          struct position to);

/* The first place where the leg meets a shoreline; false if it does not. */
bool shore_first_crossing(const struct shore *shore, struct position from,
                          struct position to, struct position *at);

#endif
