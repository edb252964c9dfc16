#include "search/front.h"

#include "earth/rhumb.h"
#include "earth/sphere.h"
#include "search/cells.h"
#include "voyage/cost.h"

#include <assert.h>
#include <math.h>
#include <omp.h>
#include <string.h>

enum {
    BLOCK = 128, /* labels expanded together before they are merged */
    ORDERS = 4,  /* most orders tried for one label on one course */
    MAX_LAYERS = 4000,
    ISOCHRONE_SECTORS = 72
};

static const double SAME_TIME_S = 1e-6;

/* Arrival is tried from so many layers' runs away. */
static const double REACH_LAYERS = 1.5;

/* To windward it may take so many layers. */
static const double BEATEN_LAYERS = 6.0;

/* What is kept of every label that lived: the way back. */
struct crumb {
    struct position at;
    struct deck order; /* given at the parent, sailed to here */
    uint32_t parent;
};

struct label {
    struct underway boat;
    uint32_t crumb;
    uint64_t cell;
};

struct candidate {
    struct underway boat;
    struct deck order;
    const struct corners *turned; /* on the way; NULL: a straight run */
    double merit;
    uint64_t cell;
};

/* Where to sail for a layer: straight on, or home round corners. */
struct heading {
    double course_deg;          /* the first one */
    const struct homeward *way; /* NULL: straight on */
};

/* A label that goes straight home. */
struct arrival {
    bool known;
    uint32_t crumb;                            /* the label's */
    struct vertex vertices[HOMEWARD_VERTICES]; /* from there to the goal */
    struct track ending;  /* over `vertices` of the one it was made in */
    struct underway boat; /* at the goal */
};

/* One label's harvest, filled by one thread. */
struct harvest {
    struct candidate *items; /* room for every course and order */
    size_t count, tried;
    struct corners turned[ORDERS]; /* on the way home, under each order */
    double fastest_m;              /* longest run over the layer */
    size_t stopped_by[OBSTACLE_COUNT];
    bool horizon_met;
    struct candidate horizon; /* best place when the forecast ended */
    struct arrival arrival;
};

struct front {
    const struct voyage *voyage;
    struct voyage coarse; /* the same with the layer's step */
    const struct front_options *options;
    struct position start, goal;
    struct sphere_point target;
    struct arena *arena;
    struct cells cells, open; /* `open`: the corridor, where there is one */
    struct label *now, *next;
    size_t now_count, next_count, now_capacity, next_capacity;
    struct crumb *crumbs;
    size_t crumb_count, crumb_capacity;
    uint32_t layer;
    struct harvest *harvests; /* [BLOCK] */
    struct arrival arrival;
    uint32_t horizon_crumb;
    struct front_result *result;
};

/* --- merit and bound ------------------------------------------------------ */

static double way_left_m(const struct front *front, struct position place) {
    if (front->options->waterway)
        return waterway_left_m(front->options->waterway, place);
    return sphere_distance_m(sphere_point(place), front->target);
}

/* The way that is left is never shorter than this part of way_left_m(). */
static double safe_frac(const struct front *front) {
    return front->options->waterway ? WATERWAY_SAFE_FRAC : SPHERE_SAFE_FRAC;
}

static double bound_s(const struct front *front) {
    return front->arrival.known
               ? fmin(front->arrival.boat.cost_s, front->options->bound_s)
               : front->options->bound_s;
}

static bool is_hopeless(const struct front *front, const struct underway *boat,
                        double left_m) {
    return boat->cost_s + safe_frac(front) * left_m / front->options->top_mps >=
           bound_s(front);
}

static const struct cell *corridor_at(const struct front *front,
                                      struct position place) {
    return cells_find(&front->open, cells_key(&front->open, place, 0));
}

static bool is_in_corridor(const struct front *front, struct position place) {
    return !front->options->corridor.track || corridor_at(front, place);
}

/* Courses outside the corridor's own are not tried in it. */
static bool is_corridor_course(const struct front *front,
                               const struct label *label, double course_deg) {
    const struct corridor *corridor = &front->options->corridor;
    if (!corridor->track)
        return true;
    const struct cell *cell = corridor_at(front, label->boat.at);
    return cell &&
           fabs(angle_turn(cell->merit, course_deg)) <= corridor->turn_deg;
}

/* --- expansion, in parallel ----------------------------------------------- */

/* Orders worth trying from a deck state: to keep it, and one change. To roll
 * is left to the integrator, which does it where the spar may not draw. */
static int list_orders(const struct voyage *voyage, struct deck deck,
                       struct deck orders[ORDERS]) {
    int count = 0;
    orders[count++] = deck;
    if (!voyage->spar_allowed)
        return count;
    if (deck.spar != SPAR_STOWED)
        orders[count++] = (struct deck){.spar = SPAR_STOWED};
    if (deck.spar != SPAR_PORT || deck.rolled)
        orders[count++] = (struct deck){.spar = SPAR_PORT};
    if (deck.spar != SPAR_STARBOARD || deck.rolled)
        orders[count++] = (struct deck){.spar = SPAR_STARBOARD};
    return count;
}

/* Gives the order; false where it is of no use or not allowed. */
static bool give_order(const struct voyage *voyage, struct underway *boat,
                       double course_deg, struct deck order) {
    if (deck_same_rig(order, boat->deck))
        return true;
    double before = boat->cost_s;
    if (sail_change_deck(voyage, boat, course_deg, order, NULL) !=
        OBSTACLE_NONE)
        return false;
    if (boat->cost_s - before >= COST_FORBIDDEN_WORK_S)
        return false;
    struct motion motion;
    return !deck_is_drawing(boat->deck) ||
           (voyage_motion(voyage, &boat->here, course_deg, boat->deck, false,
                          &motion) == OBSTACLE_NONE &&
            !motion.spar_unfit);
}

static void note_horizon(struct harvest *harvest,
                         const struct candidate *candidate) {
    if (harvest->horizon_met && harvest->horizon.merit <= candidate->merit)
        return;
    harvest->horizon_met = true;
    harvest->horizon = *candidate;
}

/* Sails on for a layer. */
static enum obstacle run_layer(const struct front *front,
                               const struct heading *heading,
                               struct candidate *candidate,
                               struct corners *turned) {
    double layer_s = front->options->layer_s;
    if (!heading->way)
        return sail_for(&front->coarse, &candidate->boat, heading->course_deg,
                        layer_s, NULL);
    candidate->turned = turned;
    return homeward_sail(&front->coarse, &candidate->boat, heading->way,
                         layer_s, turned);
}

/* Worth merging: not hopeless, and not worse than what its cell holds. */
static bool is_welcome(const struct front *front, const struct label *label,
                       struct candidate *candidate, double left_m) {
    if (is_hopeless(front, &candidate->boat, left_m) ||
        !is_in_corridor(front, candidate->boat.at))
        return false;
    candidate->cell = cells_key(&front->cells, candidate->boat.at,
                                deck_index(candidate->boat.deck));
    const struct cell *cell = cells_find(&front->cells, candidate->cell);
    return !cell || candidate->merit < cell->merit ||
           candidate->cell == label->cell;
}

static void try_heading(const struct front *front, const struct label *label,
                        const struct heading *heading, struct deck order,
                        struct corners *turned, struct harvest *harvest) {
    if (!deck_same_rig(order, label->boat.deck) && deck_is_drawing(order) &&
        voyage_spar_hopeless(front->voyage, &label->boat.here,
                             heading->course_deg, order.spar))
        return;
    struct candidate *candidate = &harvest->items[harvest->count];
    *candidate = (struct candidate){.boat = label->boat, .order = order};
    harvest->tried++;
    if (!give_order(&front->coarse, &candidate->boat, heading->course_deg,
                    order))
        return;
    enum obstacle obstacle = run_layer(front, heading, candidate, turned);
    harvest->stopped_by[obstacle]++;
    if (obstacle != OBSTACLE_NONE && obstacle != OBSTACLE_HORIZON)
        return;
    double sailed_s = candidate->boat.t_s - label->boat.t_s;
    if (obstacle == OBSTACLE_NONE &&
        sailed_s < front->options->layer_s - SAME_TIME_S)
        return; /* home before the layer ends: an arrival */
    harvest->fastest_m = fmax(harvest->fastest_m,
                              candidate->boat.sailed_m - label->boat.sailed_m);
    double left_m = way_left_m(front, candidate->boat.at);
    candidate->merit =
        candidate->boat.cost_s + left_m / front->options->fair_mps;
    if (obstacle == OBSTACLE_HORIZON)
        note_horizon(harvest, candidate);
    else if (is_welcome(front, label, candidate, left_m))
        harvest->count++;
}

/* --- arrival -------------------------------------------------------------- */

/* Home from a label, under the order that is cheapest. */
static void try_arrival(const struct front *front, const struct label *label,
                        const struct homeward *way, struct harvest *harvest) {
    double left_m = way_left_m(front, label->boat.at);
    double reach_m =
        REACH_LAYERS * front->options->layer_s * front->options->fair_mps;
    if (left_m > reach_m || is_hopeless(front, &label->boat, left_m) ||
        !homeward_arrives(way, &way->ahead))
        return;
    struct corners turned;
    struct underway scout = label->boat;
    double most_s = BEATEN_LAYERS * front->options->layer_s;
    bool sailed = homeward_sail(&front->coarse, &scout, way, most_s, &turned) ==
                      OBSTACLE_NONE &&
                  homeward_arrives(way, &turned);
    const struct corners *ahead = sailed ? &turned : &way->ahead;
    struct deck orders[ORDERS];
    int count = list_orders(front->voyage, label->boat.deck, orders);
    for (int i = 0; i < count; i++) {
        struct arrival arrival = {.crumb = label->crumb, .boat = label->boat};
        arrival.ending =
            homeward_ending(front->voyage, label->boat.at, ahead, orders[i],
                            front->options->top_mps, front->options->must_stow,
                            arrival.vertices);
        if (track_sail(&front->coarse, &arrival.ending, &arrival.boat, NULL) !=
                OBSTACLE_NONE ||
            arrival.boat.cost_s >= bound_s(front) ||
            (harvest->arrival.known &&
             arrival.boat.cost_s >= harvest->arrival.boat.cost_s))
            continue;
        arrival.known = true;
        harvest->arrival = arrival;
    }
}

static size_t fan_count(const struct front *front) {
    return (size_t)ceil(360.0 / front->options->fan_deg);
}

static void expand(const struct front *front, struct label *label,
                   struct harvest *harvest) {
    struct candidate *items = harvest->items;
    *harvest = (struct harvest){.items = items};
    enum obstacle obstacle = sail_look(&front->coarse, &label->boat);
    harvest->stopped_by[obstacle]++;
    if (obstacle != OBSTACLE_NONE)
        return;
    const struct waterway *waterway = front->options->waterway;
    struct homeward way = homeward_from(waterway, label->boat.at, front->goal);
    try_arrival(front, label, &way, harvest);
    struct deck orders[ORDERS];
    int order_count = list_orders(front->voyage, label->boat.deck, orders);
    struct heading home = {.course_deg =
                               homeward_course_deg(&way, label->boat.at),
                           .way = waterway ? &way : NULL};
    for (int k = 0; k < order_count; k++)
        try_heading(front, label, &home, orders[k], &harvest->turned[k],
                    harvest);
    for (size_t i = 0; i < fan_count(front); i++) {
        struct heading heading = {.course_deg =
                                      (double)i * front->options->fan_deg};
        if (!is_corridor_course(front, label, heading.course_deg))
            continue;
        for (int k = 0; k < order_count; k++)
            try_heading(front, label, &heading, orders[k], NULL, harvest);
    }
}

/* --- merging, in order ---------------------------------------------------- */

static uint32_t drop_crumb(struct front *front, struct position at,
                           struct deck order, uint32_t parent) {
    front->crumbs = arena_room(front->arena, front->crumbs, front->crumb_count,
                               &front->crumb_capacity, sizeof *front->crumbs);
    front->crumbs[front->crumb_count] =
        (struct crumb){.at = at, .order = order, .parent = parent};
    return (uint32_t)front->crumb_count++;
}

static struct label *add_label(struct front *front) {
    front->next = arena_room(front->arena, front->next, front->next_count,
                             &front->next_capacity, sizeof *front->next);
    return &front->next[front->next_count++];
}

/* Crumbs for the corners turned at on the way; the last of them. */
static uint32_t drop_corners(struct front *front,
                             const struct candidate *candidate,
                             uint32_t parent) {
    const struct corners *turned = candidate->turned;
    for (size_t i = 0; turned && i < turned->count; i++)
        parent = drop_crumb(front, turned->places[i], candidate->order, parent);
    return parent;
}

static void keep(struct front *front, const struct candidate *candidate,
                 const struct label *parent) {
    bool made;
    struct cell *cell = cells_make(&front->cells, candidate->cell, &made);
    bool own = candidate->cell == parent->cell && cell->layer != front->layer;
    if (!made && !own && cell->merit <= candidate->merit)
        return;
    bool replaces = !made && cell->layer == front->layer;
    struct label *label =
        replaces ? &front->next[cell->label] : add_label(front);
    uint32_t from = drop_corners(front, candidate, parent->crumb);
    uint32_t crumb = replaces ? label->crumb
                              : drop_crumb(front, candidate->boat.at,
                                           candidate->order, from);
    front->crumbs[crumb] = (struct crumb){
        .at = candidate->boat.at, .order = candidate->order, .parent = from};
    *label = (struct label){
        .boat = candidate->boat, .crumb = crumb, .cell = candidate->cell};
    cell->merit = candidate->merit;
    cell->layer = front->layer;
    cell->label = (uint32_t)(label - front->next);
}

static void merge(struct front *front, const struct harvest *harvest,
                  const struct label *parent) {
    struct front_result *result = front->result;
    for (size_t i = 0; i < harvest->count; i++)
        keep(front, &harvest->items[i], parent);
    result->expansions += harvest->tried;
    result->fastest_mps =
        fmax(result->fastest_mps, harvest->fastest_m / front->options->layer_s);
    for (int i = 0; i < OBSTACLE_COUNT; i++)
        result->stopped_by[i] += harvest->stopped_by[i];
    if (harvest->arrival.known &&
        harvest->arrival.boat.cost_s < bound_s(front)) {
        front->arrival = harvest->arrival;
        front->arrival.ending.vertices = front->arrival.vertices;
    }
    if (!harvest->horizon_met)
        return;
    double merit =
        harvest->horizon.boat.cost_s +
        way_left_m(front, harvest->horizon.boat.at) / front->options->fair_mps;
    double best = result->end.cost_s +
                  way_left_m(front, result->end.at) / front->options->fair_mps;
    if (front->horizon_crumb != 0 && best <= merit)
        return;
    result->end = harvest->horizon.boat;
    front->horizon_crumb =
        drop_crumb(front, harvest->horizon.boat.at, harvest->horizon.order,
                   drop_corners(front, &harvest->horizon, parent->crumb));
}

/* --- layers --------------------------------------------------------------- */

static void next_layer(struct front *front) {
    front->layer++;
    front->next_count = 0;
    for (size_t first = 0; first < front->now_count; first += BLOCK) {
        size_t count = front->now_count - first;
        if (count > BLOCK)
            count = BLOCK;
#pragma omp parallel for schedule(dynamic)
        for (size_t i = 0; i < count; i++)
            expand(front, &front->now[first + i], &front->harvests[i]);
        for (size_t i = 0; i < count; i++)
            merge(front, &front->harvests[i], &front->now[first + i]);
    }
    struct label *old = front->now;
    size_t old_capacity = front->now_capacity;
    front->now = front->next;
    front->now_count = front->next_count;
    front->now_capacity = front->next_capacity;
    front->next = old;
    front->next_capacity = old_capacity;
}

/* The furthest label in each sector of bearing from the start. */
static void draw_isochrone(struct front *front) {
    struct front_result *result = front->result;
    struct position points[ISOCHRONE_SECTORS];
    double far_m[ISOCHRONE_SECTORS] = {0};
    for (size_t i = 0; i < front->now_count; i++) {
        struct rhumb line = rhumb_between(front->start, front->now[i].boat.at);
        size_t sector = (size_t)(line.course_deg * ISOCHRONE_SECTORS / 360.0) %
                        ISOCHRONE_SECTORS;
        if (line.distance_m <= far_m[sector])
            continue;
        far_m[sector] = line.distance_m;
        points[sector] = front->now[i].boat.at;
    }
    struct isochrone *isochrone =
        &result->isochrones[result->isochrone_count++];
    isochrone->t_s = front->now[0].boat.t_s;
    isochrone->points =
        arena_alloc(front->arena, ISOCHRONE_SECTORS, sizeof *isochrone->points);
    for (size_t i = 0; i < ISOCHRONE_SECTORS; i++) {
        if (far_m[i] > 0.0)
            isochrone->points[isochrone->count++] = points[i];
    }
}

/* Opens all cells round one place of the corridor's track. The course of the
 * track goes into the cell's merit. */
static void open_round(struct front *front, struct position spot,
                       double course_deg) {
    double cell_m = front->options->cell_m;
    double width_m = front->options->corridor.half_width_m;
    int reach = (int)ceil(width_m / cell_m);
    for (int row = -reach; row <= reach; row++) {
        for (int column = -reach; column <= reach; column++) {
            if (hypot(row, column) * cell_m > width_m)
                continue;
            struct position near = rhumb_step(
                rhumb_step(spot, 0.0, row * cell_m), 90.0, column * cell_m);
            bool made;
            struct cell *cell = cells_make(
                &front->open, cells_key(&front->open, near, 0), &made);
            cell->merit = course_deg;
        }
    }
}

static void open_corridor(struct front *front) {
    const struct track *track = front->options->corridor.track;
    if (!track)
        return;
    double cell_m = front->options->cell_m;
    cells_init(&front->open, front->arena, cell_m, front->start);
    for (size_t i = 0; i + 1 < track->count; i++) {
        struct position at = track->vertices[i].at;
        struct rhumb line = rhumb_between(at, track->vertices[i + 1].at);
        int places = 1 + (int)(line.distance_m / cell_m);
        for (int k = 0; k < places; k++)
            open_round(front, rhumb_ahead(at, line.course_deg, k * cell_m),
                       line.course_deg);
    }
}

/* --- the way back --------------------------------------------------------- */

/* Walks from a crumb to the seed; `ending` is appended to it. */
static struct track retrace(const struct front *front, uint32_t crumb,
                            const struct track *ending) {
    size_t count = 1;
    for (uint32_t c = crumb; c != 0; c = front->crumbs[c].parent)
        count++;
    struct track track = {.count = count + (ending ? ending->count - 1 : 0)};
    track.vertices =
        arena_alloc(front->arena, track.count, sizeof *track.vertices);
    struct deck order =
        ending ? ending->vertices[0].order : (struct deck){.spar = SPAR_STOWED};
    uint32_t c = crumb;
    for (size_t i = count; i-- > 0; c = front->crumbs[c].parent) {
        track.vertices[i] =
            (struct vertex){.at = front->crumbs[c].at, .order = order};
        order = front->crumbs[c].order;
    }
    for (size_t i = 1; ending && i < ending->count; i++)
        track.vertices[count - 1 + i] = ending->vertices[i];
    track.vertices[0].pinned = true;
    track.vertices[track.count - 1].pinned = true;
    return track;
}

static void finish(struct front *front) {
    struct front_result *result = front->result;
    if (front->arrival.known) {
        result->reached = true;
        result->cost_s = front->arrival.boat.cost_s;
        result->end = front->arrival.boat;
        result->track =
            retrace(front, front->arrival.crumb, &front->arrival.ending);
    } else if (front->horizon_crumb != 0) {
        result->cost_s = result->end.cost_s;
        result->track = retrace(front, front->horizon_crumb, NULL);
    }
}

static void seed(struct front *front, const struct underway *start) {
    drop_crumb(front, start->at, start->deck, 0);
    int sides = 2;
    for (int side = 0; side < sides; side++) {
        struct label *label = add_label(front);
        *label = (struct label){.boat = *start};
        label->boat.deck.wind_starboard = side == 1;
        label->boat.here_known = false;
        label->cell =
            cells_key(&front->cells, start->at, deck_index(label->boat.deck));
    }
    front->now = front->next;
    front->now_count = front->next_count;
    front->now_capacity = front->next_capacity;
    front->next = NULL;
    front->next_capacity = 0;
}

static void make_room_for_harvests(struct front *front) {
    size_t room = (fan_count(front) + 1) * ORDERS + 1;
    front->harvests = arena_alloc(front->arena, BLOCK, sizeof *front->harvests);
    for (size_t i = 0; i < BLOCK; i++)
        front->harvests[i].items =
            arena_alloc(front->arena, room, sizeof *front->harvests[i].items);
}

void front_run(const struct voyage *voyage, const struct underway *start,
               struct position goal, const struct front_options *options,
               struct arena *arena, struct front_result *result) {
    *result = (struct front_result){.reached = false};
    struct front front = {.voyage = voyage,
                          .coarse = *voyage,
                          .options = options,
                          .start = start->at,
                          .goal = goal,
                          .target = sphere_point(goal),
                          .arena = arena,
                          .result = result};
    front.coarse.step_s = options->step_s;
    result->isochrones =
        arena_alloc(arena, MAX_LAYERS, sizeof *result->isochrones);
    cells_init(&front.cells, arena, options->cell_m, start->at);
    open_corridor(&front);
    make_room_for_harvests(&front);
    seed(&front, start);
    while (front.now_count > 0 && front.layer < MAX_LAYERS) {
        next_layer(&front);
        result->labels += front.now_count;
        if (front.now_count > 0)
            draw_isochrone(&front);
    }
    finish(&front);
}
