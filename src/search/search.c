#include "search/search.h"

#include "base/units.h"
#include "earth/geodesic.h"
#include "search/boards.h"
#include "search/daylit.h"
#include "search/improve.h"
#include "search/lifted.h"
#include "search/rays.h"
#include "search/refine.h"
#include "search/rig.h"
#include "search/team.h"

#include <math.h>

/* The three passes of fronts, each with the bound that the one before found.
 * Layers from start to goal, cells in parts of a layer's run (a label has to
 * be able to leave its cell), degrees between headings. */
struct pass {
    const char *name;
    double layers, cell_frac, fan_deg;
};
static const struct pass scout = {"scouting", 16.0, 0.6, 15.0};
static const struct pass wide = {"wide front", 32.0, 0.5, 7.5};
static const struct pass fine = {"fine front", 80.0, 0.45, 5.0};

/* A shorter passage has fewer of the fine layers, down to so many: the weather
 * changes little in less time. It holds nothing finer than its own values: but
 * for coasts and zones no layer is shorter than this part of the way, or time,
 * from one to the next; there are no fewer than those of the wide front. */
static const double FINE_LAYER_S = 3300.0;
static const double FEWEST_FINE_LAYERS = 64.0;
static const double GRAIN_FRAC = 0.25;

/* Limits for a front whose ways were barred by them, times the ones before. */
static const double HELD_BACK_FRAC = 0.98;

/* Fronts near what is known, at most. */
enum { NEAR_TURNS = 4 };

/* Where moves take so much off what it promised, another may find more; not
 * where the last one, too, brought less than that part. */
static const double AGAIN_FRAC = 0.005;
static const double AGAIN_GAIN_FRAC = 0.005;

/* The shortest and longest time step between isochrones. */
static const double SHORTEST_LAYER_S = 120.0;
static const double LONGEST_LAYER_S = 12.0 * SECONDS_PER_HOUR;

/* To be less uneasy by this part of the whole time is worth being late. */
static const double CALMER_FRAC = 0.012;

/* The corridor of the fine pass: half its width in runs of a wide layer. */
static const double CORRIDOR_RUNS = 1.0;

/* Bounds take it that no boat closes with the goal faster than any label of the
 * pass before, by this factor. */
static const double CLOSING_SLACK = 1.05;

/* A front may not find a known way again to the last second, all the less one
 * that has been refined; and what it promises may be too good to be sailed. */
static const double KNOWN_SLACK = 1.01;
static const double GUESS_SLACK = 1.03;

/* Without a known way a boat makes good this part of her top speed. */
static const double FAIR_FRAC = 0.5;

/* Change-overs look for their place so many times along a passage. */
static const double RIG_PLACES = 80.0;
static const double RIG_CLOSEST_M = 1.0 * METRES_PER_NMI;

/* Moves, in runs of a wide layer: long ones, judged with so much longer steps
 * of the integrator, short ones, the last. */
static const double LONG_MOVE_RUNS = 0.4, SHORT_MOVE_RUNS = 0.05;
static const double SMOOTH_MOVE_RUNS = 0.02, LAST_MOVE_RUNS = 0.005;
static const double COARSE_STEPS = 1.5;
static const double WORTH_ROUNDING_FRAC = 2e-4;

/* Rounds of moves that gain less of the cost lead to shorter ones: of the ways
 * of the wide front, of others, of the best at the end. */
#define ROUGH_WORTH_FRAC 2e-4
#define WORTH_FRAC 1e-4
static const double LAST_WORTH_FRAC = 2e-5;

/* How ways are made better, and how far on the search then is. `bends`:
 * refine.h, `keeps_rig`: improve.h. */
struct manner {
    double done;
    double worth_frac;
    bool bends, keeps_rig;
};
/* Those of the wide front, which fine ones mostly replace; all others. */
static const struct manner roughly = {0.4, ROUGH_WORTH_FRAC, false, false};
static const struct manner well = {0.8, WORTH_FRAC, true, false};

enum {
    LAST_TURNS = 2,
    SMOOTH_ROUNDS = 8,
    ROUNDINGS = 4,
    WAYS_MOST = FRONT_WAYS + 1 /* the direct one */
};

/* Ways from start to finish that differ. */
struct ways {
    struct track tracks[WAYS_MOST];
    size_t count;
};

struct search {
    const struct voyage *voyage;
    const struct search_request *request;
    const struct search_progress *progress;
    struct arena *arena;
    struct search_result *result;
    double distance_m;           /* of the direct way */
    double top_mps, closing_mps; /* front.h */
    struct track direct, rayed;  /* the direct way; that of rays */
    double direct_s, rayed_s;    /* their costs; HUGE_VAL: there is none */
    /* by the best that is known so far: the direct way, then each pass */
    double fair_mps;      /* metres of the direct way for a second of cost */
    double hours_s;       /* the whole way takes about so long */
    double guess_s;       /* a bound, from what the last front promised */
    double most_s;        /* and that of the request */
    struct voyage fronts; /* as the fronts are told: limits held back */
};

static void tell(const struct search *search, const char *stage, double done) {
    if (search->progress && search->progress->report)
        search->progress->report(search->progress->context, stage, done);
}

static void tell_nearly_done(const struct search *search) {
    const struct search_progress *progress = search->progress;
    if (progress && progress->nearly_done)
        progress->nearly_done(progress->context, &search->result->track);
}

/* --- the direct way ------------------------------------------------------- */

static struct underway start_of(const struct search *search) {
    return sail_start(search->request->from, search->request->start);
}

/* Takes the better of two known ways; false where this one can't be sailed. */
static bool consider(struct search *search, const struct track *track) {
    struct search_result *result = search->result;
    struct underway start = start_of(search);
    double elapsed_s;
    double cost_s = track_cost(search->voyage, track, &start, &elapsed_s);
    if (cost_s >= result->cost_s)
        return isfinite(cost_s);
    result->cost_s = cost_s;
    result->elapsed_s = elapsed_s;
    result->track = *track;
    result->reached = result->sailed = true;
    search->hours_s = elapsed_s;
    search->fair_mps = search->distance_m / cost_s;
    return true;
}

static double rig_spacing_m(const struct search *search) {
    return fmax(search->distance_m / RIG_PLACES, RIG_CLOSEST_M);
}

static void try_direct_way(struct search *search) {
    const struct search_request *request = search->request;
    struct underway start = start_of(search);
    search->direct = search_direct_track(request, search->arena);
    for (size_t i = 0; i + 1 < search->direct.count; i++)
        search->distance_m +=
            geodesic_between(search->direct.vertices[i].at,
                             search->direct.vertices[i + 1].at)
                .distance_m;
    search->direct_s =
        improve_rig(search->voyage, &search->direct, &start,
                    rig_spacing_m(search), HUGE_VAL, search->arena);
    search->top_mps = voyage_top_speed(search->voyage);
    search->fair_mps = FAIR_FRAC * search->top_mps;
    search->top_mps += search->voyage->max_current_mps;
    search->closing_mps = search->top_mps;
    search->hours_s = search->distance_m / search->fair_mps;
    search->result->cost_s = search->guess_s = HUGE_VAL;
    consider(search, &search->direct);
}

/* What rays find is a bound, and kept for the end: moving its places would gain
 * nothing. */
static void try_rays(struct search *search) {
    struct underway start = start_of(search);
    double most_s = search->result->reached ? search->hours_s : HUGE_VAL;
    search->rayed_s = HUGE_VAL;
    if (!rays_are_needed(search->voyage))
        return;
    tell(search, "strong current", 0.01);
    search->rayed = rays_track(search->voyage, search->request, search->hours_s,
                               most_s, search->arena);
    if (search->rayed.count > 0)
        search->rayed_s =
            improve_rig(search->voyage, &search->rayed, &start,
                        rig_spacing_m(search), HUGE_VAL, search->arena);
}

/* --- fronts --------------------------------------------------------------- */

static struct track joined(struct arena *arena, const struct track *a,
                           const struct track *b) {
    if (a->count == 0)
        return *b;
    struct track track = {.count = a->count + b->count - 1};
    track.vertices = arena_alloc(arena, track.count, sizeof *track.vertices);
    for (size_t i = 0; i + 1 < a->count; i++)
        track.vertices[i] = a->vertices[i];
    for (size_t i = 0; i < b->count; i++)
        track.vertices[a->count - 1 + i] = b->vertices[i];
    return track;
}

static void add_isochrones(struct search *search,
                           const struct front_result *part) {
    struct search_result *result = search->result;
    size_t count = result->isochrone_count + part->isochrone_count;
    struct isochrone *all = arena_alloc(search->arena, count + 1, sizeof *all);
    for (size_t i = 0; i < result->isochrone_count; i++)
        all[i] = result->isochrones[i];
    for (size_t i = 0; i < part->isochrone_count; i++)
        all[result->isochrone_count + i] = part->isochrones[i];
    result->isochrones = all;
    result->isochrone_count = count;
}

/* One pass of fronts from stop to stop; false where a stop is not reached.
 * `*ways` is what there is, the first the best. */
static bool run_fronts(struct search *search, const struct voyage *voyage,
                       const struct front_options *options, bool draw,
                       struct ways *ways) {
    const struct search_request *request = search->request;
    struct underway boat = sail_start(request->from, request->start);
    struct track before = {.count = 0};
    *ways = (struct ways){.count = 0};
    double closing_mps = 0.0;
    for (size_t stop = 0; stop < search_stop_count(request); stop++) {
        struct front_result part;
        struct front_options own = *options;
        own.must_stow = stop == request->via_count;
        own.waterway = request->ways ? request->ways[stop] : NULL;
        if (!own.must_stow)
            own.bound_s = HUGE_VAL;
        front_run(voyage, &boat, search_stop_at(request, stop), &own,
                  search->arena, &part);
        search->result->labels += part.labels;
        search->result->expansions += part.expansions;
        closing_mps = fmax(closing_mps, CLOSING_SLACK * part.closing_mps);
        if (draw)
            add_isochrones(search, &part);
        ways->count = part.way_count;
        for (size_t i = 0; i < part.way_count; i++)
            ways->tracks[i] = joined(search->arena, &before, &part.ways[i]);
        before = ways->tracks[0];
        if (!part.reached) {
            search->result->cause = front_main_cause(&part);
            return false;
        }
        boat = part.end;
    }
    if (closing_mps > 0.0) /* 0: no label but the seed */
        search->closing_mps = fmin(search->closing_mps, closing_mps);
    search->guess_s = GUESS_SLACK * boat.cost_s;
    search->hours_s = boat.t_s;
    search->fair_mps = search->distance_m / boat.cost_s;
    return true;
}

/* Work goes with the third power of the layers: cells are of their size. */
static double layer_s(const struct search *search, const struct pass *pass) {
    double effort = search->request->effort;
    double layers = pass->layers * (effort > 0.0 ? cbrt(effort) : 1.0);
    return fmin(LONGEST_LAYER_S,
                fmax(SHORTEST_LAYER_S, search->hours_s / layers));
}

/* What a boat makes good in a layer, more or less. */
static double run_m(const struct search *search, const struct pass *pass) {
    return layer_s(search, pass) * search->distance_m / search->hours_s;
}

static struct front_options pass_options(const struct search *search,
                                         const struct pass *pass) {
    double layer = layer_s(search, pass);
    double known_s = fmin(search->result->cost_s, search->rayed_s);
    return (struct front_options){
        .layer_s = layer,
        .step_s = 0.5 * layer,
        .cell_m = pass->cell_frac * run_m(search, pass),
        .fan_deg = pass->fan_deg,
        .fair_mps = search->fair_mps,
        .top_mps = search->top_mps,
        .closing_mps = search->closing_mps,
        .calmer_s = CALMER_FRAC * search->hours_s,
        .bound_s =
            fmin(KNOWN_SLACK * known_s, fmin(search->guess_s, search->most_s))};
}

/* --- passes --------------------------------------------------------------- */

/* One pass, over the whole sea or near the ways that are known; what it finds
 * is the bound of the next. False where it does not reach the finish. */
static bool run_pass(struct search *search, const struct pass *pass,
                     const struct ways *known, double done, struct ways *ways) {
    struct front_options options = pass_options(search, pass);
    if (known)
        options.corridor = (struct corridor){
            .tracks = known->tracks,
            .count = known->count,
            .half_width_m = CORRIDOR_RUNS * run_m(search, &wide)};
    tell(search, pass->name, done);
    if (!run_fronts(search, &search->fronts, &options, pass == &wide, ways))
        return false;
    consider(search, &ways->tracks[0]);
    return true;
}

/* The same; where it does not reach the finish once more without the bounds:
 * those of a coarser front may be too tight, and what it found can't always be
 * sailed. */
static bool run_surely(struct search *search, const struct pass *pass,
                       const struct ways *known, double done,
                       struct ways *ways) {
    if (run_pass(search, pass, known, done, ways))
        return true;
    if (search->result->reached || isinf(search->guess_s))
        return false;
    search->guess_s = HUGE_VAL;
    search->closing_mps = search->top_mps;
    return run_pass(search, pass, known, done, ways);
}

/* Adds up what moves have taken off the cost of the best way known. */
static void note_gain(struct search *search, double before_s) {
    if (isfinite(before_s))
        search->result->refined_s += before_s - search->result->cost_s;
}

/* Each of several ways made better on its own, by long moves: the cheapest
 * front may not lead to the cheapest track. */
static void improve_ways(struct search *search, const struct manner *manner,
                         struct ways *ways) {
    double run = run_m(search, &wide);
    struct improve_options options = {.keeps_rig = manner->keeps_rig,
                                      .first_step_m = LONG_MOVE_RUNS * run,
                                      .last_step_m = SHORT_MOVE_RUNS * run,
                                      .worth_frac = manner->worth_frac,
                                      .spacing_m = rig_spacing_m(search),
                                      .coarse = COARSE_STEPS,
                                      .bends = manner->bends,
                                      .turns = 1};
    struct underway start = start_of(search);
    struct arena arenas[WAYS_MOST];
    struct track tracks[WAYS_MOST];
    double before_s = search->result->cost_s;
    tell(search, "refining", manner->done);
    for (size_t i = 0; i < ways->count; i++) {
        arena_init(&arenas[i]);
        tracks[i] = track_copy(&arenas[i], &ways->tracks[i]);
    }
#pragma omp taskgroup
    for (size_t i = 0; i < ways->count; i++)
#pragma omp task shared(tracks, arenas, start, options)
        improve_track(search->voyage, &tracks[i], &start, &options, &arenas[i]);
    for (size_t i = 0; i < ways->count; i++) {
        struct track track = track_copy(search->arena, &tracks[i]);
        if (consider(search, &track))
            ways->tracks[i] = track;
        arena_free(&arenas[i]);
    }
    note_gain(search, before_s);
}

/* The best track with twice the places, as long as that makes its bends worth
 * the rounding. */
static void round_bends(struct search *search) {
    double run = run_m(search, &wide);
    struct refine_options moves = {.first_step_m = SMOOTH_MOVE_RUNS * run,
                                   .last_step_m = LAST_MOVE_RUNS * run,
                                   .worth_frac = LAST_WORTH_FRAC,
                                   .rounds = SMOOTH_ROUNDS};
    struct underway start = start_of(search);
    for (int turn = 0; turn < ROUNDINGS; turn++) {
        double before_s = search->result->cost_s;
        struct track track = rig_halve(&search->result->track, search->arena);
        refine_track(search->voyage, &track, &start, &moves, search->arena);
        consider(search, &track);
        double gain_s = before_s - search->result->cost_s;
        if (gain_s < WORTH_ROUNDING_FRAC * before_s)
            break;
    }
}

/* A sort of ways that differ from the best track, to be made better: how they
 * are found, how many of them, and how many times over. */
struct variation {
    size_t (*ways)(const struct voyage *voyage, const struct track *track,
                   const struct underway *start, struct track *ways,
                   size_t most, struct arena *arena);
    size_t most;
    int turns;
    struct manner manner;
};
static const struct variation other_boards = {
    boards_ways, 2, 4, {0.82, WORTH_FRAC, true, false}};
static const struct variation by_daylight = {
    daylit_ways, WAYS_MOST, 3, {0.85, WORTH_FRAC, true, true}};

/* As long as that is better. */
static void vary(struct search *search, const struct variation *variation) {
    struct underway start = start_of(search);
    double before_s;
    int turn = 0;
    do {
        struct ways other;
        before_s = search->result->cost_s;
        other.count =
            variation->ways(search->voyage, &search->result->track, &start,
                            other.tracks, variation->most, search->arena);
        improve_ways(search, &variation->manner, &other);
    } while (++turn < variation->turns && search->result->cost_s < before_s);
}

/* The best track by short moves. */
static void finish_best(struct search *search) {
    double run = run_m(search, &wide);
    struct improve_options options = {.first_step_m = SHORT_MOVE_RUNS * run,
                                      .last_step_m = LAST_MOVE_RUNS * run,
                                      .worth_frac = LAST_WORTH_FRAC,
                                      .spacing_m = rig_spacing_m(search),
                                      .coarse = 1.0,
                                      .rigged = true,
                                      .turns = LAST_TURNS};
    struct underway start = start_of(search);
    double before_s = search->result->cost_s;
    struct track track = track_copy(search->arena, &search->result->track);
    tell(search, "refining", 0.9);
    improve_track(search->voyage, &track, &start, &options, search->arena);
    consider(search, &track);
    round_bends(search);
    note_gain(search, before_s);
}

static bool has_limits(const struct voyage *voyage) {
    return voyage->max_wind_mps.known || voyage->max_gust_mps.known ||
           voyage->max_wave_m.known;
}

static void hold_back_limits(struct voyage *voyage) {
    voyage->max_wind_mps.value *= HELD_BACK_FRAC;
    voyage->max_gust_mps.value *= HELD_BACK_FRAC;
    voyage->max_wave_m.value *= HELD_BACK_FRAC;
}

/* Is a track barred, not only slower than it was promised? */
static bool is_barred(const struct search *search, const struct track *track) {
    struct underway start = start_of(search);
    struct underway boat = track_start(search->voyage, track, &start);
    return track_sail(search->voyage, track, &boat, NULL) != OBSTACLE_NONE;
}

/* Is there no more to be found near what is known? `before_s`: the best cost
 * before the last turn. */
static bool is_enough(const struct search *search, double before_s, int turn) {
    double cost_s = search->result->cost_s;
    double promise_s = search->guess_s / GUESS_SLACK;
    return cost_s > (1.0 - AGAIN_FRAC) * promise_s ||
           (turn > 0 && cost_s > (1.0 - AGAIN_GAIN_FRAC) * before_s);
}

static double fine_layers(const struct search *search) {
    const struct grain *grain = &search->voyage->grain;
    double speed_mps = search->distance_m / search->hours_s;
    double finest_s =
        GRAIN_FRAC * fmin(grain->metres / speed_mps, grain->seconds);
    double layers = fmin(
        fine.layers, fmax(FEWEST_FINE_LAYERS, search->hours_s / FINE_LAYER_S));
    if (search->voyage->blocked || finest_s <= 0.0)
        return layers;
    return fmin(layers, fmax(wide.layers, search->hours_s / finest_s));
}

/* Near what is known, once; and again where its ways were far from the best
 * near them, or can't be sailed as it was promised. A front meets limits at its
 * labels only, and what skirts one is barred between them: limits are held
 * back. Else she creeps, for in a stream that is stronger than the boat only
 * short legs are sailed, or runs out of the forecast's area at a corner: the
 * front is finer.
 */
static void search_near(struct search *search, struct ways *ways) {
    struct pass pass = fine;
    pass.layers = fine_layers(search);
    for (int turn = 0; turn < NEAR_TURNS; turn++) {
        struct ways finer;
        double before_s = search->result->cost_s;
        if (!run_surely(search, &pass, ways, 0.6, &finer))
            return;
        if (turn > 0)
            finer.count = 1; /* the others have had their turn */
        improve_ways(search, &well, &finer);
        *ways = finer;
        if (search->result->reached || isfinite(search->rayed_s)) {
            if (is_enough(search, before_s, turn))
                return;
            continue;
        }
        bool barred = is_barred(search, &finer.tracks[0]);
        if (barred)
            hold_back_limits(&search->fronts);
        if (!barred || !has_limits(&search->fronts))
            pass.layers *= 2.0;
    }
}

static void search_best(struct search *search) {
    struct search_result *result = search->result;
    struct ways ways;
    run_pass(search, &scout, NULL, 0.05, &ways);
    bool found = run_surely(search, &wide, NULL, 0.15, &ways);
    if (!found && !result->reached) {
        result->track = ways.tracks[0];
        result->sailed = result->track.count >= 2;
        return;
    }
    if (!found)
        ways = (struct ways){.tracks = {result->track}, .count = 1};
    else if (search->direct_s < search->guess_s)
        ways.tracks[ways.count++] = search->direct;
    improve_ways(search, &roughly, &ways);
    search_near(search, &ways);
    if (!result->reached)
        return;
    vary(search, &other_boards);
    tell_nearly_done(search);
    vary(search, &by_daylight);
    finish_best(search);
}

/* --- why there is none -----------------------------------------------------
 */

/* Where limits may have closed the way: which of them, by lifting each. */
static void find_cause(struct search *search) {
    static const enum obstacle causes[] = {OBSTACLE_WIND, OBSTACLE_GUST,
                                           OBSTACLE_WAVE, OBSTACLE_ZONE};
    for (size_t i = 0; i < sizeof causes / sizeof *causes; i++) {
        struct voyage lifted;
        if (!lifted_voyage(search->voyage, causes[i], &lifted))
            continue;
        struct front_options options = pass_options(search, &scout);
        struct ways ways;
        if (run_fronts(search, &lifted, &options, false, &ways)) {
            search->result->cause = causes[i];
            return;
        }
    }
}

static void run(void *context) {
    struct search *search = context;
    struct search_result *result = search->result;
    tell(search, "direct way", 0.0);
    try_direct_way(search);
    try_rays(search);
    search_best(search);
    if (isfinite(search->rayed_s))
        consider(search, &search->rayed);
    if (!result->reached && result->cause != OBSTACLE_HORIZON &&
        isinf(search->most_s))
        find_cause(search);
    if (result->sailed) {
        struct underway start = start_of(search);
        struct underway boat =
            track_start(search->voyage, &result->track, &start);
        track_sail(search->voyage, &result->track, &boat, NULL);
        result->cost_s = boat.cost_s;
        result->elapsed_s = boat.t_s;
    }
    tell(search, "done", 1.0);
}

void search_run(const struct voyage *voyage,
                const struct search_request *request,
                const struct search_progress *progress, struct arena *arena,
                struct search_result *result) {
    *result = (struct search_result){.reached = false};
    struct search search = {.voyage = voyage,
                            .fronts = *voyage,
                            .request = request,
                            .progress = progress,
                            .arena = arena,
                            .result = result};
    search.most_s = request->most_s > 0.0 ? request->most_s : HUGE_VAL;
    team_join(run, &search);
}
