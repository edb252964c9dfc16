/* Quick distances on a sphere, for bounds and merits in the search only: within
 * 0.6 % of the ellipsoid. Everything that is printed uses geodesic or rhumb. */
#ifndef EARTH_SPHERE_H
#define EARTH_SPHERE_H

#include "earth/position.h"

#define SPHERE_RADIUS_M 6371008.8 /* mean radius, IUGG */

/* A sphere distance times this is never longer than the true one. */
#define SPHERE_SAFE_FRAC 0.994

/* A place as a unit vector, for repeated distances. */
struct sphere_point {
    double x, y, z;
};

struct sphere_point sphere_point(struct position position);
double sphere_distance_m(struct sphere_point a, struct sphere_point b);

#endif
