#include "plan/arrival.h"

#include "plan/marks.h"
#include "plan/trust.h"

#include <math.h>

enum { MINUTE_S = 60, DAY_S = 86400 };

static bool is_dark_at(struct position place, double unix_s) {
    return sun_light(sun_at(unix_s), place) == LIGHT_NIGHT;
}

static bool is_dark(const struct plan *plan, int64_t unix_s) {
    return is_dark_at(plan->to, (double)unix_s);
}

struct figure arrival_dark_s(struct position place, double unix_s) {
    double minute_s = ceil(unix_s / MINUTE_S) * MINUTE_S;
    if (!is_dark_at(place, unix_s))
        return figure_of(0.0);
    for (int s = 0; s <= DAY_S; s += MINUTE_S)
        if (!is_dark_at(place, minute_s + s))
            return figure_of(minute_s + s - unix_s);
    return figure_unknown();
}

double arrival_wait_s(const void *arrival_light, double t_s) {
    const struct arrival_light *light = arrival_light;
    double unix_s = (double)light->depart.unix_s + t_s;
    struct figure before_s =
        arrival_dark_s(light->finish, unix_s - ARRIVAL_RESERVE_S);
    struct figure dark_s = arrival_dark_s(light->finish, unix_s);
    if (!before_s.known || !dark_s.known)
        return 0.0;
    if (before_s.value > 0.0)
        return before_s.value;
    return dark_s.value > 0.0 ? dark_s.value + ARRIVAL_RESERVE_S : 0.0;
}

/* The turn nearest to `from`, towards `end`, to dark or to light; false where
 * it stays as it is. Looked for in the middle of each minute. */
static bool find(const struct plan *plan, struct instant from,
                 struct instant end, bool dark, struct instant *turn) {
    int64_t minute = from.unix_s / MINUTE_S, last = end.unix_s / MINUTE_S;
    int64_t step = last < minute ? -1 : 1;
    for (; minute != last + step; minute += step) {
        if (is_dark(plan, minute * MINUTE_S + MINUTE_S / 2) != dark)
            continue;
        turn->unix_s = (step > 0 ? minute : minute + 1) * MINUTE_S;
        return true;
    }
    return false;
}

static void put_light(const struct plan *plan, struct plan_arrival *arrival) {
    struct instant at = plan->summary.arrive;
    struct instant day_on = {at.unix_s + DAY_S};
    arrival->dark = is_dark(plan, at.unix_s);
    if (arrival->dark) {
        arrival->light_known =
            find(plan, at, day_on, false, &arrival->light_from);
        return;
    }
    arrival->dark_before =
        find(plan, at, arrival->early, true, &arrival->dark_until);
    arrival->dark_after =
        find(plan, at, arrival->late, true, &arrival->dark_from);
}

void arrival_give(struct plan *plan) {
    const struct plan_summary *summary = &plan->summary;
    plan->arrival = (struct plan_arrival){.known = false};
    if (!summary->reached)
        return;
    double lead_s = instant_minus(summary->arrive, plan->forecast_run);
    double error_s = fmin(trust_timing_error_s(lead_s),
                          ARRIVAL_MOST_FRAC * summary->elapsed_s);
    plan->arrival =
        (struct plan_arrival){.known = true,
                              .early = instant_plus(summary->arrive, -error_s),
                              .late = instant_plus(summary->arrive, error_s)};
    put_light(plan, &plan->arrival);
}

/* Up to here quarters of an hour mean something, beyond hours. */
static const double QUARTERS_S = 48.0 * SECONDS_PER_HOUR;

/* On the ship's clock, to the quarter or the hour before, or after. */
static struct instant rounded(const struct plan *plan, struct instant at,
                              bool up) {
    bool quarters = plan->summary.elapsed_s <= QUARTERS_S;
    double step_s = (quarters ? 0.25 : 1.0) * SECONDS_PER_HOUR;
    double shown_s = (double)at.unix_s + plan->display.zone_s;
    double steps = up ? ceil(shown_s / step_s) : floor(shown_s / step_s);
    return instant_plus(at, steps * step_s - shown_s);
}

struct instant arrival_early(const struct plan *plan) {
    return rounded(plan, plan->arrival.early, false);
}

struct instant arrival_late(const struct plan *plan) {
    return rounded(plan, plan->arrival.late, true);
}

const char *arrival_warning(const struct plan *plan, struct arena *arena) {
    const struct plan_arrival *arrival = &plan->arrival;
    if (arrival->dark && !arrival->light_known)
        return plan->arrive_by_day
                   ? "no arrival by daylight is to be had: at the finish it "
                     "stays dark all day; planned as for any arrival"
                   : "the arrival falls in the dark, which lasts all day";
    if (arrival->dark)
        return "the arrival falls in the dark: slow down or stand off until "
               "it is light";
    if (!arrival->dark_before && !arrival->dark_after)
        return NULL;
    return arena_print(arena,
                       "the arrival may fall in the dark: it may be early or "
                       "late, from %s to %s",
                       mark_time(arena, arrival_early(plan)),
                       mark_time(arena, arrival_late(plan)));
}
