/* The Mercator chart of the WGS84 ellipsoid, in radians: x is the longitude, y
 * the isometric latitude. A rhumb line is a straight line on it, and shapes are
 * true in the small: a radian of chart is `mercator_scale_m` metres in every
 * direction. So whether a leg meets a shoreline, and how near it comes, is
 * plane geometry here.
 *
 * Formulas: Snyder 1987, Map Projections, USGS Professional Paper 1395,
 * equations 7-6 to 7-9 and 3-7.
 */
#ifndef EARTH_MERCATOR_H
#define EARTH_MERCATOR_H

#include "earth/position.h"

struct mercator {
    double x, y; /* radians */
};

/* Beyond 89.99 degrees the latitude is taken as that: a pole has no place on
 * the chart. x in [-pi, pi). */
struct mercator mercator_of(struct position position);

/* The same with x within pi of that of `near`: no seam between the two. */
struct mercator mercator_near(struct position position, struct mercator near);

struct position mercator_position(struct mercator point);

/* Metres to a radian of chart, at a latitude; its slope along y is minus the
 * sine of the latitude times itself. */
double mercator_scale_m(double lat_deg);

/* The same at an isometric latitude, to 1e-7 of it. */
double mercator_scale_at_m(double y);

/* Isometric latitude of a geodetic one strictly between the poles, radians. */
double isometric_latitude(double lat_rad);

#endif
