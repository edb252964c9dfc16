/* Wind sea from the wind: fetch- and duration-limited growth after the Coastal
 * Engineering Manual (EM 1110-2-1100 Part II ch. 2, eqs II-2-36 to II-2-38).
 * The other published laws differ from it, and from each other, by up to a
 * quarter in height: an estimate, to be marked so. */
#ifndef SEA_GROWTH_H
#define SEA_GROWTH_H

#include "sea/wave.h"

/* Where no wave field is there and no coast is loaded: open water and a wind
 * that has blown for this long. */
#define GROWTH_ASSUMED_HOURS 24.0

/* The fetch of open water that never limits the sea within those hours. */
#define GROWTH_OPEN_WATER_M 1.0e7

/* Significant height, peak period; `wind_from_deg` becomes the direction of
 * the sea. wind_mps >= 0 at 10 m (no wind: known, with height and period 0),
 * fetch_m and duration_s > 0; whichever limits more counts; capped at the
 * fully developed sea. */
struct wave_system growth_wind_sea(double wind_mps, double wind_from_deg,
                                   double fetch_m, double duration_s);

#endif
