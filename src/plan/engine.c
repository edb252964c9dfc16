#include "plan/engine.h"

#include "base/units.h"

#include <math.h>

/* The speed below which she motors is found to a thousandth of a knot, and the
 * moment up to which to a minute or two. */
enum { HALVINGS = 16 };
static const double LONGEST_S = 90.0 * 24.0 * SECONDS_PER_HOUR;

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
    double litres =
        engine_usable_litres(boat) - engine_litres(boat, 0.0, elapsed_s);
    return hours_to_s(litres / boat->motor.litres_per_hour.value);
}

/* --- within the fuel ------------------------------------------------------
 */

/* The boat at the end of the course, if it can be sailed without creeping. */
static bool sail(const struct voyage *voyage, const struct track *course,
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
           !sail(voyage, course, start, &boat) || has_fuel(voyage, &boat);
}

/* A course being fitted to the fuel. */
struct fitting {
    const struct track *course;
    const struct underway *start;
    struct voyage trial;
    struct motoring best; /* the last that fits, and its figures */
    double cost_s, elapsed_s;
};

/* Sails the course by the trial's motoring; true where there was fuel enough
 * for it. One that can't be sailed asks for more. */
static bool fits(struct fitting *fitting) {
    struct underway boat;
    if (!sail(&fitting->trial, fitting->course, fitting->start, &boat))
        return true;
    if (!has_fuel(&fitting->trial, &boat))
        return false;
    fitting->best = fitting->trial.motoring;
    fitting->cost_s = boat.cost_s;
    fitting->elapsed_s = boat.t_s;
    return true;
}

/* Between two values of one figure of the trial's, that with too little and
 * that with too much: both as near to what fits as may be. */
static void halve(struct fitting *fitting, double *figure, double *low,
                  double *high) {
    for (int i = 0; i < HALVINGS; i++) {
        *figure = 0.5 * (*low + *high);
        *(fits(fitting) ? low : high) = *figure;
    }
}

double engine_fit(struct voyage *voyage, const struct track *course,
                  const struct underway *start, double *elapsed_s) {
    struct fitting fitting = {.course = course,
                              .start = start,
                              .trial = *voyage,
                              .best = voyage->motoring,
                              .cost_s = HUGE_VAL};
    struct motoring *motoring = &fitting.trial.motoring;
    if (!fits(&fitting)) {
        double low_mps = 0.0, high_mps = motoring->below_mps;
        halve(&fitting, &motoring->below_mps, &low_mps, &high_mps);
        /* where much of the way is sailed at one speed there is a jump from too
         * little to too much: the higher speed holds for a time */
        double low_s = 0.0, high_s = LONGEST_S;
        motoring->below_mps = high_mps;
        motoring->later_below_mps = low_mps;
        halve(&fitting, &motoring->until_s, &low_s, &high_s);
    }
    voyage->motoring = fitting.best;
    *elapsed_s = fitting.elapsed_s;
    return fitting.cost_s;
}
