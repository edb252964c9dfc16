/* Wave systems at one place and time, and the deep-water relations between
 * them. Directions are where the waves come from, true.
 *
 * w^2 = g k, wave length = g T^2 / (2 pi), encounter frequency
 * we = |w - w^2 U cos(b) / g| with b = 0 in a following sea (Stewart,
 * Introduction to Physical Oceanography, 2008, ch. 16; Fossen, MSS toolbox). */
#ifndef SEA_WAVE_H
#define SEA_WAVE_H

#include <stdbool.h>

#define GRAVITY_MPS2 9.80665

struct wave_system {
    bool known;      /* all three of: */
    double height_m; /* significant */
    double period_s; /* peak or mean, as the producer gives it */
    double from_deg;
};

enum { SEA_SYSTEMS = 4 }; /* wind sea (or combined sea), then three swells */

/* Where a system is from; the less it is the forecast's own, the later. */
enum wave_origin {
    WAVE_FORECAST,
    WAVE_SPLIT,    /* of a combined sea of a file, by a growth law */
    WAVE_ESTIMATED /* by a growth law from the wind alone */
};

struct sea {
    struct wave_system system[SEA_SYSTEMS];
    enum wave_origin origin[SEA_SYSTEMS];
    bool height_known;
    double height_m;       /* significant height of all systems together */
    double period_s;       /* of the highest known system; 0 if none is */
    double from_deg;       /* of the same */
    bool estimated;        /* by a growth law from the wind, not from a file */
    bool height_estimated; /* the height too: no limit is checked against it */
    bool split; /* a combined sea of a file, told apart by a growth law */
};

/* Fills height, period and direction of the whole from its systems:
 * heights add in squares. An already known height_m is kept. */
void sea_complete(struct sea *sea);

double wave_length_m(double period_s);

/* Slope of a regular wave, radians: pi H / L; 0 where period_s is 0. */
double wave_steepness(double height_m, double period_s);

/* Encounter frequency, rad/s, >= 0 (0 where period_s is 0). `angle_deg` between
 * the boat's heading and where the waves travel to: 0 following, 180 head. */
double wave_encounter_rad_s(double period_s, double speed_mps,
                            double angle_deg);

#endif
