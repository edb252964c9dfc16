#include "sea/guidance.h"

#include "base/units.h"
#include "earth/angle.h"
#include <math.h>

/* Of the circular: from 135 to 225 degrees. */
static const double SECTOR_DEG = 135.0;

/* For the square root of a metre. */
static const double SURF_KN = 1.8;

double guidance_off_bow_deg(double heading_deg, double from_deg) {
    return angle_turn(heading_deg, from_deg);
}

double guidance_surf_speed_mps(double length_m, double off_bow_deg) {
    if (fabs(off_bow_deg) <= SECTOR_DEG)
        return HUGE_VAL;
    double sine, cosine;
    sincos_deg(180.0 - fabs(off_bow_deg), &sine, &cosine);
    return kn_to_mps(SURF_KN) * sqrt(length_m) / cosine;
}

double guidance_meets_s(const struct guidance_boat *boat,
                        const struct wave_system *system) {
    double off_bow_deg =
        guidance_off_bow_deg(boat->heading_deg, system->from_deg);
    double encounter_rad_s = wave_encounter_rad_s(
        system->period_s, boat->speed_mps, 180.0 - off_bow_deg);
    return encounter_rad_s > 0.0 ? 2.0 * PI / encounter_rad_s : HUGE_VAL;
}

bool guidance_counts(double length_m, const struct wave_system *system) {
    return system->known && system->period_s > 0.0 &&
           system->height_m > GUIDANCE_LEAST_HEIGHT * length_m;
}

double guidance_height_per_length(const struct wave_system *system) {
    if (!system->known || system->period_s <= 0.0)
        return 0.0;
    return system->height_m / wave_length_m(system->period_s);
}

bool guidance_is_steep(double length_m, const struct wave_system *system) {
    return guidance_counts(length_m, system) &&
           guidance_height_per_length(system) > GUIDANCE_STEEP;
}

static bool may_surf(const struct guidance_boat *boat,
                     const struct wave_system *system) {
    double lengths = wave_length_m(system->period_s) / boat->length_m;
    double off_bow_deg =
        guidance_off_bow_deg(boat->heading_deg, system->from_deg);
    return boat->speed_mps >
               guidance_surf_speed_mps(boat->length_m, off_bow_deg) &&
           lengths > GUIDANCE_SHORTEST && lengths < GUIDANCE_LONGEST &&
           guidance_height_per_length(system) > GUIDANCE_SURF_STEEPNESS;
}

static bool is_near(double period_s, double other_s) {
    return fabs(period_s - other_s) < GUIDANCE_NEAR * other_s;
}

bool guidance_applies(enum guidance kind, const struct guidance_boat *boat,
                      const struct wave_system *system) {
    if (!guidance_counts(boat->length_m, system))
        return false;
    switch (kind) {
    case GUIDANCE_SURFING:
        return may_surf(boat, system);
    case GUIDANCE_ROLL_PERIOD:
        return is_near(guidance_meets_s(boat, system), boat->roll_period_s);
    case GUIDANCE_HALF_PERIOD:
        return is_near(guidance_meets_s(boat, system),
                       0.5 * boat->roll_period_s);
    case GUIDANCE_KINDS:
        break;
    }
    return false;
}
