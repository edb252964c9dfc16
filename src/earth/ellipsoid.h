/* The figure of the earth: World Geodetic System 1984 (NIMA TR8350.2). */
#ifndef EARTH_ELLIPSOID_H
#define EARTH_ELLIPSOID_H

#define WGS84_EQUATOR_M 6378137.0
#define WGS84_FLATTENING (1.0 / 298.257223563)

/* First eccentricity, squared. */
#define WGS84_ECCENTRICITY2 (WGS84_FLATTENING * (2.0 - WGS84_FLATTENING))

#endif
