#include "plan/rolling.h"

#include "sea/roll_table.h"

#include <math.h>

static double square(double x) {
    return x * x;
}

/* By the table: this is asked for every step of a plan. */
static double rms2_deg2(const struct roller *roller, const struct sea *sea,
                        const struct roll_course *course) {
    struct roll_sea waves = roll_sea_of(roller, sea);
    return square(roll_rms_in_sea_deg(roller, &waves, course));
}

/* The systems and the sails add in squares, and the sails drive her whatever
 * the sea: one system at a time, less the calm sea, is the part of each. */
struct roll_parts rolling_parts(const struct roller *roller,
                                const struct sea *sea,
                                const struct roll_course *course,
                                double roll_deg) {
    const struct sea calm = {.height_known = false};
    struct roll_parts parts = {.damping = roll_damping(roller, course)};
    parts.sails_deg2 = rms2_deg2(roller, &calm, course);
    double sum = parts.sails_deg2;
    for (int i = 0; i < SEA_SYSTEMS; i++) {
        struct sea alone = calm;
        alone.system[i] = sea->system[i];
        double both_deg2 = rms2_deg2(roller, &alone, course);
        parts.system_deg2[i] = fmax(both_deg2 - parts.sails_deg2, 0.0);
        sum += parts.system_deg2[i];
    }
    double whole = sum > 0.0 ? square(roll_deg) / sum : 0.0;
    for (int i = 0; i < SEA_SYSTEMS; i++)
        parts.system_deg2[i] *= whole;
    parts.sails_deg2 *= whole;
    return parts;
}

static struct roll_course course_of(const struct sail_step *step) {
    const struct motion *motion = step->motion;
    return (struct roll_course){.heading_deg = motion->heading_deg,
                                .speed_mps = motion->stw_mps,
                                .twa_deg = motion->twa_deg,
                                .aws_mps = motion->aws_mps,
                                .spar_drawing = deck_is_drawing(step->deck)};
}

static void add_waves(struct rolling_system *sums,
                      const struct wave_system *waves,
                      const struct motion *motion, double dt) {
    double sine, cosine;
    double off_bow_deg =
        guidance_off_bow_deg(motion->heading_deg, waves->from_deg);
    sincos_deg(off_bow_deg, &sine, &cosine);
    sums->known_s += dt;
    sums->height_s += dt * waves->height_m;
    sums->period_s += dt * waves->period_s;
    sums->encounter_s +=
        dt * wave_encounter_rad_s(waves->period_s, motion->stw_mps,
                                  180.0 - off_bow_deg);
    sums->off_bow_sine += dt * sine;
    sums->off_bow_cosine += dt * cosine;
}

void rolling_add(struct rolling *rolling, const struct roller *roller,
                 const struct sail_step *step) {
    const struct sea *sea = &step->conditions->sea;
    struct roll_course course = course_of(step);
    struct roll_parts parts =
        rolling_parts(roller, sea, &course, step->roll_deg);
    double dt = step->seconds;
    rolling->seconds += dt;
    rolling->sails_s += dt * parts.sails_deg2;
    rolling->damping_s += dt * parts.damping;
    for (int i = 0; i < SEA_SYSTEMS; i++) {
        rolling->system[i].roll2_s += dt * parts.system_deg2[i];
        if (!sea->system[i].known)
            continue;
        add_waves(&rolling->system[i], &sea->system[i], step->motion, dt);
        if (sea->origin[i] > rolling->system[i].origin)
            rolling->system[i].origin = sea->origin[i];
    }
}

static struct plan_roll_part part_of(const struct rolling_system *sums,
                                     double seconds) {
    struct plan_roll_part part = {.known = sums->known_s > 0.0,
                                  .roll2_deg2 = sums->roll2_s / seconds};
    if (!part.known)
        return part;
    part.height_m = sums->height_s / sums->known_s;
    part.period_s = sums->period_s / sums->known_s;
    part.off_bow_deg = angle_wrap_180(
        atan2(sums->off_bow_sine, sums->off_bow_cosine) / RADIANS_PER_DEGREE);
    if (sums->encounter_s > 0.0)
        part.meets_s = figure_of(2.0 * PI * sums->known_s / sums->encounter_s);
    return part;
}

struct plan_roll rolling_of_leg(const struct rolling *rolling) {
    double seconds = fmax(rolling->seconds, 1e-9);
    struct plan_roll roll = {.sails_deg2 = rolling->sails_s / seconds,
                             .damping = rolling->damping_s / seconds};
    for (int i = 0; i < SEA_SYSTEMS; i++) {
        roll.system[i] = part_of(&rolling->system[i], seconds);
        roll.origin[i] = rolling->system[i].origin;
    }
    return roll;
}
