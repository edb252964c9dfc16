/* Areas to stay out of: polygons with holes, and circles, some of them for a
 * time only. Touching the edge counts as being inside.
 *
 * A polygon's lines are straight in longitude and latitude (RFC 7946); on the
 * chart they are cut so that no piece is off by more than 2 m. A circle becomes
 * a polygon round it, at most 1 m wider. A place in a hole is outside. Where an
 * area has been split along longitude 180, as RFC 7946 wants it, the cut counts
 * as edge for the distance from inside.
 */
#ifndef EARTH_ZONE_H
#define EARTH_ZONE_H

#include "base/arena.h"
#include "base/instant.h"
#include "earth/outline.h"
#include "earth/position.h"
#include <stdbool.h>
#include <stddef.h>

struct zone_ring {
    struct outline outline;
    bool is_hole; /* of the last ring before it that is none */
};

struct zone {
    const char *name;
    bool from_known, until_known;
    struct instant from, until; /* closed for all of that time, both included */
    struct zone_ring *rings;
    size_t ring_count, ring_capacity;
    /* round all of it */
    struct plane_box box;                              /* in chart radians */
    double south_deg, north_deg, middle_deg, half_deg; /* longitude: +- half */
};

struct zones {
    struct zone *items;
    size_t count, capacity;
};

/* Pieces that one ring may be cut into; and the widest circle, 600 nmi. */
enum { ZONE_EDGES = 250000 };
#define ZONE_RADIUS_M 1111200.0

/* Adds a ring: an outer one first, holes behind the one that they are in. The
 * corners are as for ring_make() (earth/ring.h). NULL, or what is wrong with
 * the ring, after "the ring": "crosses or touches itself near ...". */
const char *zone_add_ring(struct zone *zone, const struct position *corners,
                          size_t count, bool is_hole, struct arena *arena);

/* Adds a circle; 0 < radius_m <= ZONE_RADIUS_M. NULL, or what is wrong: "holds
 * a pole". */
const char *zone_add_circle(struct zone *zone, struct position centre,
                            double radius_m, struct arena *arena);

/* Is it closed at any moment between the two, in seconds since 1970? With
 * HUGE_VAL for both: does it stay closed for good, once it is? */
bool zone_is_active(const struct zone *zone, double start_unix_s,
                    double end_unix_s);

/* Does the rhumb line between the two touch the zone, or lie in it? */
bool zone_meets(const struct zone *zone, struct position from,
                struct position to);

/* Distance in metres to the edge, below 0 inside; within +-most_m, which is
 * at most 100 nmi. Good to 2 parts in 10 000 below 85 degrees. */
double zone_distance_m(const struct zone *zone, struct position at,
                       double most_m);

/* Least distance of the rhumb line to the zone, 0 where it meets it; at most
 * most_m, the same way. */
double zone_segment_distance_m(const struct zone *zone, struct position from,
                               struct position to, double most_m);

#endif
