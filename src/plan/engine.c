#include "plan/engine.h"

#include "base/units.h"

#include <assert.h>
#include <math.h>

/* The speed below which she motors is found to a thousandth of a knot, and the
 * moment up to which to a minute or two. */
enum { HALVINGS = 16 };
static const double LONGEST_S = 90.0 * 24.0 * SECONDS_PER_HOUR;

/* What can't be sailed with less motoring may be with less still, on another
 * clock: speeds are looked through from above in so many parts. */
enum { PARTS = 8 };

struct motoring engine_of(const struct boat *boat) {
    const struct motor *motor = &boat->motor;
    if (!motor->fitted)
        return (struct motoring){.below_mps = 0.0};
    return (struct motoring){.below_mps = motor->below_mps.value,
                             .speed_mps = motor->speed_mps.value,
                             .max_wind_mps = motor->max_wind_mps};
}

struct motoring engine_priced(const struct voyage *voyage, double price) {
    struct motoring priced = voyage->motoring;
    priced.price = price;
    priced.below_mps = fmin(priced.below_mps, priced.speed_mps / (1.0 + price));
    return priced;
}

double engine_litres(const struct boat *boat, double motored_s,
                     double elapsed_s) {
    const struct motor *motor = &boat->motor;
    if (!motor->fitted)
        return 0.0;
    double charging_s =
        motor->charge_s_per_day * elapsed_s / (24.0 * SECONDS_PER_HOUR);
    return motor->litres_per_hour.value * s_to_hours(motored_s + charging_s);
}

double engine_usable_litres(const struct boat *boat) {
    const struct motor *motor = &boat->motor;
    return motor->fitted
               ? motor->fuel_litres.value - motor->reserve_litres.value
               : 0.0;
}

double engine_usable_s(const struct boat *boat, double elapsed_s) {
    assert(boat->motor.fitted);
    double litres =
        engine_usable_litres(boat) - engine_litres(boat, 0.0, elapsed_s);
    return hours_to_s(litres / boat->motor.litres_per_hour.value);
}

/* --- within the fuel ------------------------------------------------------
 */

bool engine_sail(const struct voyage *voyage, const struct track *course,
                 const struct underway *start, struct underway *boat) {
    *boat = track_start(voyage, course, start);
    return track_sail(voyage, course, boat, NULL) == OBSTACLE_NONE &&
           boat->crept_s <= 0.0;
}

static bool has_fuel(const struct voyage *voyage, const struct underway *boat) {
    return engine_litres(voyage->boat, boat->motored_s, boat->t_s) <=
           engine_usable_litres(voyage->boat);
}

bool engine_is_within(const struct voyage *voyage, const struct track *course,
                      const struct underway *start) {
    struct underway boat;
    return voyage->motoring.below_mps <= 0.0 ||
           !engine_sail(voyage, course, start, &boat) ||
           has_fuel(voyage, &boat);
}

/* A course being fitted to the fuel. */
struct fitting {
    const struct track *course;
    const struct underway *start;
    struct voyage trial;
    struct motoring best; /* the cheapest that fits, and its figures */
    double cost_s, elapsed_s;
};

/* How much she motors by the trial's motoring: what can't be sailed so asks for
 * more. */
enum measure { TOO_LITTLE, FITS, TOO_MUCH };

static enum measure measure(struct fitting *fitting) {
    struct underway boat;
    if (!engine_sail(&fitting->trial, fitting->course, fitting->start, &boat))
        return TOO_LITTLE;
    if (!has_fuel(&fitting->trial, &boat))
        return TOO_MUCH;
    if (boat.cost_s < fitting->cost_s) {
        fitting->best = fitting->trial.motoring;
        fitting->cost_s = boat.cost_s;
        fitting->elapsed_s = boat.t_s;
    }
    return FITS;
}

/* Between two values of one figure of the trial's, until they are next to each
 * other: `above` is what the higher one makes, and the lower does not. */
static void halve(struct fitting *fitting, double *figure, double *low,
                  double *high, enum measure above) {
    for (int i = 0; i < HALVINGS; i++) {
        *figure = 0.5 * (*low + *high);
        *(measure(fitting) == above ? high : low) = *figure;
    }
}

/* Between two speeds below which she motors. Where much of the way is sailed at
 * one speed there is a jump from too little to too much: the higher speed holds
 * for a time. */
static void fit_between(struct fitting *fitting, double low_mps,
                        double high_mps) {
    struct motoring *motoring = &fitting->trial.motoring;
    double low_s = 0.0, high_s = LONGEST_S;
    halve(fitting, &motoring->below_mps, &low_mps, &high_mps, TOO_MUCH);
    motoring->below_mps = high_mps;
    motoring->later_below_mps = low_mps;
    halve(fitting, &motoring->until_s, &low_s, &high_s, TOO_MUCH);
    motoring->later_below_mps = motoring->until_s = 0.0;
}

double engine_fit(struct voyage *voyage, const struct track *course,
                  const struct underway *start, double *elapsed_s) {
    struct fitting fitting = {.course = course,
                              .start = start,
                              .trial = *voyage,
                              .best = voyage->motoring,
                              .cost_s = HUGE_VAL};
    double *below_mps = &fitting.trial.motoring.below_mps;
    double full_mps = *below_mps, high_mps = full_mps;
    enum measure last = measure(&fitting);
    int parts = full_mps > 0.0 ? PARTS : 0;
    for (int i = 1; i <= parts && isinf(fitting.cost_s); i++) {
        double low_mps = full_mps * (PARTS - i) / PARTS;
        *below_mps = low_mps;
        enum measure here = measure(&fitting);
        if (here != TOO_MUCH && last == TOO_MUCH)
            fit_between(&fitting, low_mps, high_mps);
        else if (here == FITS)
            halve(&fitting, below_mps, &low_mps, &high_mps, TOO_LITTLE);
        high_mps = low_mps;
        last = here;
    }
    voyage->motoring = fitting.best;
    *elapsed_s = fitting.elapsed_s;
    return fitting.cost_s;
}
