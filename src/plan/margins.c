#include "plan/margins.h"

#include "plan/trust.h"

#include <math.h>

static const double LONG_PASSAGE_S = 72.0 * SECONDS_PER_HOUR;
static const double SHORT_MARGIN_S = 10.0 * SECONDS_PER_MINUTE;
static const double LONG_MARGIN_S = 30.0 * SECONDS_PER_MINUTE;

/* Costs closer than this are the same. */
static const double SAME_COST_S = 1.0;

double margins_cost_s(struct figure asked_s, double elapsed_s) {
    if (asked_s.known)
        return asked_s.value;
    return elapsed_s > LONG_PASSAGE_S ? LONG_MARGIN_S : SHORT_MARGIN_S;
}

/* One change, and what is asked of it. */
struct mover {
    const struct resail *resail;
    const struct resail_change *change;
    double most_cost_s;
};

/* One end of a margin. */
struct edge {
    double t_s;
    bool by_weather; /* else by sun, course, or as far as was looked */
};

static struct resailed sail_at(const struct mover *mover, double t_s) {
    return resail_is_order(mover->change)
               ? resail_moved(mover->resail, mover->change, t_s)
               : resail_brought_over(mover->resail, mover->change, t_s);
}

static bool will_do(const struct mover *mover, const struct resailed *sailed) {
    return sailed->sailed && sailed->cost_s <= mover->most_cost_s &&
           sailed->forbidden_s <= SAME_COST_S &&
           (!sailed->outside_limits || mover->change->outside_limits);
}

/* Night falls, or ends, between the two; or a last stow comes too late for the
 * landfall. */
static bool is_certain(const struct resailed *in, const struct resailed *out) {
    bool night = (in->light == LIGHT_NIGHT) != (out->light == LIGHT_NIGHT);
    return out->sailed ? night : out->too_late;
}

/* Between a moment that will do and one that won't. */
static struct edge narrow(const struct mover *mover, double good_s,
                          double bad_s) {
    struct resailed in = sail_at(mover, good_s), out = sail_at(mover, bad_s);
    while (fabs(bad_s - good_s) > MARGINS_EDGE_S) {
        double t_s = 0.5 * (good_s + bad_s);
        struct resailed sailed = sail_at(mover, t_s);
        bool good = will_do(mover, &sailed);
        *(good ? &in : &out) = sailed;
        *(good ? &good_s : &bad_s) = t_s;
    }
    return (struct edge){.t_s = good_s, .by_weather = !is_certain(&in, &out)};
}

/* Outwards to `bound_s`, step by step, to the first moment that won't do. */
static struct edge find_edge(const struct mover *mover, double bound_s) {
    double from_s = mover->change->begun_s, good_s = from_s;
    double way = bound_s < from_s ? -1.0 : 1.0;
    double most_s = fmin(fabs(bound_s - from_s), MARGINS_MOST_S);
    for (int i = 1; fabs(good_s - from_s) < most_s; i++) {
        double t_s = from_s + way * fmin(i * MARGINS_STEP_S, most_s);
        struct resailed sailed = sail_at(mover, t_s);
        if (!will_do(mover, &sailed))
            return narrow(mover, good_s, t_s);
        good_s = t_s;
    }
    return (struct edge){.t_s = good_s};
}

/* The mainsail never comes over later than planned, nor does what wind and
 * angle ask for: the integrator waits as long as it can. What it does once it
 * can, to unroll, is never sooner. */
static void find_edges(const struct mover *mover, struct edge edges[2]) {
    const struct resail_change *change = mover->change;
    double first_s, last_s, at_s = change->begun_s;
    bool order = resail_is_order(change);
    bool unrolls = change->unplanned && change->kind == CHANGE_UNROLL;
    bool waits = !order || (change->unplanned && !unrolls);
    resail_bounds(mover->resail, change, &first_s, &last_s);
    edges[0] = edges[1] = (struct edge){.t_s = at_s, .by_weather = true};
    if (change->kind == CHANGE_TACK)
        return;
    if (!unrolls)
        edges[0] = find_edge(mover, fmin(first_s, at_s));
    if (!waits)
        edges[1] = find_edge(mover, fmax(last_s, at_s));
    edges[1].t_s = fmax(edges[1].t_s, change->t_s);
}

void margins_span(const struct resail *resail,
                  const struct resail_change *change, double most_cost_s,
                  double *first_s, double *last_s) {
    struct edge edges[2];
    struct mover mover = {resail, change, most_cost_s};
    find_edges(&mover, edges);
    *first_s = edges[0].t_s;
    *last_s = edges[1].t_s;
}

/* What sun and course bound comes when they do. A planned moment that is not in
 * what is left would contradict it: then the clock says nothing at all. */
static void put_surety(const struct plan *plan, const struct edge edges[2],
                       struct plan_change *change) {
    struct plan_surety *sure = &change->sure;
    double lead_s = instant_minus(change->at, plan->forecast_run);
    *sure = (struct plan_surety){.known = true, .error_s = figure_unknown()};
    if (change->at.unix_s > plan->forecast_end.unix_s)
        return;
    double error_s = trust_timing_error_s(lead_s);
    sure->error_s = figure_of(error_s);
    sure->earliest =
        instant_plus(change->earliest, edges[0].by_weather ? error_s : 0.0);
    sure->latest =
        instant_plus(change->latest, edges[1].by_weather ? -error_s : 0.0);
    sure->any = sure->earliest.unix_s < sure->latest.unix_s &&
                sure->earliest.unix_s <= change->at.unix_s &&
                sure->latest.unix_s >= change->at.unix_s;
}

static double rms(const struct resailed *sailed) {
    return sqrt(sailed->roll2 / fmax(sailed->roll_s, 1e-9));
}

static struct plan_skip skip_of(const struct resail *resail,
                                const struct resail_change *change) {
    if (change->unplanned || !resail_is_order(change))
        return (struct plan_skip){.kind = SKIP_UNKNOWN};
    struct resailed undone = resail_undone(resail, change);
    if (undone.too_late)
        return (struct plan_skip){.kind = SKIP_NEVER};
    if (!undone.sailed && undone.obstacle == OBSTACLE_NONE)
        return (struct plan_skip){.kind = SKIP_UNKNOWN}; /* comes by itself */
    if (!undone.sailed)
        return (struct plan_skip){.kind = SKIP_CLOSED,
                                  .why = obstacle_name(undone.obstacle)};
    if (undone.forbidden_s > SAME_COST_S)
        return (struct plan_skip){.kind = SKIP_FORBIDDEN};
    struct resailed done = resail_done(resail, change);
    return (struct plan_skip){.kind = SKIP_COSTS,
                              .cost_s = undone.cost_s - resail->end.cost_s,
                              .later_s = undone.t_s - resail->end.t_s,
                              .roll_deg = rms(&undone) - rms(&done)};
}

static bool is_lit(const struct resailed *sailed) {
    return sailed->sailed && !sailed->outside_limits &&
           sailed->light != LIGHT_NIGHT && sailed->forbidden_s <= SAME_COST_S;
}

/* The last moment before the planned one at which the work is done in the
 * light: step by step, then between the two. */
static struct plan_lit lit_of(const struct mover *mover,
                              const struct plan *plan) {
    const struct resail *resail = mover->resail;
    const struct resail_change *change = mover->change;
    double first_s, last_s, dark_s = change->begun_s;
    struct resailed lit = {.sailed = false};
    resail_bounds(resail, change, &first_s, &last_s);
    first_s = fmax(first_s, dark_s - MARGINS_MOST_S);
    double lit_s = dark_s;
    while (!is_lit(&lit) && lit_s - MARGINS_STEP_S >= first_s) {
        dark_s = lit_s;
        lit_s -= MARGINS_STEP_S;
        lit = sail_at(mover, lit_s);
    }
    if (!is_lit(&lit))
        return (struct plan_lit){.known = false};
    while (dark_s - lit_s > MARGINS_EDGE_S) {
        double t_s = 0.5 * (lit_s + dark_s);
        struct resailed sailed = sail_at(mover, t_s);
        bool good = is_lit(&sailed);
        *(good ? &lit_s : &dark_s) = t_s;
        lit = good ? sailed : lit;
    }
    return (struct plan_lit){.known = true,
                             .at = instant_plus(plan->depart, lit_s),
                             .cost_s = lit.cost_s - resail->end.cost_s,
                             .later_s = lit.t_s - resail->end.t_s};
}

static void put_margin(const struct mover *mover, struct plan *plan,
                       struct plan_change *change) {
    struct edge edges[2];
    find_edges(mover, edges);
    change->earliest_known = change->latest_known = true;
    change->earliest = instant_plus(plan->depart, edges[0].t_s);
    change->latest = instant_plus(plan->depart, edges[1].t_s);
    put_surety(plan, edges, change);
    change->skip = skip_of(mover->resail, mover->change);
    if (change->light == LIGHT_NIGHT && change->outside_limits &&
        resail_is_last_stow(mover->resail, mover->change))
        change->lit = lit_of(mover, plan);
}

void margins_find(const struct resail *resail, double margin_s, double spent_s,
                  struct plan *plan) {
    if (!plan->summary.reached || resail->obstacle != OBSTACLE_NONE ||
        resail->change_count != plan->change_count)
        return;
    plan->margin_s = margin_s;
    for (size_t i = 0; i < plan->change_count; i++) {
        struct mover mover = {.resail = resail,
                              .change = &resail->changes[i],
                              .most_cost_s =
                                  resail->end.cost_s + margin_s - spent_s};
        put_margin(&mover, plan, &plan->changes[i]);
    }
}
