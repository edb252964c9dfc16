/* What the spar is worth: where it is faster, and from what distance setting
 * it pays. Pure arithmetic on the two polars; no weather. */
#ifndef BOAT_GAIN_H
#define BOAT_GAIN_H

#include "boat/boat.h"

/* Speed through the water with the spar out and drawing, and with it stowed,
 * at one wind; `usable` says whether the spar's own ranges and limits (margin
 * included, gust not) allow it there, to windward or to leeward. */
struct gain {
    double stowed_mps, spar_mps;
    bool usable_wing, usable_reach;
};

struct gain gain_at(const struct boat *boat, double twa_deg, double tws_mps);

/* Best speed made good dead down the wind without and with the spar (within
 * its ranges), and the angles. */
struct downwind {
    double stowed_mps, stowed_twa_deg;
    bool spar_usable;
    double spar_mps, spar_twa_deg;
};

struct downwind gain_downwind(const struct boat *boat, double tws_mps);

/* Distance dead downwind from which one set and one stow pay:
 * D = c / (1/VMG_without - 1/VMG_with), c = seconds lost by set and stow.
 * Unknown where the spar is not faster. */
struct figure gain_break_even_m(const struct boat *boat, double tws_mps);

/* Length to set for a headsail: its foot (rule of thumb), clamped to the
 * spar's range. Warnings as text in `arena`, NULL where all is well: foot
 * beyond the range, or at full length, where a telescopic spar is weakest. */
double spar_length_for(const struct spar *spar, const struct headsail *sail,
                       struct arena *arena, const char **warning);

#endif
