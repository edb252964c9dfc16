/* How the energy of one wave system lies over frequency and direction.
 *
 * Over frequency: JONSWAP (Hasselmann et al. 1973, as printed by Stewart,
 * Introduction to Physical Oceanography, 2008, eq. 16.36), its level set by the
 * significant height, m0 = Hs^2 / 16, and its place by the peak period:
 *
 *   S(w) = level x^-5 exp(-1.25 x^-4) gamma^exp(-(x - 1)^2 / (2 sigma^2)),
 *   x = w / wp, sigma = narrow_below for x <= 1, else narrow_above
 *
 * With gamma 1 it is the shape of Pierson and Moskowitz (Bretschneider, ISSC).
 * Over direction: cos^n about the main one, nothing beyond 90 degrees from it.
 *
 * The period of a wave_system is taken for the peak period whatever it is.
 * Producers of partitions give that of the peak; where one gives a mean period
 * instead, the sea counts as 17 % (T1) to 22 % (Tz) shorter than it is. */
#ifndef SEA_SPECTRUM_H
#define SEA_SPECTRUM_H

struct spectrum_shape {
    double gamma;                      /* >= 1 */
    double narrow_below, narrow_above; /* sigma, > 0 */
    int spread_power; /* n of cos^n, >= 0, or SPECTRUM_LONG_CRESTED */
};

/* All of it travels one way. */
enum { SPECTRUM_LONG_CRESTED = -1 };

/* Two kinds of system. Wind sea: the published shape, gamma 3.3 and sigma 0.07
 * and 0.09, and the cos^2 spread that the towing tanks' conference takes for a
 * wind sea (from memory). Swell, which has run out of its wind and so has
 * sorted itself: gamma 7, the middle of what is taken for swell (from memory),
 * and cos^12, whose crests are 16 degrees apart in direction, as a swell's that
 * has not come from far (from memory). */
enum spectrum_kind { SPECTRUM_WIND_SEA, SPECTRUM_SWELL, SPECTRUM_KINDS };
extern const struct spectrum_shape spectrum_shapes[SPECTRUM_KINDS];

/* One system. */
struct spectrum {
    struct spectrum_shape shape;
    double peak_rad_s;
    double level_m2s;
    double spread_per_rad; /* density in the main direction */
};

/* Both > 0. */
struct spectrum spectrum_make(const struct spectrum_shape *shape,
                              double height_m, double peak_period_s);

/* m^2 per rad/s; w > 0. */
double spectrum_density_m2s(const struct spectrum *spectrum, double w_rad_s);

/* Moment of that order, -1 to 2, m^2 (rad/s)^order, by numbers. */
double spectrum_moment(const struct spectrum *spectrum, int order);

/* Mean period T1 = 2 pi m0 / m1; mean zero-crossing period
 * Tz = 2 pi sqrt(m0 / m2). */
double spectrum_mean_period_s(const struct spectrum *spectrum);
double spectrum_crossing_period_s(const struct spectrum *spectrum);

/* Density over direction, per radian, at an angle of that cosine from the main
 * direction; not for long crests. */
double spectrum_spread_per_rad(const struct spectrum *spectrum, double cosine);

/* Mean of cos(2 angle) over the spread: n / (n + 2); 1 for long crests. */
double spectrum_spread_cos2(const struct spectrum_shape *shape);

/* Steps in the logarithm of frequency that are fine enough to sum it by. */
double spectrum_step(const struct spectrum_shape *shape);

/* No energy to speak of below this part of the peak frequency: 6e-14 of it. */
#define SPECTRUM_LOWEST 0.45

#endif
