/* Fetch: the open water that the wind has blown over, up to the land.
 *
 * From the points of a raster the distance to land is measured in FETCH_RAYS
 * directions, when it is first asked for; between the points it is interpolated
 * along each ray. Near land the raster is fine, elsewhere coarse. Land narrower
 * than a cell of the sea mask (2 to 10 km), and further off a twentieth of the
 * distance, may be missed: it shelters little.
 *
 * The sea that reaches a place comes from a fan of directions, not from one:
 * each ray counts with the square of the cosine of its angle off the wind, as
 * the energy of a wind sea is spread (n = 2), and its length projected on the
 * wind's direction, as in the effective fetch of Saville (Shore Protection
 * Manual, 1977 edition; from memory). So a straight coast has the fetch of its
 * distance, and open water stays open; in the lee of an island part of the fan
 * is short.
 */
#ifndef EARTH_FETCH_H
#define EARTH_FETCH_H

#include "base/arena.h"
#include "earth/angle.h"
#include "earth/sea_mask.h"

enum { FETCH_RAYS = 24 };

/* Land beyond this does not limit; neither does what lies beyond the box. */
#define FETCH_FAR_M 1.0e6

/* No fetch is shorter: the least that a sea is reckoned with. */
#define FETCH_LEAST_M 1000.0

struct fetch;

/* Of a coast's mask, and the box that it was loaded for. */
const struct fetch *fetch_make(const struct sea_mask *mask,
                               const struct coast_box *box,
                               struct arena *arena);

/* Metres to land, ray i towards i * 360 / FETCH_RAYS degrees. */
struct fetch_fan {
    float ray_m[FETCH_RAYS];
};

/* False where no land limits in any direction, or nothing is known. Threads may
 * ask at the same time. */
bool fetch_fan_at(const struct fetch *fetch, struct position at,
                  struct fetch_fan *fan);

/* The effective fetch of a sea out of that direction (a vector of length 1
 * that points where it comes from), at most `open_m`, above 0: the fetch beyond
 * which that sea does not grow. At least FETCH_LEAST_M, or open_m. */
double fetch_effective_m(const struct fetch *fetch, const struct fetch_fan *fan,
                         struct vector_mps from, double open_m);

#endif
