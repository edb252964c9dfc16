/* Wind sea from the wind: fetch- and duration-limited growth after the Coastal
 * Engineering Manual (EM 1110-2-1100 Part II ch. 2, eqs II-2-36 to II-2-38).
 * The other published laws differ from it, and from each other, by up to a
 * quarter in height: an estimate, to be marked so. */
#ifndef SEA_GROWTH_H
#define SEA_GROWTH_H

#include "sea/wave.h"

/* Before the first step of a forecast the wind is taken to have blown for so
 * long (common practice, no source). */
#define GROWTH_ASSUMED_HOURS 24.0

/* The fetch of open water that never limits the sea within those hours. */
#define GROWTH_OPEN_WATER_M 1.0e7

/* Significant height, peak period; `wind_from_deg` becomes the direction of
 * the sea. wind_mps >= 0 at 10 m (no wind: known, with height and period 0),
 * fetch_m and duration_s > 0; whichever limits more counts; capped at the
 * fully developed sea. */
struct wave_system growth_wind_sea(double wind_mps, double wind_from_deg,
                                   double fetch_m, double duration_s);

/* The law turned round, for one wind over open water. */
struct growth {
    double wind_mps;      /* at 10 m */
    double friction_mps;  /* u* */
    double full_height_m; /* of the fully developed sea; 0 without wind */
};

struct growth growth_of(double wind_mps);

/* How long this wind takes to raise that height, at most the full one. The
 * wind is above 0. */
double growth_time_s(const struct growth *growth, double height_m);

/* What it has raised after that time; of the full sea from when it is. */
struct grown {
    double height_m, period_s;
    double fetch_m; /* that is worth as much */
};

struct grown growth_after(const struct growth *growth, double seconds);

#endif
