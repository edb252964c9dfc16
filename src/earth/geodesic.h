/* Shortest lines on the WGS84 ellipsoid, by PROJ's geodesic routines. */
#ifndef EARTH_GEODESIC_H
#define EARTH_GEODESIC_H

#include "earth/position.h"

struct geodesic {
    double distance_m;
    double course_start_deg, course_end_deg; /* [0, 360) at either end */
};

struct geodesic geodesic_between(struct position from, struct position to);

/* Where `distance_m` along the geodesic with this first course leads. */
struct position geodesic_ahead(struct position from, double course_deg,
                               double distance_m);

#endif
