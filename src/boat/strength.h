/* What the spar carries along its length, and what a headsail asks of it: an
 * estimate for steady pulls. Shock loads, a tip that dips into a wave, end
 * fittings and the track on the mast are not in it; they fail sooner than the
 * tube. docs/method-spar.md tells the model. */
#ifndef BOAT_STRENGTH_H
#define BOAT_STRENGTH_H

#include "boat/boat.h"

/* A tube's breaking load over what is counted safe: for joints with play, a
 * load off the middle, pulls that are not steady (common practice, no source).
 * A maker's limit is taken as it is given: safe already. */
#define STRENGTH_SAFETY 3.0

/* Where the safe load is from, or why it is not known. */
enum strength_basis {
    STRENGTH_MAKER,
    STRENGTH_TUBE,
    STRENGTH_NOT_GIVEN,  /* neither limit nor tube */
    STRENGTH_INCOMPLETE, /* not all of diameter, wall and material */
    STRENGTH_MATERIAL    /* no figures that hold for every such tube */
};

enum strength_basis strength_basis(const struct spar *spar);

/* Safe load along the spar set to that length: the maker's limit at any, else
 * the tube's; unknown but on the first two grounds. */
struct figure strength_safe_n(const struct spar *spar, double length_m);

/* Air of the standard atmosphere brought to rest: 0.5 rho v^2. */
double wind_pressure_pa(double wind_mps);

/* Force of the sail over pressure x area: spar to windward, a cup across the
 * wind (Hoerner's open hemisphere 1.42, from memory); to leeward, the greatest
 * of lift 1.5 and drag 0.5 together (from memory). */
#define SAIL_FORCE_WING 1.4
#define SAIL_FORCE_REACH 1.6

/* Load along the spar over the force of the sail. */
#define COMPRESSION_FRAC (10.0 / 9.0)

/* Load along the spar with a sail of that area drawing on it, spar to
 * windward or to leeward, in that apparent wind. */
double strength_load_n(double aws_mps, double area_m2, bool to_windward);

/* The hardest that a sail pulls within the limits of one mode. */
struct strength_limits {
    bool usable;     /* at some angle, in that wind; else all below is 0 */
    double wind_mps; /* limit of the mode, or of the sail if that is less */
    double gust_mps; /* limit of the mode, less in the same proportion */
    double wind_aws_mps, gust_aws_mps;
};

/* The apparent wind is the most at any angle of the mode, by day; in the gust
 * the boat still goes as in the wind. */
struct strength_limits strength_limits(const struct boat *boat,
                                       const struct headsail *sail,
                                       bool to_windward);

/* Where the sail's load is the safe one: in a gust, the boat going as in the
 * wind of the limits; or, where that wind is too much already, in a steady
 * wind, to 0.05 m/s below. */
struct strength_end {
    bool steady;
    double wind_mps; /* true: of the gust, or the steady one */
    double aws_mps;
};

/* `limits` are usable, the sail's area is known, safe_n > 0. */
struct strength_end strength_end(const struct boat *boat,
                                 const struct headsail *sail, bool to_windward,
                                 const struct strength_limits *limits,
                                 double safe_n);

#endif
