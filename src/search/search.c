#include "search/search.h"

#include "base/units.h"
#include "earth/geodesic.h"
#include "search/refine.h"
#include "search/rig.h"
#include "search/sight.h"

#include <math.h>

/* The three passes of fronts, each with the bound that the one before found.
 * Layers from start to goal, cells in parts of a layer's run (a label has to
 * be able to leave its cell), degrees between courses. */
struct pass {
    const char *name;
    double layers, cell_frac, fan_deg;
};
static const struct pass scout = {"scouting", 16.0, 0.6, 15.0};
static const struct pass wide = {"wide front", 24.0, 0.6, 10.0};
static const struct pass fine = {"fine front", 48.0, 0.4, 5.0};

/* The shortest and longest time step between isochrones. */
static const double SHORTEST_LAYER_S = 900.0;
static const double LONGEST_LAYER_S = 12.0 * SECONDS_PER_HOUR;

/* The corridor of the fine pass: half its width in runs of a wide layer, and
 * the courses in it. */
static const double CORRIDOR_RUNS = 1.0;
static const double CORRIDOR_TURN_DEG = 75.0;

/* Bounds take it that no boat is faster over the ground than the fastest label
 * of the pass before by this factor. */
static const double TOP_SLACK = 1.05;

/* A finer front may not find the coarse one's way again to the last second. */
static const double BOUND_SLACK = 1.003;

/* What a front promises may be too good to be sailed by this factor. */
static const double GUESS_SLACK = 1.03;

/* Without a known way a boat makes good this part of her top speed. */
static const double FAIR_FRAC = 0.5;

/* Corners that the direct way may have from one stop to the next. */
enum { DIRECT_CORNERS = 400 };

/* Change-overs look for their place so many times along a passage. */
static const double RIG_PLACES = 150.0;
static const double RIG_CLOSEST_M = 1.0 * METRES_PER_NMI;

/* Places of the track that the last pass moves. */
enum { REFINED_PLACES = 40, TURNS = 3, REFINE_ROUNDS = 40 };
static const double REFINE_LOSS_FRAC = 0.0003;
static const double REFINE_LAST_STEP_M = 0.1 * METRES_PER_NMI;

struct search {
    const struct voyage *voyage;
    const struct search_request *request;
    const struct search_progress *progress;
    struct arena *arena;
    struct search_result *result;
    double distance_m; /* of the direct way */
    double fair_mps;
    double hours_s; /* of the direct way, more or less */
    double top_mps;
    double last_cost_s; /* of the last front, by its own coarse steps */
    double guess_s;     /* a bound from it */
    struct track direct;
    double direct_cost_s; /* HUGE_VAL where it can't be sailed */
};

static void tell(const struct search *search, const char *stage, double done) {
    if (search->progress && search->progress->report)
        search->progress->report(search->progress->context, stage, done);
}

/* --- the direct way ------------------------------------------------------- */

static size_t stop_count(const struct search_request *request) {
    return request->via_count + 1;
}

static struct position stop_at(const struct search_request *request,
                               size_t index) {
    return index < request->via_count ? request->via[index] : request->to;
}

const struct waterway *const *search_ways(const struct voyage *voyage,
                                          const struct search_request *request,
                                          struct arena *arena, bool *open) {
    *open = true;
    if (!voyage->room_m)
        return NULL;
    const struct waterway **ways =
        arena_alloc(arena, stop_count(request), sizeof(void *));
    struct position from = request->from;
    for (size_t stop = 0; stop < stop_count(request); stop++) {
        struct position to = stop_at(request, stop);
        ways[stop] = waterway_make(voyage, from, to, arena);
        *open = *open && waterway_reaches(ways[stop]);
        from = to;
    }
    return ways;
}

/* The places at which the way from stop to stop turns, in `corners`. */
static size_t list_corners(const struct waterway *way, struct position from,
                           struct position to, struct position *corners) {
    size_t count = way ? waterway_path(way, from, corners, DIRECT_CORNERS) : 0;
    if (count == 0)
        count = 1;
    corners[count - 1] = to; /* also where there are more than have room */
    return count;
}

/* A track that is being made. */
struct draft {
    struct track track;
    size_t capacity;
    struct arena *arena;
};

static void add_vertex(struct draft *draft, struct vertex vertex) {
    struct track *track = &draft->track;
    track->vertices = arena_room(draft->arena, track->vertices, track->count,
                                 &draft->capacity, sizeof *track->vertices);
    track->vertices[track->count++] = vertex;
}

/* The geodesic to a place, without that place itself. */
static void add_geodesic(struct draft *draft, struct vertex from,
                         struct position to) {
    struct geodesic line = geodesic_between(from.at, to);
    int stretches = sight_stretches(&line);
    add_vertex(draft, from);
    for (int i = 1; i < stretches; i++)
        add_vertex(draft, (struct vertex){
                              .at = sight_place(from.at, &line, i, stretches)});
}

struct track search_direct_track(const struct search_request *request,
                                 struct arena *arena) {
    struct draft draft = {.arena = arena};
    struct position *corners =
        arena_alloc(arena, DIRECT_CORNERS, sizeof *corners);
    struct position from = request->from;
    for (size_t stop = 0; stop < stop_count(request); stop++) {
        const struct waterway *way = request->ways ? request->ways[stop] : NULL;
        size_t count = list_corners(way, from, stop_at(request, stop), corners);
        for (size_t i = 0; i < count; from = corners[i++])
            add_geodesic(&draft, (struct vertex){.at = from, .pinned = i == 0},
                         corners[i]);
    }
    add_vertex(&draft, (struct vertex){.at = request->to, .pinned = true});
    return draft.track;
}

/* The cost of a track as it stands; HUGE_VAL where it can't be sailed. */
static double track_cost(const struct search *search,
                         const struct track *track) {
    struct underway start =
        sail_start(search->request->from, search->request->start);
    struct underway boat = track_start(search->voyage, track, &start);
    enum obstacle obstacle = track_sail(search->voyage, track, &boat, NULL);
    bool sailed = obstacle == OBSTACLE_NONE && boat.crept_s <= 0.0;
    return sailed ? boat.cost_s : HUGE_VAL;
}

/* Chooses the deck states of a track anew. Returns the cost of the track with
 * its new orders; `*track` is left alone where that is not below `cost_s`. */
static double rig_again(const struct search *search, struct track *track,
                        double cost_s) {
    double spacing_m = fmax(search->distance_m / RIG_PLACES, RIG_CLOSEST_M);
    struct underway start =
        sail_start(search->request->from, search->request->start);
    struct track divided =
        rig_divide(search->voyage, track, spacing_m, search->arena);
    double rigged_s;
    if (rig_track(search->voyage, &divided, &start, search->arena, &rigged_s) !=
        OBSTACLE_NONE)
        return cost_s;
    struct track thin = rig_thin(&divided, search->arena);
    struct underway boat = track_start(search->voyage, &thin, &start);
    if (track_sail(search->voyage, &thin, &boat, NULL) != OBSTACLE_NONE ||
        boat.cost_s >= cost_s)
        return cost_s;
    *track = thin;
    return boat.cost_s;
}

static void try_direct_way(struct search *search) {
    const struct search_request *request = search->request;
    search->direct = search_direct_track(request, search->arena);
    for (size_t i = 0; i + 1 < search->direct.count; i++)
        search->distance_m +=
            geodesic_between(search->direct.vertices[i].at,
                             search->direct.vertices[i + 1].at)
                .distance_m;
    search->direct_cost_s = rig_again(search, &search->direct, HUGE_VAL);
    search->fair_mps = FAIR_FRAC * voyage_top_speed(search->voyage);
    struct underway start = sail_start(request->from, request->start);
    struct underway boat = track_start(search->voyage, &search->direct, &start);
    if (track_sail(search->voyage, &search->direct, &boat, NULL) ==
            OBSTACLE_NONE &&
        boat.crept_s <= 0.0)
        search->fair_mps = search->distance_m / boat.t_s;
    search->hours_s = search->distance_m / search->fair_mps;
    search->top_mps =
        voyage_top_speed(search->voyage) + search->voyage->max_current_mps;
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

/* The hard cause that stopped most courses. Land and zones bar many and close
 * nothing where there is a way round them. */
static enum obstacle main_cause(const size_t stopped_by[OBSTACLE_COUNT]) {
    static const enum obstacle causes[] = {
        OBSTACLE_ZONE, OBSTACLE_WIND,    OBSTACLE_GUST,   OBSTACLE_WAVE,
        OBSTACLE_AREA, OBSTACLE_HORIZON, OBSTACLE_CURRENT};
    enum obstacle main = OBSTACLE_NO_SPEED;
    size_t most = 0;
    for (size_t i = 0; i < sizeof causes / sizeof *causes; i++) {
        if (stopped_by[causes[i]] > most) {
            most = stopped_by[causes[i]];
            main = causes[i];
        }
    }
    return main;
}

/* One pass of fronts from stop to stop; false where a stop is not reached.
 * `*track` is what there is. */
static bool run_fronts(struct search *search, const struct voyage *voyage,
                       const struct front_options *options, bool draw,
                       struct track *track) {
    const struct search_request *request = search->request;
    struct underway boat = sail_start(request->from, request->start);
    *track = (struct track){.count = 0};
    for (size_t stop = 0; stop < stop_count(request); stop++) {
        struct front_result part;
        struct front_options own = *options;
        own.must_stow = stop == request->via_count;
        own.waterway = request->ways ? request->ways[stop] : NULL;
        if (!own.must_stow)
            own.bound_s = HUGE_VAL;
        front_run(voyage, &boat, stop_at(request, stop), &own, search->arena,
                  &part);
        search->result->labels += part.labels;
        search->result->expansions += part.expansions;
        search->top_mps =
            fmin(search->top_mps,
                 fmax(TOP_SLACK * part.fastest_mps, search->fair_mps));
        if (draw)
            add_isochrones(search, &part);
        if (part.track.count > 0)
            *track = joined(search->arena, track, &part.track);
        if (!part.reached) {
            search->result->cause = main_cause(part.stopped_by);
            return false;
        }
        boat = part.end;
        search->last_cost_s = part.cost_s;
    }
    return true;
}

static double layer_s(const struct search *search, const struct pass *pass) {
    double layer = search->hours_s / pass->layers;
    return fmin(LONGEST_LAYER_S, fmax(SHORTEST_LAYER_S, layer));
}

static struct front_options pass_options(const struct search *search,
                                         const struct pass *pass) {
    double layer = layer_s(search, pass);
    return (struct front_options){.layer_s = layer,
                                  .step_s = 0.5 * layer,
                                  .cell_m = pass->cell_frac * layer *
                                            search->fair_mps,
                                  .fan_deg = pass->fan_deg,
                                  .fair_mps = search->fair_mps,
                                  .top_mps = search->top_mps,
                                  .bound_s = HUGE_VAL};
}

/* --- the track as a whole ------------------------------------------------- */

/* Simplifies, moves and rigs a track by turns. */
static void improve(const struct search *search, struct track *track) {
    struct underway start =
        sail_start(search->request->from, search->request->start);
    double cost_s = rig_again(search, track, track_cost(search, track));
    struct refine_options options = {
        .first_step_m = 0.25 * layer_s(search, &fine) * search->fair_mps,
        .last_step_m = fmin(REFINE_LAST_STEP_M, 0.001 * search->distance_m),
        .rounds = REFINE_ROUNDS};
    for (int turn = 0; turn < TURNS && !isinf(cost_s); turn++) {
        double before_s = cost_s;
        struct track trial = track_copy(search->arena, track);
        refine_simplify(search->voyage, &trial, &start, REFINE_LOSS_FRAC,
                        REFINED_PLACES, search->arena);
        double trial_s = refine_track(search->voyage, &trial, &start, &options,
                                      search->arena);
        trial_s = rig_again(search, &trial, trial_s);
        if (trial_s < cost_s) {
            *track = trial;
            cost_s = trial_s;
        }
        if (before_s - cost_s < 1e-4 * cost_s)
            break;
        options.first_step_m *= 0.5;
    }
}

/* Takes the better of two known ways. */
static void consider(struct search *search, const struct track *track,
                     double cost_s) {
    struct search_result *result = search->result;
    if (cost_s >= result->cost_s)
        return;
    result->cost_s = cost_s;
    result->track = *track;
    result->reached = result->sailed = true;
}

/* One pass; what it finds is the bound of the next. */
static bool run_pass(struct search *search, const struct pass *pass,
                     const struct track *corridor, double done,
                     struct track *track) {
    struct front_options options = pass_options(search, pass);
    tell(search, pass->name, done);
    options.bound_s =
        BOUND_SLACK * fmin(search->result->cost_s, search->guess_s);
    options.corridor = (struct corridor){
        .track = corridor,
        .half_width_m =
            CORRIDOR_RUNS * layer_s(search, &wide) * search->fair_mps,
        .turn_deg = CORRIDOR_TURN_DEG};
    if (!run_fronts(search, search->voyage, &options, pass == &wide, track))
        return false;
    consider(search, track, track_cost(search, track));
    search->guess_s = GUESS_SLACK * search->last_cost_s;
    return true;
}

/* A track as a pass left it leads to one optimum, and that of the next pass to
 * another: each is moved on its own. */
static void refine_and_consider(struct search *search,
                                const struct track *track) {
    struct track moved = track_copy(search->arena, track);
    improve(search, &moved);
    consider(search, &moved, track_cost(search, &moved));
}

static void search_best(struct search *search) {
    struct search_result *result = search->result;
    struct track track, last;
    result->cost_s = search->guess_s = HUGE_VAL;
    consider(search, &search->direct, track_cost(search, &search->direct));
    run_pass(search, &scout, NULL, 0.05, &last);
    bool found = run_pass(search, &wide, NULL, 0.15, &last);
    if (!found && !result->reached) {
        result->track = last;
        result->sailed = last.count >= 2;
        return;
    }
    track = found ? last : result->track;
    tell(search, "refining", 0.4);
    refine_and_consider(search, &track);
    if (run_pass(search, &fine, &track, 0.5, &last)) {
        tell(search, "refining", 0.8);
        refine_and_consider(search, &last);
    }
}

/* --- why there is none -----------------------------------------------------
 */

/* What bars for good alone: the same water without zones that open again. */
static enum obstacle blocked_for_good(const void *context, struct position from,
                                      struct position to, double start_s,
                                      double end_s) {
    (void)start_s, (void)end_s;
    const struct voyage *voyage = context;
    return voyage->blocked(voyage->water, from, to, VOYAGE_FOR_GOOD,
                           VOYAGE_FOR_GOOD);
}

/* Takes one limit away; false where there is none of that kind. */
static bool lift(const struct voyage *voyage, enum obstacle cause,
                 struct voyage *lifted) {
    *lifted = *voyage;
    if (cause == OBSTACLE_ZONE && voyage->blocked) {
        lifted->blocked = blocked_for_good;
        lifted->room_m = NULL;
        lifted->clear_m = NULL;
        lifted->water = voyage;
        return true;
    }
    struct figure *limit = cause == OBSTACLE_WIND   ? &lifted->max_wind_mps
                           : cause == OBSTACLE_GUST ? &lifted->max_gust_mps
                                                    : &lifted->max_wave_m;
    if (cause == OBSTACLE_ZONE || !limit->known)
        return false;
    *limit = figure_unknown();
    return true;
}

/* Where limits may have closed the way: which of them, by lifting each. */
static void find_cause(struct search *search) {
    static const enum obstacle causes[] = {OBSTACLE_WIND, OBSTACLE_GUST,
                                           OBSTACLE_WAVE, OBSTACLE_ZONE};
    for (size_t i = 0; i < sizeof causes / sizeof *causes; i++) {
        struct voyage lifted;
        if (!lift(search->voyage, causes[i], &lifted))
            continue;
        struct front_options options = pass_options(search, &scout);
        struct track track;
        if (run_fronts(search, &lifted, &options, false, &track)) {
            search->result->cause = causes[i];
            return;
        }
    }
}

void search_run(const struct voyage *voyage,
                const struct search_request *request,
                const struct search_progress *progress, struct arena *arena,
                struct search_result *result) {
    *result = (struct search_result){.reached = false};
    struct search search = {.voyage = voyage,
                            .request = request,
                            .progress = progress,
                            .arena = arena,
                            .result = result};
    tell(&search, "direct way", 0.0);
    try_direct_way(&search);
    search_best(&search);
    if (!result->reached && result->cause != OBSTACLE_HORIZON)
        find_cause(&search);
    if (result->sailed) {
        struct underway start = sail_start(request->from, request->start);
        struct underway boat = track_start(voyage, &result->track, &start);
        track_sail(voyage, &result->track, &boat, NULL);
        result->cost_s = boat.cost_s;
        result->elapsed_s = boat.t_s;
    }
    tell(&search, "done", 1.0);
}
