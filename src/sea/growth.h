/* Wind sea from the wind: fetch- and duration-limited growth in deep water.
 *
 *   fetch     variance = 1.67e-7 U^2 X / g,  w = 22 (g^2 / (U X))^(1/3)
 *             JONSWAP: Hasselmann et al. 1973, as printed by R. H. Stewart,
 *             Introduction to Physical Oceanography, 2008, eqs 16.36 ff.
 *   full sea  variance = 2.74e-3 U19.5^4 / g^2, w = 0.877 g / U19.5, with
 *             U19.5 = 1.026 U: Pierson and Moskowitz 1964, from the same,
 *             eqs 16.30 ff.: H = 0.22 U^2 / g
 *   duration  t = 68.8 X^(2/3) / (g U)^(1/3): Shore Protection Manual 1984, as
 *             the time that waves take over the fetch at their group velocity
 *
 * U is the wind at 10 m throughout; the last manual has its own measure of wind
 * in its place, which makes no more than a tenth of the time. Other published
 * laws (that manual's, its successor's) differ from these by a quarter in
 * height and a third in period, and have full seas up to twice as high. These
 * were taken because they come nearest to the wind seas of weather centres'
 * wave models (tests/interop/wind_sea_test.c). An estimate, to be marked so. */
#ifndef SEA_GROWTH_H
#define SEA_GROWTH_H

#include "sea/wave.h"

/* Before the first step of a forecast the wind is taken to have blown for so
 * long. On analyses of such models, wind sea and wind at one moment, heights
 * then come out 11 to 28 % high on the whole (the same test); for a day, those
 * of more than 13 m/s would be 60 to 90 % too high. */
#define GROWTH_ASSUMED_HOURS 12.0

/* The fetch of open water that never limits the sea within those hours. */
#define GROWTH_OPEN_WATER_M 1.0e7

/* Significant height, peak period; `wind_from_deg` becomes the direction of
 * the sea. wind_mps >= 0 at 10 m (no wind: known, with height and period 0),
 * fetch_m and duration_s > 0; whichever limits more counts; capped at the
 * fully developed sea. */
struct wave_system growth_wind_sea(double wind_mps, double wind_from_deg,
                                   double fetch_m, double duration_s);

/* Of the fully developed sea of a wind >= 0. */
double growth_full_height_m(double wind_mps);

/* How long a wind > 0 takes to raise that height over open water; for the full
 * height and above, the time of the full sea. */
double growth_time_s(double wind_mps, double height_m);

/* What a wind > 0 has raised after that time over open water. */
struct grown {
    double height_m, period_s;
    double fetch_m; /* that is worth as much; at most that of the full sea */
};

struct grown growth_after(double wind_mps, double seconds);

#endif
