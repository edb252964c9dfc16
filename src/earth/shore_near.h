/* How near does a leg, or a place, come to the shoreline? Only the sea's own
 * counts, COAST_LAND. All places must be covered by the shore, asserted. A leg
 * is the rhumb line, the shorter way round.
 *
 * Distances are true ones along the ellipsoid, within a ten-thousandth up to
 * 100 nmi and 80 degrees of latitude. None beyond SHORE_REACH_M is told: a
 * greater limit is taken as that.
 */
#ifndef EARTH_SHORE_NEAR_H
#define EARTH_SHORE_NEAR_H

#include "earth/shore.h"

/* Least distance from any place of the leg: 0 where it meets the shoreline,
 * `most_m` where it comes no nearer. */
double shore_segment_distance_m(const struct shore *shore, struct position from,
                                struct position to, double most_m);

/* shore_segment_distance_m() < distance_m, but quick: far from any shore the
 * raster answers alone. */
bool shore_nearer(const struct shore *shore, struct position from,
                  struct position to, double distance_m);

/* Least distance from a place, or `most_m`. Where it is less, `nearest`, which
 * may be NULL, is set to the place on the shoreline. */
double shore_distance_m(const struct shore *shore, struct position at,
                        double most_m, struct position *nearest);

#endif
