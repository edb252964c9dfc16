#include "plan/ways.h"

#include "plan/engine.h"
#include "plan/gybes.h"
#include "plan/ration.h"
#include "search/team.h"
#include "voyage/cost.h"

#include <math.h>
#include <stdint.h>

/* Moments up to which the engine is used that are tried, each so much before
 * the fuel is spent: it stops at the end of a step. */
enum { MOMENTS = 4 };
static const double SHORT_OF_IT_S = 60.0;

/* Cut into legs. What has few enough points without that limit is the same
 * with it. */
static struct track cut_into_legs(const struct ways_ask *ask,
                                  const struct voyage *voyage,
                                  const struct track *track,
                                  struct arena *arena, struct track *whole) {
    struct course_options free = ask->cut;
    free.most_points = SIZE_MAX;
    *whole = course_cut(voyage, track, ask->start, &free, arena);
    if (whole->count <= ask->cut.most_points)
        return track_copy(arena, whole);
    return course_cut(voyage, track, ask->start, &ask->cut, arena);
}

/* One search, cut into legs. */
static void search(const struct ways_ask *ask, const struct voyage *voyage,
                   const struct search_progress *told, struct arena *arena,
                   struct way *way) {
    search_run(voyage, ask->asked, told, arena, &way->found);
    way->cost_s = HUGE_VAL;
    way->course = way->whole = way->found.track;
    way->motoring = voyage->motoring;
    way->rationed = false;
    way->gybes_kept = voyage->gybes_kept;
    way->given_up = (struct track){.count = 0};
    if (!way->found.sailed)
        return;
    if (!way->found.reached)
        course_run_out(voyage, &way->found.track, ask->start);
    struct track cut =
        cut_into_legs(ask, voyage, &way->found.track, arena, &way->whole);
    double cost_s = track_cost(voyage, &cut, ask->start, &way->elapsed_s);
    if (way->found.reached || isfinite(cost_s))
        way->course = cut;
    if (!way->found.reached)
        course_run_out(voyage, &way->course, ask->start);
    if (way->found.reached)
        way->cost_s = cost_s;
}

bool ways_is_better(const struct voyage *voyage, const struct way *way,
                    const struct way *other) {
    bool both = isfinite(way->cost_s) && isfinite(other->cost_s);
    if (both && voyage->work_rule == WORK_DAYLIGHT_ONLY &&
        way->gybes_kept != other->gybes_kept)
        return way->gybes_kept;
    return way->cost_s < other->cost_s;
}

/* Has it more points than may be, and more than the other one? */
static bool is_over_long(const struct ways_ask *ask, const struct way *way,
                         const struct way *other) {
    return way->course.count > ask->cut.most_points &&
           way->course.count > other->course.count;
}

/* Another search where the way asks for such a gybe; where there is no other,
 * it costs too much more or takes too many points, the way stays. */
static void find(const struct ways_ask *ask, const struct voyage *voyage,
                 const struct search_progress *told, struct arena *arena,
                 struct way *way) {
    search(ask, voyage, told, arena, way);
    if (!way->found.reached)
        return;
    way->gybes_kept = gybes_are_kept(voyage, &way->course, ask->start);
    if (way->gybes_kept)
        return;
    struct voyage kept = *voyage;
    struct search_request asked = *ask->asked;
    struct ways_ask again = *ask;
    struct way other;
    kept.gybes_kept = true;
    asked.most_s = way->cost_s + fmin(COST_KEPT_GYBES_S, way->cost_s);
    again.asked = &asked;
    search(&again, &kept, told, arena, &other);
    other.given_up = way->course;
    if (other.cost_s <= asked.most_s && !is_over_long(ask, &other, way))
        *way = other;
}

/* The better of both into `best`, with what was given up for it. */
static void take_better(const struct voyage *voyage, const struct way *way,
                        struct way *best) {
    struct way left = *way;
    if (ways_is_better(voyage, way, best)) {
        left = *best;
        *best = *way;
    }
    bool given_up = best->gybes_kept && !left.gybes_kept;
    if (given_up && best->given_up.count == 0 && isfinite(left.cost_s))
        best->given_up = left.course;
}

/* Takes the way where it is better than the best so far once the engine is held
 * to the fuel, as it will be in the plan. */
static void consider(const struct ways_ask *ask, const struct voyage *voyage,
                     struct way *way, struct way *best) {
    struct voyage held = *voyage;
    held.motoring = engine_of(held.boat);
    way->cost_s = engine_fit(&held, &way->course, ask->start, &way->elapsed_s);
    way->motoring = held.motoring;
    way->gybes_kept = gybes_are_kept(&held, &way->course, ask->start);
    take_better(voyage, way, best);
}

static struct ration_offer offer_of(const struct ways_ask *ask,
                                    const struct voyage *voyage,
                                    const struct way *way) {
    double price = voyage->motoring.price;
    struct underway boat;
    if (!way->found.reached ||
        !engine_sail(voyage, &way->course, ask->start, &boat))
        return (struct ration_offer){.price = price, .cost_s = HUGE_VAL};
    return (struct ration_offer){.price = price,
                                 .cost_s = boat.cost_s - price * boat.motored_s,
                                 .motored_s = boat.motored_s};
}

/* What is good enough to end the searching: not a way that breaks the rule for
 * gybes. */
static double enough_s(const struct voyage *voyage, const struct way *best) {
    bool breaks = voyage->work_rule == WORK_DAYLIGHT_ONLY && !best->gybes_kept;
    return breaks ? HUGE_VAL : best->cost_s;
}

/* Searches within the fuel: the best way so far, and the one that motors too
 * much by the least. */
struct sparing {
    const struct ways_ask *ask;
    const struct voyage *voyage; /* without a price */
    const struct search_progress *told;
    struct arena *arena;
    struct ration ration;
    struct way best;
    struct track over;
    double over_price, over_s; /* and how long that motors */
};

static bool is_enough(const struct sparing *sparing) {
    return ration_is_enough(&sparing->ration,
                            enough_s(sparing->voyage, &sparing->best));
}

/* The way as what a price leads to, and as one within the fuel. */
static void weigh_offer(struct sparing *sparing, const struct voyage *priced,
                        struct way *way) {
    struct ration *ration = &sparing->ration;
    struct ration_offer offer = offer_of(sparing->ask, priced, way);
    if (ration->count == 0)
        ration_begin(ration, engine_usable_s(priced->boat, way->elapsed_s),
                     &offer);
    else
        ration_add(ration, &offer);
    if (isinf(offer.cost_s))
        return;
    if (offer.motored_s > ration->usable_s &&
        offer.motored_s < sparing->over_s) {
        sparing->over = way->course;
        sparing->over_price = offer.price;
        sparing->over_s = offer.motored_s;
    }
    consider(sparing->ask, priced, way, &sparing->best);
}

/* The moment at which the fuel is spent. */
struct spending {
    double left_s; /* that she may still motor */
    double until_s;
};

static void spend(void *context, const struct sail_step *step) {
    struct spending *spending = context;
    if (spending->left_s <= 0.0)
        return;
    double part = step->motored_s > spending->left_s
                      ? spending->left_s / step->motored_s
                      : 1.0;
    spending->until_s = step->start_s + part * step->seconds;
    spending->left_s -= step->motored_s;
}

static double spent_at_s(const struct sparing *sparing,
                         const struct voyage *voyage,
                         const struct track *course) {
    const struct underway *start = sparing->ask->start;
    struct spending spending;
    struct sail_observer observer = {.step = spend, .context = &spending};
    struct underway end, boat = track_start(voyage, course, start);
    if (!engine_sail(voyage, course, start, &end))
        return 0.0;
    spending = (struct spending){engine_usable_s(voyage->boat, end.t_s), 0.0};
    track_sail(voyage, course, &boat, &observer);
    return spending.until_s - SHORT_OF_IT_S;
}

/* One search that motors up to a moment and sails from there; the way's course
 * and whether that is within the fuel. False where there is none. */
static bool try_until(struct sparing *sparing, struct voyage *voyage,
                      double until_s, struct track *course, bool *within) {
    struct way way;
    voyage->motoring.until_s = until_s;
    voyage->motoring.later_below_mps = 0.0;
    find(sparing->ask, voyage, sparing->told, sparing->arena, &way);
    if (!way.found.reached)
        return false;
    *course = way.course;
    *within = engine_is_within(voyage, course, sparing->ask->start);
    consider(sparing->ask, voyage, &way, &sparing->best);
    return true;
}

/* Where all the motoring and hardly any are equally dear, no price leads to
 * what is between them: she motors until the fuel is spent, and sails from
 * there. Who may not motor later motors more before, or else finds a way with
 * less: moments between are tried. */
static void try_until_spent(struct sparing *sparing) {
    struct voyage voyage = *sparing->voyage;
    struct track course = sparing->over;
    double low_s = 0.0, high_s = HUGE_VAL;
    if (course.count == 0)
        return;
    voyage.motoring = engine_priced(sparing->voyage, sparing->over_price);
    double until_s = spent_at_s(sparing, &voyage, &course);
    for (int i = 0; i < MOMENTS && until_s > low_s && until_s < high_s; i++) {
        bool within;
        if (!try_until(sparing, &voyage, until_s, &course, &within))
            return;
        *(within ? &low_s : &high_s) = until_s;
        if (is_enough(sparing))
            return;
        until_s = spent_at_s(sparing, &voyage, &course);
        if (within || until_s <= low_s)
            until_s = 0.5 * (low_s + high_s);
    }
}

/* Searches again with a price on fuel, as long as that is worth it; what prices
 * leave of the fuel is spent on their courses. The way without a price reaches
 * the finish, with too much motoring. */
static void find_sparing(struct sparing *sparing, struct way *way) {
    struct voyage priced = *sparing->voyage;
    double price;
    sparing->best = *way;
    sparing->best.cost_s = HUGE_VAL;
    sparing->over_s = HUGE_VAL;
    weigh_offer(sparing, sparing->voyage, way);
    while (ration_next(&sparing->ration,
                       enough_s(sparing->voyage, &sparing->best), &price)) {
        struct way next;
        priced.motoring = engine_priced(sparing->voyage, price);
        find(sparing->ask, &priced, sparing->told, sparing->arena, &next);
        weigh_offer(sparing, &priced, &next);
    }
    if (!is_enough(sparing))
        try_until_spent(sparing);
    if (isfinite(sparing->best.cost_s)) {
        *way = sparing->best;
        way->rationed = true;
        return;
    }
    way->found.reached = way->found.sailed = false;
    way->found.cause = OBSTACLE_FUEL;
}

static void find_within(const struct ways_ask *ask, const struct voyage *voyage,
                        const struct search_progress *told, struct arena *arena,
                        struct way *way) {
    struct sparing sparing = {
        .ask = ask, .voyage = voyage, .told = told, .arena = arena};
    find(ask, voyage, told, arena, way);
    if (way->found.reached &&
        !engine_is_within(voyage, &way->course, ask->start))
        find_sparing(&sparing, way);
}

/* A way being looked for, in a hurry or with time to spare. */
struct finding {
    const struct ways_ask *ask;
    struct voyage voyage;
    const struct search_progress *told;
    struct arena *arena;
    struct way *best;
    bool tried;
};

/* Also once she is slowed down, or waits, for an arrival by daylight? */
static bool keeps_at_pace(const struct ways_ask *ask,
                          const struct voyage *voyage, const struct way *way,
                          struct arena *arena) {
    if (!change_is_deck_work(voyage->boat, CHANGE_MAINSAIL_GYBE))
        return true;
    struct track paced =
        pacing_course(voyage, &way->course, ask->start, &ask->pacing, arena);
    return gybes_are_kept(voyage, &paced, ask->start);
}

static struct haste_tried try_way(void *context, double factor) {
    struct finding *finding = context;
    const struct ways_ask *ask = finding->ask;
    struct voyage weighed = finding->voyage, held = finding->voyage;
    struct way way;
    weighed.ease *= factor;
    weighed.arrival_wait_s = NULL;
    find_within(ask, &weighed, finding->told, finding->arena, &way);
    struct haste_tried tried = {.cost_s = way.cost_s};
    if (way.found.reached && held.arrival_wait_s) {
        held.motoring = way.motoring;
        tried = pacing_judge(&held, &way.course, ask->start, &ask->pacing,
                             finding->arena);
        way.cost_s = tried.cost_s;
        way.gybes_kept = keeps_at_pace(ask, &held, &way, finding->arena);
        way.elapsed_s += voyage_arrival_wait_s(&held, way.elapsed_s);
    }
    if (finding->tried)
        take_better(&held, &way, finding->best);
    else
        *finding->best = way;
    finding->tried = true;
    return tried;
}

/* The way without the spar is for comparison: neither hurried nor delayed. */
static void find_best(const struct ways_ask *ask, bool spar_allowed,
                      const struct search_progress *told, struct arena *arena,
                      struct way *way) {
    struct finding finding = {.ask = ask,
                              .voyage = *ask->voyage,
                              .told = told,
                              .arena = arena,
                              .best = way};
    finding.voyage.spar_allowed = spar_allowed;
    if (spar_allowed)
        haste_try_all(try_way, &finding, ask->voyage->ease);
    else
        try_way(&finding, 1.0);
}

struct both {
    const struct ways_ask *ask;
    struct arena aside; /* of the search without */
    struct way *with, *without;
    bool begun; /* the search without */
};

static bool sets_spar(const struct track *track) {
    for (size_t i = 0; i < track->count; i++)
        if (track->vertices[i].order.spar != SPAR_STOWED)
            return true;
    return false;
}

static void begin_without(struct both *both) {
    const struct ways_ask *ask = both->ask;
    if (both->begun || ask->asked->start.spar != SPAR_STOWED)
        return;
    both->begun = true;
#pragma omp task
    find_best(ask, false, NULL, &both->aside, both->without);
}

static void hear(void *context, const char *stage, double done_frac) {
    const struct both *both = context;
    const struct search_progress *told = &both->ask->told;
    if (told->report)
        told->report(told->context, stage, done_frac);
}

static void hear_nearly_done(void *context, const struct track *best) {
    if (sets_spar(best))
        begin_without(context);
}

/* The best of all ways is that of those without the spar, too, where it leaves
 * the spar stowed; but for an arrival by daylight it may have been hurried. */
static bool does_without(const struct both *both) {
    const struct ways_ask *ask = both->ask;
    return ask->asked->start.spar == SPAR_STOWED &&
           !ask->voyage->arrival_wait_s && isfinite(both->with->cost_s) &&
           !sets_spar(&both->with->course) && !sets_spar(&both->with->whole) &&
           !sets_spar(&both->with->given_up);
}

/* The search with the spar is the longer one, so all threads begin with that;
 * the other one goes beside its end, or is not needed. */
static void find_both(void *context) {
    struct both *both = context;
    struct search_progress told = {
        .report = hear, .nearly_done = hear_nearly_done, .context = both};
    find_best(both->ask, true, &told, both->ask->arena, both->with);
    if (!both->begun && does_without(both))
        *both->without = *both->with;
    else
        begin_without(both);
}

void ways_find(const struct ways_ask *ask, struct way *with,
               struct way *without) {
    struct both both = {.ask = ask, .with = with, .without = without};
    arena_init(&both.aside);
    team_run(find_both, &both);
    without->course = track_copy(ask->arena, &without->course);
    without->whole = track_copy(ask->arena, &without->whole);
    without->given_up = track_copy(ask->arena, &without->given_up);
    without->found.track = without->course;
    without->found.isochrones = NULL;
    without->found.isochrone_count = 0;
    arena_free(&both.aside);
}

/* --- few points -----------------------------------------------------------*/

/* The cheaper of two courses; infinite where there is none. */
struct cheaper {
    size_t points;
    double cost_s, elapsed_s;
};

static void weigh(const struct ways_ask *ask, const struct way *way, bool spar,
                  const struct track *course, struct cheaper *cheaper) {
    struct voyage held = *ask->voyage;
    double elapsed_s;
    if (isinf(way->cost_s))
        return;
    held.spar_allowed = held.spar_allowed && spar;
    held.motoring = engine_of(held.boat);
    double cost_s = engine_fit(&held, course, ask->start, &elapsed_s);
    if (cost_s < cheaper->cost_s)
        *cheaper = (struct cheaper){course->count, cost_s, elapsed_s};
}

struct plan_fewer ways_fewer(const struct ways_ask *ask, const struct way *with,
                             const struct way *without) {
    struct cheaper cut = {.cost_s = HUGE_VAL}, whole = {.cost_s = HUGE_VAL};
    bool spar = !ways_is_better(ask->voyage, without, with);
    const struct way *best = spar ? with : without;
    weigh(ask, best, spar, &best->course, &cut);
    weigh(ask, with, true, &with->whole, &whole);
    weigh(ask, without, false, &without->whole, &whole);
    if (isinf(cut.cost_s) || isinf(whole.cost_s) ||
        whole.points <= ask->cut.most_points)
        return (struct plan_fewer){.points = 0};
    return (struct plan_fewer){whole.points, cut.cost_s - whole.cost_s,
                               cut.elapsed_s - whole.elapsed_s};
}

/* --- gybes kept -----------------------------------------------------------*/

/* Of a course of that way, as ways are compared; infinite where it is none. */
static double judged_s(const struct ways_ask *ask, const struct way *way,
                       bool spar, const struct track *course) {
    struct voyage held = *ask->voyage;
    double elapsed_s;
    if (isinf(way->cost_s) || course->count == 0)
        return HUGE_VAL;
    held.spar_allowed = held.spar_allowed && spar;
    held.motoring = engine_of(held.boat);
    double cost_s = engine_fit(&held, course, ask->start, &elapsed_s);
    if (isinf(cost_s) || !held.arrival_wait_s)
        return cost_s;
    return pacing_judge(&held, course, ask->start, &ask->pacing, ask->arena)
        .cost_s;
}

/* The cheaper of what the way has with such a gybe. */
static double gybing_s(const struct ways_ask *ask, const struct way *way,
                       bool spar) {
    double given_up_s = judged_s(ask, way, spar, &way->given_up);
    return way->gybes_kept
               ? given_up_s
               : fmin(given_up_s, judged_s(ask, way, spar, &way->course));
}

struct figure ways_kept_gybes_s(const struct ways_ask *ask,
                                const struct way *with,
                                const struct way *without) {
    bool spar = !ways_is_better(ask->voyage, without, with);
    const struct way *best = spar ? with : without;
    if (!best->gybes_kept)
        return figure_unknown();
    double least_s =
        fmin(gybing_s(ask, with, true), gybing_s(ask, without, false));
    double more_s = judged_s(ask, best, spar, &best->course) - least_s;
    return more_s > 0.0 ? figure_of(more_s) : figure_unknown();
}
