/* The sea that stands at one place when the wind has a past: growth by
 * equivalent duration, over open water.
 *
 * The sea that stands is turned into the time that the wind of now would have
 * needed to raise it; from there it grows on by the growth law for as long as
 * that wind blows. Common practice in coastal hindcasts; no source for the
 * rules below, by which it is complete:
 *
 *   - New waves come from the wind's direction and turn the sea towards it by
 *     the part of the energy that is new. By the same part a sea that is longer
 *     than this wind makes it becomes shorter.
 *   - Where the wind comes from more than STANDING_TURN_DEG off the sea, that
 *     sea is left behind, and a new one begins to grow.
 *   - What is higher than this wind can ever raise is left behind too.
 *   - What is left behind keeps period and direction, and its height halves in
 *     STANDING_HALVING_S. The wind takes it up again as far as it could hold
 *     it, if it blows that way.
 *
 * Nothing travels: a swell from elsewhere is in no such sea.
 */
#ifndef SEA_STANDING_H
#define SEA_STANDING_H

#include "earth/angle.h"
#include "sea/wave.h"

#define STANDING_TURN_DEG 60.0
#define STANDING_HALVING_S (12.0 * 3600.0)

struct standing_system {
    double height_m, period_s; /* both 0 where there is none */
    double fetch_m;            /* that would be needed to raise it */
    struct vector_mps from;    /* where it comes from; of length 1 */
};

struct standing_sea {
    struct standing_system wind_sea, left;
};

/* `wind` blows over the ground, at 10 m, and has so for `seconds`. */
struct standing_sea standing_begin(struct vector_mps wind, double seconds);

/* It blows for `seconds` more, > 0. A wind that changes is given in steps, each
 * with the wind of its middle. */
void standing_blow(struct standing_sea *sea, struct vector_mps wind,
                   double seconds);

#endif
