/* Guidance to masters for following and quartering seas, MSC.1/Circ.1228 of
 * 11 January 2007, in the scale of a yacht. It was written for ships: what it
 * says of waves in ship's lengths is taken in lengths of this boat, and where
 * that says nothing about a yacht it is left out or held in.
 *
 * Surf-riding and broaching (4.2.1): waves from astern, 135 to 225 degrees off
 * the bow, and more speed than 1.8 sqrt(L) / cos(180 - angle) kn, L in metres
 * (the factor from memory). A ship's engine reaches that seldom; a yacht
 * running in a breeze always does. So it takes waves that can carry her as
 * well: GUIDANCE_SHORTEST to GUIDANCE_LONGEST of her lengths, and steep.
 *
 * Synchronous and parametric rolling (4.2.3): the period in which the waves
 * meet her near her roll period, or near half of it. The circular says "near";
 * GUIDANCE_NEAR is ours. The half and the sameness for parametric rolling from
 * memory.
 *
 * Successive high waves (4.2.2) is left out: its test, waves longer than 0.8 L
 * and higher than 0.04 L, is met by almost any sea a 10 m boat sails in (8 m,
 * 0.4 m). Its height is used as the least that counts at all: what is lower is
 * no matter to the boat, however steep or well timed.
 *
 * A boat of 10 to 15 m surfs on longer waves than these, too, and a crew wants
 * to know: guidance_is_steep() tells of any sea that is high for its length. */
#ifndef SEA_GUIDANCE_H
#define SEA_GUIDANCE_H

#include "sea/wave.h"

/* In boat's lengths. The shortest is that of 4.2.2, the longest common practice
 * (no source). */
#define GUIDANCE_SHORTEST 0.8
#define GUIDANCE_LONGEST 2.5

/* Least significant height, in boat's lengths (4.2.2). */
#define GUIDANCE_LEAST_HEIGHT 0.04

/* Significant height over wave length, from where a following sea may carry
 * the boat along: 1 in 25; common practice, no source. A fully developed sea
 * has 1 in 39 (Tp = 5 sqrt(Hs), calculated from Pierson and Moskowitz). */
#define GUIDANCE_SURF_STEEPNESS 0.04

/* From where any sea is called steep: 1 in 20; common practice, no source. A
 * single wave breaks at 1 in 7 (Michell 1893, from memory), and the highest of
 * a hundred is half as high again as the significant height: sqrt(ln 100 / 2),
 * calculated from Rayleigh's distribution. */
#define GUIDANCE_STEEP 0.05

/* How near a period is near: a tenth either way; common practice, no source.
 */
#define GUIDANCE_NEAR 0.1

enum guidance {
    GUIDANCE_SURFING,     /* and broaching */
    GUIDANCE_ROLL_PERIOD, /* met in her roll period */
    GUIDANCE_HALF_PERIOD, /* met in half of it */
    GUIDANCE_KINDS
};

/* The boat on her course. */
struct guidance_boat {
    double length_m, roll_period_s; /* > 0 */
    double heading_deg;
    double speed_mps; /* through the water, >= 0 */
};

/* Where waves come from, off the bow: 0 from ahead, 180 from astern, (-180,
 * 180], above 0 on the starboard side. Sign apart it is the angle of the
 * circular. */
double guidance_off_bow_deg(double heading_deg, double from_deg);

/* The critical speed; infinite outside the sector. */
double guidance_surf_speed_mps(double length_m, double off_bow_deg);

/* The period in which the waves meet the boat; infinite where she keeps up
 * with them. */
double guidance_meets_s(const struct guidance_boat *boat,
                        const struct wave_system *system);

/* Known, and high enough to matter to a boat of that length. */
bool guidance_counts(double length_m, const struct wave_system *system);

/* Significant height over wave length; 0 where not known. With a mean period
 * instead of the peak's it comes out up to 1.4 times as large: 1 / 0.834^2 for
 * a JONSWAP spectrum. */
double guidance_height_per_length(const struct wave_system *system);

/* One wave system at a time. False where it is not known. */
bool guidance_is_steep(double length_m, const struct wave_system *system);
bool guidance_applies(enum guidance kind, const struct guidance_boat *boat,
                      const struct wave_system *system);

#endif
