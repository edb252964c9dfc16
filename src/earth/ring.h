/* A ring of corners as GeoJSON writes it (RFC 7946), with the jump at longitude
 * 180 taken out and checked for flaws. Lines between corners are straight in
 * longitude and latitude. */
#ifndef EARTH_RING_H
#define EARTH_RING_H

#include "base/arena.h"
#include "earth/plane.h"
#include "earth/position.h"
#include <stddef.h>

struct ring {
    struct plane_point *corners; /* degrees, x east; count + 1: the first again
                                    at the end. No two in a row the same */
    size_t count;                /* at least 3 */
};

/* `corners`: in order, the first not repeated, latitudes in [-90, 90],
 * longitudes as written, in [-360, 360]. From one to the next it goes the
 * shorter way round; a step of 180 degrees goes as it is written. From 180 to
 * -180 is no step, but where only a step round the world closes the ring.
 *
 * NULL, or what is wrong (in `arena`): "has fewer than 3 different corners",
 * "goes round a pole ...", "is more than 360 degrees wide", "crosses or touches
 * itself near 10 00.00 N 020 00.00 W". */
const char *ring_make(struct ring *ring, const struct position *corners,
                      size_t count, struct arena *arena);

#endif
