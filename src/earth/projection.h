/* Where the points of an even net on a chart lie on the globe, through PROJ.
 *
 * The charts of weather models: Lambert's cone, polar stereographic, Mercator.
 * Distances along the net are true on the parallels named.
 */
#ifndef EARTH_PROJECTION_H
#define EARTH_PROJECTION_H

#include "earth/position.h"
#include <stdbool.h>
#include <stddef.h>

enum projection_kind {
    PROJECTION_LAMBERT, /* two parallels, which may be one */
    PROJECTION_POLAR,   /* first parallel; its sign names the pole */
    PROJECTION_MERCATOR /* first parallel */
};

struct projection {
    enum projection_kind kind;
    double major_m, minor_m; /* axes of the earth; equal: a sphere */
    double first_parallel_deg, second_parallel_deg;
    double meridian_deg; /* along which the chart's y axis points north */
};

/* Point (i, j) is `step_x_m` * i to the right of the first one and `step_y_m` *
 * j up; either may be negative. */
struct net {
    struct position first;
    double step_x_m, step_y_m;
    size_t columns, rows;
    bool by_columns; /* the points of a column lie side by side in the list */
};

/* Fills columns * rows `sites`; longitudes in any turn. False where a figure
 * makes no sense or a point is not on the globe. */
bool projection_place(const struct projection *projection,
                      const struct net *net, struct position *sites);

#endif
