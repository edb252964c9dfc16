/* What the spar is worth: where it is faster, and from what distance setting
 * it pays. Pure arithmetic on the two polars; no weather. */
#ifndef BOAT_GAIN_H
#define BOAT_GAIN_H

#include "boat/boat.h"

/* Speed through the water with the spar out and drawing, and with it stowed,
 * at one wind, by day (`factor` of the boat file included); `usable` says
 * whether the spar's own ranges and limits (margin included, gust not) allow it
 * there, to windward or to leeward. */
struct gain {
    double stowed_mps, spar_mps;
    bool usable_wing, usable_reach;
};

struct gain gain_at(const struct boat *boat, double twa_deg, double tws_mps);

/* Best speed made good dead down the wind without and with the spar (within
 * its ranges and wind limits), and the angles. spar_mps is 0 where it is not
 * usable. */
struct downwind {
    double stowed_mps, stowed_twa_deg;
    bool spar_usable;
    double spar_mps, spar_twa_deg;
};

struct downwind gain_downwind(const struct boat *boat, double tws_mps);

/* Distance dead downwind from which one set and one stow pay:
 * D = c / (1/VMG_without - 1/VMG_with), c = seconds lost by set and stow, in
 * which the boat makes work_speed_frac of her stowed speed on the course. By
 * day. Unknown where the spar is not faster, or not usable. */
struct figure gain_break_even_m(const struct boat *boat, double tws_mps);

/* A telescopic spar weakens towards its full length: it is set to this part of
 * it at most (common practice, no source: one of 13 to 24 ft to 19 ft). One
 * whose length hardly changes is not telescopic. */
#define SPAR_STRONG_FRAC (19.0 / 24.0)
#define SPAR_FIXED_M 0.1

/* The greatest length that a spar should be set to. */
double spar_strong_length_m(const struct spar *spar);

/* Length to set for a headsail: its foot (rule of thumb: the spar as long as
 * the foot of the sail it holds), within the shortest and the greatest length
 * to set. A spar shorter than the foot still serves, so the rest is a warning
 * as text in `arena`, NULL where all is well: foot beyond the spar's range, or
 * beyond what it should be set to. */
double spar_length_for(const struct spar *spar, const struct headsail *sail,
                       struct arena *arena, const char **warning);

#endif
