/* What makes the boat roll: the part of each wave system and that of the
 * sails, over a leg. */
#ifndef PLAN_ROLLING_H
#define PLAN_ROLLING_H

#include "plan/plan.h"
#include "voyage/sail.h"

/* Sums over the steps of one leg; zeroed: none yet. */
struct rolling {
    double seconds, sails_s, damping_s;
    struct rolling_system {
        enum wave_origin origin;
        double roll2_s; /* the square of its part of the roll x time */
        double known_s, height_s, period_s, encounter_s;
        double off_bow_sine, off_bow_cosine;
    } system[SEA_SYSTEMS];
};

/* The parts of the roll at one moment, degrees RMS squared; with no waves and
 * no drive all 0. */
struct roll_parts {
    double system_deg2[SEA_SYSTEMS];
    double sails_deg2;
    double damping;
};

/* For a sea and a course, in all `roll_deg`: it stays the sum, whatever the
 * ceiling of the roll model takes off. */
struct roll_parts rolling_parts(const struct roller *roller,
                                const struct sea *sea,
                                const struct roll_course *course,
                                double roll_deg);

void rolling_add(struct rolling *rolling, const struct roller *roller,
                 const struct sail_step *step);

/* The means. */
struct plan_roll rolling_of_leg(const struct rolling *rolling);

#endif
