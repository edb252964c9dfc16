/* The integral is a sum over frequency, evenly in its logarithm, and over the
 * direction of each wave against the heading, half a circle, either side
 * folded onto it. Both are sums over whole smooth humps, which evenly spaced
 * points take almost exactly. */
#include "sea/roll.h"

#include "earth/angle.h"
#include <math.h>

#define METRES_PER_FOOT 0.3048

/* Slope of a sea that breaks, H / L = 1/7 (Michell 1893, from memory). */
#define STEEPEST (1.0 / 7.0)

/* Steps in the logarithm of frequency: so many for each unit of damping, whose
 * resonance is as wide as twice the damping. */
#define STEPS_PER_DAMPING 0.25

/* Waves whose slope the hull feels by less than exp(-5) = 0.7 % are left
 * out: h(k)^2 there. */
#define LEAST_HULL_EXPONENT 10.0
#define ABOVE_PEAK 2.0 /* but never what lies near the peak */

/* Directions on the half circle. */
enum { DIRECTIONS = 240 };

/* The sails damp as on a reach up to the first angle, as on a run at 180. */
#define REACH_ENDS_DEG 130.0

/* Rhythmic rolling begins aft of this. What the sails drive in their full wind,
 * before 1 / (2 damping) amplifies it, with the headsail loose and with a sail
 * held out on either side (ROLL_SAIL_... in roll.h say what both are tuned
 * to). */
#define DRIVE_BEGINS_DEG 140.0
#define DRIVE_LOOSE_DEG 0.55
#define DRIVE_SPAR_DEG 0.35

/* --- the sails ---------------------------------------------------------------
 */

/* 0 below `low`, 1 above `high`, smooth between. */
static inline double smooth_step(double x, double low, double high) {
    double t = (x - low) * (1.0 / (high - low));
    if (t <= 0.0)
        return 0.0;
    if (t >= 1.0)
        return 1.0;
    return t * t * (3.0 - 2.0 * t);
}

static double sail_effect(const struct roll_course *course) {
    double effect = course->aws_mps * (1.0 / ROLL_FULL_WIND_MPS);
    return effect < 1.0 ? effect : 1.0;
}

double roll_damping(const struct roller *roller,
                    const struct roll_course *course) {
    double run = smooth_step(fabs(course->twa_deg), REACH_ENDS_DEG, 180.0);
    double on_run =
        course->spar_drawing ? roller->sail_run_spar : roller->sail_run_loose;
    double sails = roller->sail_reach + (on_run - roller->sail_reach) * run;
    double all = roller->damping + sails * sail_effect(course);
    return all > ROLL_DAMPING_FLOOR ? all : ROLL_DAMPING_FLOOR;
}

/* The force swings with the roll, so it is amplified as at resonance. It grows
 * with the root of the wind: a sail that hangs and slats in light air swings no
 * less wide for its little force. */
double roll_drive_rad2(const struct roll_course *course, double damping) {
    double run = smooth_step(fabs(course->twa_deg), DRIVE_BEGINS_DEG, 180.0);
    if (run <= 0.0)
        return 0.0;
    double drive_deg = course->spar_drawing ? DRIVE_SPAR_DEG : DRIVE_LOOSE_DEG;
    double drive_rad = drive_deg * RADIANS_PER_DEGREE * run;
    return drive_rad * drive_rad * sail_effect(course) /
           (4.0 * damping * damping);
}

/* --- the hull ----------------------------------------------------------------
 */

/* Orbital motion is taken at half the draft, as if the hull hung there:
 * exp(-k d / 2). Across the beam a wave's slope evens out as sin(x)/x with
 * x = k B / 2, here exp(-x^2 / 6). Both squared. Waves shorter than the boat
 * even out along her too when they come from astern; with crests as short as a
 * wind sea's that is left out, which errs towards more roll. */
static double hull_exponent(const struct roller *roller, double wave_number) {
    double across = wave_number * roller->beam_m;
    return wave_number * roller->draft_m + across * across / 12.0;
}

double roll_hull_factor2(const struct roller *roller, double wave_number) {
    return exp(-hull_exponent(roller, wave_number));
}

double roll_period_s(const struct wave_system *system) {
    return fmax(system->period_s, ROLL_SHORTEST_S);
}

double roll_height_m(const struct wave_system *system) {
    if (!system->known || !(system->period_s >= ROLL_NO_WAVE_S) ||
        !(system->height_m > 0.0))
        return 0.0;
    return fmin(system->height_m,
                STEEPEST * wave_length_m(roll_period_s(system)));
}

/* The highest frequency that rolls her: solves hull_exponent() for k. */
static double highest_rad_s(const struct roller *roller, double peak_rad_s) {
    double a = roller->beam_m * roller->beam_m / 12.0, b = roller->draft_m;
    double k = (sqrt(b * b + 4.0 * a * LEAST_HULL_EXPONENT) - b) / (2.0 * a);
    return fmax(sqrt(GRAVITY_MPS2 * k), ABOVE_PEAK * peak_rad_s);
}

static double response2(double encounter, double softness_s, double damping) {
    double r = encounter * softness_s;
    double stiff = 1.0 - r * r;
    return 1.0 / (stiff * stiff + 4.0 * damping * damping * r * r);
}

/* --- the integral ------------------------------------------------------------
 */

/* Directions against the heading that hold some of the system. */
struct fan_of_waves {
    int count;
    double cosine[DIRECTIONS];
    double weight[DIRECTIONS]; /* sin^2 of it in; all would be 1 without */
};

static double density_both_sides(const struct spectrum *spectrum, double cosine,
                                 double sine, double along) {
    double across = sqrt(fmax(1.0 - along * along, 0.0));
    return spectrum_spread_per_rad(spectrum, cosine * along + sine * across) +
           spectrum_spread_per_rad(spectrum, cosine * along - sine * across);
}

static struct fan_of_waves waves_from(const struct spectrum *spectrum,
                                      double along) {
    struct fan_of_waves waves = {.count = 0};
    if (spectrum->shape.spread_power == SPECTRUM_LONG_CRESTED) {
        waves.count = 1;
        waves.cosine[0] = along;
        waves.weight[0] = fmax(1.0 - along * along, 0.0);
        return waves;
    }
    const double step_deg = 180.0 / DIRECTIONS;
    double all = 0.0;
    for (int i = 0; i < DIRECTIONS; i++) {
        double sine, cosine;
        sincos_deg((i + 0.5) * step_deg, &sine, &cosine);
        double density = density_both_sides(spectrum, cosine, sine, along);
        all += density;
        if (density <= 0.0)
            continue;
        waves.cosine[waves.count] = cosine;
        waves.weight[waves.count++] = density * sine * sine;
    }
    for (int i = 0; i < waves.count; i++)
        waves.weight[i] /= all;
    return waves;
}

double roll_variance_rad2(const struct roller *roller,
                          const struct spectrum *spectrum,
                          const struct roll_meeting *meeting) {
    struct fan_of_waves waves = waves_from(spectrum, meeting->cosine);
    double softness_s = roller->period_s / (2.0 * PI);
    double step = fmin(spectrum_step(&spectrum->shape),
                       STEPS_PER_DAMPING * meeting->damping);
    double peak = spectrum->peak_rad_s;
    int first = (int)(log(SPECTRUM_LOWEST) / step);
    int last = (int)(log(highest_rad_s(roller, peak) / peak) / step);
    double variance = 0.0;
    for (int i = first; i <= last; i++) {
        double w = peak * exp(i * step);
        double k = w * w / GRAVITY_MPS2, drift = k * meeting->speed_mps;
        double answer = 0.0;
        for (int j = 0; j < waves.count; j++)
            answer += waves.weight[j] * response2(w - drift * waves.cosine[j],
                                                  softness_s, meeting->damping);
        variance += spectrum_density_m2s(spectrum, w) * w * step * k * k *
                    roll_hull_factor2(roller, k) * answer;
    }
    return variance;
}

static double system_rad2(const struct roller *roller, const struct sea *sea,
                          int index, const struct roll_course *course) {
    const struct wave_system *system = &sea->system[index];
    double height_m = roll_height_m(system);
    if (height_m <= 0.0)
        return 0.0;
    struct spectrum spectrum = spectrum_make(
        &spectrum_shapes[index == 0 ? SPECTRUM_WIND_SEA : SPECTRUM_SWELL],
        height_m, roll_period_s(system));
    struct roll_meeting meeting = {.speed_mps = course->speed_mps,
                                   .damping = roll_damping(roller, course)};
    double sine, cosine;
    sincos_deg(system->from_deg - course->heading_deg, &sine, &cosine);
    meeting.cosine = -cosine;
    return roll_variance_rad2(roller, &spectrum, &meeting);
}

/* A soft ceiling: the square of the RMS is one more than the ceiling's in
 * reciprocals. */
double roll_limited_deg(double variance_rad2) {
    const double ceiling_rad = ROLL_CEILING_DEG * RADIANS_PER_DEGREE;
    double limited = 1.0 + variance_rad2 * (1.0 / (ceiling_rad * ceiling_rad));
    return sqrt(variance_rad2 / limited) * (1.0 / RADIANS_PER_DEGREE);
}

double roll_rms_deg(const struct roller *roller, const struct sea *sea,
                    const struct roll_course *course) {
    double all_rad2 = roll_drive_rad2(course, roll_damping(roller, course));
    for (int i = 0; i < SEA_SYSTEMS; i++)
        all_rad2 += system_rad2(roller, sea, i, course);
    return roll_limited_deg(all_rad2);
}

/* --- natural period ----------------------------------------------------------
 */

double roll_period_from_gm_s(double beam_m, double draft_m, double length_m,
                             double gm_m) {
    double c = 0.373 + 0.023 * (beam_m / draft_m) - 0.043 * (length_m / 100.0);
    return 2.0 * c * beam_m / sqrt(gm_m);
}

bool roll_period_in_code(double beam_m, double draft_m, double length_m,
                         double period_s) {
    return length_m >= 24.0 && beam_m < ROLL_CODE_BEAM_TO_DRAFT * draft_m &&
           period_s < 20.0;
}

double roll_period_from_beam_s(double beam_m) {
    return beam_m / METRES_PER_FOOT / 3.3 * 0.95;
}
