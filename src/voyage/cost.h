/* Every weight of the cost, in one place.
 *
 *   cost = elapsed + ease * (integral of discomfort dt + sum of hardship)
 *
 * in seconds. Changing a figure here changes which route is best; nothing else
 * in the program weighs anything. */
#ifndef VOYAGE_COST_H
#define VOYAGE_COST_H

#include "base/units.h"

/* Hardship of a change done from the cockpit, seconds: a few minutes of two
 * people's attention. Deck work has its own in the boat file. */
#define COST_COCKPIT_HARDSHIP_S 300.0

/* Deck work in more roll than the work limit is so much harder. */
#define COST_ROLL_HARDSHIP_FACTOR 2.0

/* So is deck work in gusts above its limit: a stow, which has limits of its
 * own, or what has to be done in any weather. */
#define COST_GUST_HARDSHIP_FACTOR 2.0

/* So is deck work with a shore or a zone nearer to leeward than this: hands
 * that are busy forward can't keep off it. */
#define COST_LEE_ROOM_M (4.0 * METRES_PER_NMI)
#define COST_LEE_HARDSHIP_FACTOR 2.0

/* A way without mainsail gybes beyond the work limits (single preventer) is
 * taken up to so much cost more, and up to as much again. Common practice, no
 * source: every night but the polar one is over by then. */
#define COST_KEPT_GYBES_S (24.0 * SECONDS_PER_HOUR)

/* The search may be asked about deck work that the limits forbid; it then
 * counts this many seconds, so that a way round it is always cheaper but the
 * figure stays finite while way points are being moved. */
#define COST_FORBIDDEN_WORK_S 1.0e6

/* Discomfort: 0 up to the easy RMS roll, 1 at the working limit, quadratic
 * between and beyond; seconds per second. */
static inline double cost_discomfort(double roll_deg, double easy_deg,
                                     double working_deg) {
    if (roll_deg <= easy_deg)
        return 0.0;
    double beyond = (roll_deg - easy_deg) / (working_deg - easy_deg);
    return beyond * beyond;
}

#endif
