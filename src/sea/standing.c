#include "sea/standing.h"

#include "sea/growth.h"

#include <math.h>

/* Energies are heights squared. */
static double energy_of(const struct standing_system *system) {
    return system->height_m * system->height_m;
}

static double dot(struct vector_mps a, struct vector_mps b) {
    return a.east * b.east + a.north * b.north;
}

/* Of length 1; `other` where there is no direction to speak of. */
static struct vector_mps unit_of(struct vector_mps vector,
                                 struct vector_mps other) {
    double length = sqrt(dot(vector, vector));
    if (length < 1e-9)
        return other;
    return (struct vector_mps){vector.east / length, vector.north / length};
}

static struct vector_mps wind_from(struct vector_mps wind) {
    static const struct vector_mps north = {0.0, 1.0};
    return unit_of((struct vector_mps){-wind.east, -wind.north}, north);
}

/* `part` of the way from one direction to another, as energies add. */
static struct vector_mps turned(struct vector_mps from, struct vector_mps to,
                                double part) {
    struct vector_mps between = {from.east + part * (to.east - from.east),
                                 from.north + part * (to.north - from.north)};
    return unit_of(between, to);
}

/* Moves so much energy from one system into another. Period, fetch and
 * direction become those of the mix. */
static void move(struct standing_system *from, struct standing_system *into,
                 double energy) {
    double before = energy_of(into), left = energy_of(from) - energy;
    if (energy <= 0.0)
        return;
    double part = energy / (before + energy);
    into->period_s += part * (from->period_s - into->period_s);
    into->fetch_m += part * (from->fetch_m - into->fetch_m);
    into->from = turned(into->from, from->from, part);
    into->height_m = sqrt(before + energy);
    from->height_m = left > 0.0 ? sqrt(left) : 0.0;
}

/* Cosine of STANDING_TURN_DEG. */
static const double TURN_COSINE = 0.5;

/* What this wind does not hold goes; what it can hold of what went before
 * comes back. */
static void part_with(struct standing_sea *sea, struct vector_mps from,
                      double held) {
    struct standing_system *wind_sea = &sea->wind_sea, *left = &sea->left;
    if (dot(wind_sea->from, from) < TURN_COSINE) {
        move(wind_sea, left, energy_of(wind_sea));
        *wind_sea = (struct standing_system){.from = from};
    }
    double excess = energy_of(wind_sea) - held;
    if (excess > 0.0)
        move(wind_sea, left, excess);
    else if (dot(left->from, from) >= TURN_COSINE)
        move(left, wind_sea, fmin(-excess, energy_of(left)));
}

/* Below this no wind raises a sea. */
static const double CALM_MPS = 0.01;

static void grow(struct standing_system *sea, double wind_mps,
                 struct vector_mps from, double seconds) {
    if (wind_mps < CALM_MPS)
        return;
    double age_s = growth_time_s(wind_mps, sea->height_m);
    struct grown grown = growth_after(wind_mps, age_s + seconds);
    /* energy goes with time to the power 1.5; a full sea is made anew as fast
     * as it breaks */
    double aged = age_s / (age_s + seconds);
    double old = aged * sqrt(aged);
    double longer_s = sea->period_s - grown.period_s;
    sea->from = turned(sea->from, from, 1.0 - old);
    sea->height_m = grown.height_m;
    sea->period_s = grown.period_s + (longer_s > 0.0 ? old * longer_s : 0.0);
    sea->fetch_m = grown.fetch_m;
}

struct standing_sea standing_begin(struct vector_mps wind, double seconds) {
    struct vector_mps from = wind_from(wind);
    struct standing_sea sea = {.wind_sea.from = from, .left.from = from};
    grow(&sea.wind_sea, vector_length(wind), from, seconds);
    return sea;
}

void standing_blow(struct standing_sea *sea, struct vector_mps wind,
                   double seconds) {
    struct vector_mps from = wind_from(wind);
    double wind_mps = vector_length(wind);
    double full_m = growth_full_height_m(wind_mps);
    sea->left.height_m *= exp2(-seconds / STANDING_HALVING_S);
    part_with(sea, from, full_m * full_m);
    grow(&sea->wind_sea, wind_mps, from, seconds);
}
