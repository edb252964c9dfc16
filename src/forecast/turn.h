/* How the axes of a projected or rotated grid stand to east and north.
 *
 * The components of a wind or a current may be along those axes. They are
 * turned where u and v come together (forecast/pair.h).
 */
#ifndef FORECAST_TURN_H
#define FORECAST_TURN_H

#include "earth/angle.h"
#include "earth/position.h"
#include <stdbool.h>

enum turn_kind {
    TURN_NONE,     /* east and north */
    TURN_CONE,     /* Lambert, polar stereographic */
    TURN_POLE,     /* rotated lat-lon: north is another pole's */
    TURN_NOT_KNOWN /* they are along the axes, but how is not known here */
};

struct turn {
    enum turn_kind kind;
    double cone;                /* constant of the cone: 1 is the north pole's
                                   plane, -1 the south pole's */
    double meridian_deg;        /* along which the grid's north is north */
    struct position north_pole; /* of a rotated grid */
};

/* The constant of the cone that touches or cuts the globe in two parallels. */
double turn_cone(double first_parallel_deg, double second_parallel_deg);

/* The true direction of the grid's north at a place, (-180, 180]. */
double turn_deg(const struct turn *turn, struct position position);

/* Components along the axes to east and north. */
struct vector_mps turn_vector(const struct turn *turn, struct position position,
                              struct vector_mps along);

bool turn_same(const struct turn *a, const struct turn *b);

#endif
