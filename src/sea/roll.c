/* One damped oscillator per wave system, in squares all the way through, so
 * that one square root is taken for the whole boat. Called for every heading
 * of every place that a search looks at: no memory, and nothing but plain
 * arithmetic per system once the sea is prepared. */
#include "sea/roll.h"

#include "earth/angle.h"
#include <math.h>

#define METRES_PER_FOOT 0.3048

/* Short-crestedness: the mean of cos(2 angle) over the spread of directions
 * about the main one, n / (n + 2) for a cos^n spread. Wind sea: n = 2, the
 * spread that the towing tanks' conference takes for a wind sea (from memory);
 * swell: n = 12, nearly long-crested (from memory). */
#define SPREAD_WIND_SEA 0.5
#define SPREAD_SWELL 0.857

/* Shorter waves do not reach down the keel of any yacht. */
#define SHORTEST_PERIOD_S 1.0

/* RMS slope of a sea that breaks, H / L = 1/7 (Michell 1893, from memory). */
#define STEEPEST_SLOPE_RAD (PI / 14.0)

/* The sails damp as on a reach up to the first angle, as on a run at 180. */
#define REACH_ENDS_DEG 130.0

/* Rhythmic rolling begins aft of this; DRIVE_DEG is what the sails drive in
 * their full wind, before 1 / (2 damping) amplifies it (ROLL_SAIL_... in
 * roll.h say what it is tuned to). */
#define DRIVE_BEGINS_DEG 140.0
#define DRIVE_DEG 0.9

/* 0 below `low`, 1 above `high`, smooth between. */
static double smooth_step(double x, double low, double high) {
    double t = (x - low) / (high - low);
    if (t <= 0.0)
        return 0.0;
    if (t >= 1.0)
        return 1.0;
    return t * t * (3.0 - 2.0 * t);
}

static double sail_effect(const struct roll_course *course) {
    double effect = course->aws_mps / ROLL_FULL_WIND_MPS;
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

/* The sails' own part on a run: the force swings with the roll. */
static double driven_rad(const struct roll_course *course, double damping) {
    double run = smooth_step(fabs(course->twa_deg), DRIVE_BEGINS_DEG, 180.0);
    return DRIVE_DEG * RADIANS_PER_DEGREE * run * sail_effect(course) /
           (2.0 * damping);
}

/* Slope: k Hs / 4. Two factors make it the slope that the hull feels: the
 * orbital motion dies away with depth (taken at half the draft, as if the hull
 * hung there), and waves not much longer than the beam even out across it
 * (sin(x)/x with x = k B / 2, here exp(-x^2 / 6)). Squared they are the one
 * exponential below. Waves shorter than the boat even out along her too when
 * they come from astern; with crests as short as a wind sea's that is left
 * out, which errs towards more roll. */
static struct roll_wave wave_of(const struct roller *roller,
                                const struct wave_system *system,
                                double spread) {
    struct roll_wave wave = {.spread = spread};
    double w = wave.frequency_rad_s = 2.0 * PI / system->period_s;
    double k = wave.number_rad_m = w * w / GRAVITY_MPS2;
    double slope = k * system->height_m * 0.25;
    if (slope > STEEPEST_SLOPE_RAD)
        slope = STEEPEST_SLOPE_RAD;
    double across = k * roller->beam_m;
    wave.slope_rad2 =
        slope * slope * exp(-k * roller->draft_m - across * across / 12.0);
    sincos_deg(system->from_deg + 180.0, &wave.towards_sine,
               &wave.towards_cosine);
    return wave;
}

struct roll_sea roll_sea_of(const struct roller *roller,
                            const struct sea *sea) {
    struct roll_sea waves;
    waves.count = 0;
    for (int i = 0; i < SEA_SYSTEMS; i++) {
        const struct wave_system *system = &sea->system[i];
        double spread = i == 0 ? SPREAD_WIND_SEA : SPREAD_SWELL;
        if (system->known && system->period_s >= SHORTEST_PERIOD_S)
            waves.wave[waves.count++] = wave_of(roller, system, spread);
    }
    return waves;
}

/* Square of the response to one wave system, rad^2; `cosine` of the angle
 * between the heading and where the waves travel to; `softness_s` is 1 over
 * the natural frequency. */
static double response_rad2(const struct roll_wave *wave, double cosine,
                            double speed_mps, double softness_s,
                            double damping) {
    double abeam = 0.5 * (1.0 - wave->spread * (2.0 * cosine * cosine - 1.0));
    double encounter =
        wave->frequency_rad_s - wave->number_rad_m * speed_mps * cosine;
    double r = encounter * softness_s;
    double r2 = r * r;
    double stiff = 1.0 - r2;
    return wave->slope_rad2 * abeam /
           (stiff * stiff + 4.0 * damping * damping * r2);
}

double roll_rms_heading_deg(const struct roller *roller,
                            const struct roll_sea *sea,
                            const struct roll_course *course, double sine,
                            double cosine) {
    double damping = roll_damping(roller, course);
    double driven = driven_rad(course, damping);
    double squares = driven * driven;
    double softness_s = roller->period_s * (1.0 / (2.0 * PI));
    for (int i = 0; i < sea->count; i++) {
        const struct roll_wave *wave = &sea->wave[i];
        squares += response_rad2(
            wave, cosine * wave->towards_cosine + sine * wave->towards_sine,
            course->speed_mps, softness_s, damping);
    }
    const double ceiling_rad = ROLL_CEILING_DEG * RADIANS_PER_DEGREE;
    double limited = 1.0 + squares * (1.0 / (ceiling_rad * ceiling_rad));
    return sqrt(squares / limited) / RADIANS_PER_DEGREE;
}

double roll_rms_in_sea_deg(const struct roller *roller,
                           const struct roll_sea *sea,
                           const struct roll_course *course) {
    double sine, cosine;
    sincos_deg(course->heading_deg, &sine, &cosine);
    return roll_rms_heading_deg(roller, sea, course, sine, cosine);
}

double roll_rms_deg(const struct roller *roller, const struct sea *sea,
                    const struct roll_course *course) {
    struct roll_sea waves = roll_sea_of(roller, sea);
    return roll_rms_in_sea_deg(roller, &waves, course);
}

double roll_period_from_gm_s(double beam_m, double draft_m, double length_m,
                             double gm_m) {
    double c = 0.373 + 0.023 * (beam_m / draft_m) - 0.043 * (length_m / 100.0);
    return 2.0 * c * beam_m / sqrt(gm_m);
}

double roll_period_from_beam_s(double beam_m) {
    return beam_m / METRES_PER_FOOT / 3.3 * 0.95;
}
