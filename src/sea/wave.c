#include "sea/wave.h"

#include "earth/angle.h"
#include <math.h>
#include <stddef.h>

static const struct wave_system *highest_system(const struct sea *sea) {
    const struct wave_system *highest = NULL;
    for (int i = 0; i < SEA_SYSTEMS; i++) {
        const struct wave_system *system = &sea->system[i];
        if (!system->known)
            continue;
        if (!highest || system->height_m > highest->height_m)
            highest = system;
    }
    return highest;
}

/* The energies of the systems add, so the heights add in squares. */
static double height_of_systems_m(const struct sea *sea) {
    double squares = 0.0;
    for (int i = 0; i < SEA_SYSTEMS; i++)
        if (sea->system[i].known)
            squares += sea->system[i].height_m * sea->system[i].height_m;
    return sqrt(squares);
}

void sea_complete(struct sea *sea) {
    const struct wave_system *highest = highest_system(sea);
    if (!highest)
        return;
    if (!sea->height_known) {
        sea->height_known = true;
        sea->height_m = height_of_systems_m(sea);
    }
    sea->period_s = highest->period_s;
    sea->from_deg = highest->from_deg;
}

double wave_length_m(double period_s) {
    return GRAVITY_MPS2 * period_s * period_s / (2.0 * PI);
}

double wave_steepness(double height_m, double period_s) {
    if (period_s <= 0.0)
        return 0.0;
    return PI * height_m / wave_length_m(period_s);
}

double wave_encounter_rad_s(double period_s, double speed_mps,
                            double angle_deg) {
    if (period_s <= 0.0)
        return 0.0;
    double w = 2.0 * PI / period_s;
    double sine, cosine;
    sincos_deg(angle_deg, &sine, &cosine);
    return fabs(w - w * w * speed_mps * cosine / GRAVITY_MPS2);
}
