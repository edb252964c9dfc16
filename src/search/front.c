#include "search/front.h"

#include "earth/rhumb.h"
#include "earth/sphere.h"
#include "search/expand.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum {
    BLOCK = 512, /* labels expanded together before they are merged */
    LABELS_A_TASK = 8,
    MAX_LAYERS = 4000,
    ISOCHRONE_SECTORS = 72
};

/* Another way is worth handing back where it is so many cells off the others
 * somewhere, or turns more often or less. */
static const double APART_CELLS = 3.0;

/* What is kept of every label that lived: the way back. */
struct crumb {
    struct position at;
    struct deck order; /* given at the parent, sailed to here */
    uint32_t parent;
};

struct front {
    const struct front_options *options;
    struct expander expander;
    struct position start;
    double start_s;
    struct arena *arena, *scratch; /* of the result; of the front itself */
    struct cells cells, open;
    struct label *now, *next;
    size_t now_count, next_count, now_capacity, next_capacity;
    struct crumb *crumbs;
    size_t crumb_count, crumb_capacity;
    uint32_t layer;
    struct harvest *harvests; /* [BLOCK] */
    struct arrival *arrivals; /* all that are nearly as good as the best */
    size_t arrival_count, arrival_capacity;
    uint32_t horizon_crumb;
    double horizon_merit;
    struct front_result *result;
};

static double layer_time_s(const struct front *front) {
    return front->start_s + front->layer * front->options->layer_s;
}

/* --- merging, in order ---------------------------------------------------- */

static uint32_t drop_crumb(struct front *front, struct position at,
                           struct deck order, uint32_t parent) {
    front->crumbs =
        arena_regrow(front->scratch, front->crumbs, front->crumb_count,
                     &front->crumb_capacity, sizeof *front->crumbs);
    front->crumbs[front->crumb_count] =
        (struct crumb){.at = at, .order = order, .parent = parent};
    return (uint32_t)front->crumb_count++;
}

static struct label *add_label(struct front *front) {
    front->next = arena_regrow(front->scratch, front->next, front->next_count,
                               &front->next_capacity, sizeof *front->next);
    return &front->next[front->next_count++];
}

/* Crumbs for the corners turned at on the way; the last of them. */
static uint32_t drop_corners(struct front *front, const struct label *label,
                             uint32_t parent) {
    const struct corners *turned = label->turned;
    for (size_t i = 0; turned && i < turned->count; i++)
        parent = drop_crumb(front, turned->places[i], label->order, parent);
    return parent;
}

static void keep(struct front *front, const struct label *candidate,
                 const struct label *parent) {
    bool made;
    struct cell *cell = cells_make(&front->cells, candidate->cell, &made);
    double t_s = layer_time_s(front);
    bool own = candidate->cell == parent->cell && cell->layer != front->layer;
    if (!made && !own &&
        expand_is_beaten(&front->expander, cell, candidate, t_s))
        return;
    bool replaces = !made && cell->layer == front->layer;
    struct label *label =
        replaces ? &front->next[cell->label] : add_label(front);
    uint32_t from = drop_corners(front, candidate, parent->crumb);
    uint32_t crumb =
        replaces ? label->crumb
                 : drop_crumb(front, candidate->at, candidate->order, from);
    front->crumbs[crumb] = (struct crumb){
        .at = candidate->at, .order = candidate->order, .parent = from};
    *label = *candidate;
    label->crumb = crumb;
    cell->merit = candidate->merit;
    cell->unease_s = candidate->cost_s - t_s;
    cell->layer = front->layer;
    cell->label = (uint32_t)(label - front->next);
}

/* The forecast ends before the label's time: of all such the one with the
 * least to go. */
static void note_horizon(struct front *front, const struct label *label) {
    if (front->horizon_crumb != 0 && front->horizon_merit <= label->merit)
        return;
    front->horizon_crumb = label->crumb;
    front->horizon_merit = label->merit;
    front->result->end =
        (struct underway){.at = label->at,
                          .t_s = layer_time_s(front) - front->options->layer_s,
                          .cost_s = label->cost_s,
                          .deck = label->deck};
}

static void note_arrival(struct front *front, const struct arrival *arrival) {
    struct expander *expander = &front->expander;
    front->arrivals =
        arena_regrow(front->scratch, front->arrivals, front->arrival_count,
                     &front->arrival_capacity, sizeof *front->arrivals);
    front->arrivals[front->arrival_count++] = *arrival;
    expander->bound_s = fmin(expander->bound_s, arrival->boat.cost_s);
}

static void merge(struct front *front, const struct harvest *harvest,
                  const struct label *parent) {
    struct front_result *result = front->result;
    front->crumbs[parent->crumb].at = parent->at; /* put right */
    for (size_t i = 0; i < harvest->count; i++)
        keep(front, &harvest->items[i], parent);
    result->expansions += harvest->tried;
    result->closing_mps = fmax(result->closing_mps, harvest->closing_mps);
    for (int i = 0; i < OBSTACLE_COUNT; i++)
        result->stopped_by[i] += harvest->stopped_by[i];
    if (harvest->arrival.known)
        note_arrival(front, &harvest->arrival);
    if (harvest->horizon_met)
        note_horizon(front, parent);
}

/* --- layers --------------------------------------------------------------- */

/* One task of a layer: some labels of a block. */
static void expand_some(const struct front *front, struct label *labels,
                        struct harvest *harvests, size_t count, double t_s) {
    for (size_t i = 0; i < count && i < LABELS_A_TASK; i++)
        expand_label(&front->expander, &labels[i], t_s, &harvests[i]);
}

static void next_layer(struct front *front) {
    double t_s = layer_time_s(front);
    front->expander.layer = ++front->layer;
    front->next_count = 0;
    for (size_t first = 0; first < front->now_count; first += BLOCK) {
        size_t count = front->now_count - first;
        if (count > BLOCK)
            count = BLOCK;
        struct label *labels = &front->now[first];
#pragma omp taskgroup
        for (size_t i = 0; i < count; i += LABELS_A_TASK)
#pragma omp task
            expand_some(front, &labels[i], &front->harvests[i], count - i, t_s);
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
        struct rhumb line = rhumb_between(front->start, front->now[i].at);
        size_t sector = (size_t)(line.course_deg * ISOCHRONE_SECTORS / 360.0) %
                        ISOCHRONE_SECTORS;
        if (line.distance_m <= far_m[sector])
            continue;
        far_m[sector] = line.distance_m;
        points[sector] = front->now[i].at;
    }
    struct isochrone *isochrone =
        &result->isochrones[result->isochrone_count++];
    isochrone->t_s = layer_time_s(front);
    isochrone->points =
        arena_alloc(front->arena, ISOCHRONE_SECTORS, sizeof *isochrone->points);
    for (size_t i = 0; i < ISOCHRONE_SECTORS; i++) {
        if (far_m[i] > 0.0)
            isochrone->points[isochrone->count++] = points[i];
    }
}

/* --- the corridor --------------------------------------------------------- */

/* Its cells are so many times those of the front. */
static const double CORRIDOR_CELLS = 2.0;

/* Opens all cells round one place of a corridor's track. */
static void open_round(struct front *front, struct position spot) {
    double cell_m = front->open.cell_m;
    double width_m = front->options->corridor.half_width_m;
    int reach = (int)ceil(width_m / cell_m);
    for (int row = -reach; row <= reach; row++) {
        for (int column = -reach; column <= reach; column++) {
            if (hypot(row, column) * cell_m > width_m)
                continue;
            struct position near = rhumb_step(
                rhumb_step(spot, 0.0, row * cell_m), 90.0, column * cell_m);
            bool made;
            cells_make(&front->open, cells_key(&front->open, near, 0), &made);
        }
    }
}

static void open_track(struct front *front, const struct track *track) {
    double cell_m = front->open.cell_m;
    for (size_t i = 0; i + 1 < track->count; i++) {
        struct position at = track->vertices[i].at;
        struct rhumb line = rhumb_between(at, track->vertices[i + 1].at);
        int places = 1 + (int)(line.distance_m / cell_m);
        for (int k = 0; k < places; k++)
            open_round(front, rhumb_ahead(at, line.course_deg, k * cell_m));
    }
}

static void open_corridor(struct front *front) {
    const struct corridor *corridor = &front->options->corridor;
    if (corridor->count == 0)
        return;
    cells_init(&front->open, front->scratch,
               CORRIDOR_CELLS * front->options->cell_m, front->start);
    for (size_t i = 0; i < corridor->count; i++)
        open_track(front, &corridor->tracks[i]);
    front->expander.open = &front->open;
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

static int by_cost(const void *left, const void *right) {
    const struct arrival *a = left, *b = right;
    if (a->boat.cost_s < b->boat.cost_s || a->boat.cost_s > b->boat.cost_s)
        return a->boat.cost_s < b->boat.cost_s ? -1 : 1;
    return (a->crumb > b->crumb) - (a->crumb < b->crumb);
}

/* Do two tracks lead through other waters, a quarter, half or three quarters of
 * the way? */
static bool is_apart(const struct front *front, const struct track *a,
                     const struct track *b) {
    for (size_t quarter = 1; quarter <= 3; quarter++) {
        struct position p = a->vertices[a->count * quarter / 4].at;
        struct position q = b->vertices[b->count * quarter / 4].at;
        if (rhumb_between(p, q).distance_m >
            APART_CELLS * front->options->cell_m)
            return true;
    }
    return false;
}

/* How often she tacks, gybes, or brings the spar out, in or across. */
static size_t count_turns(const struct track *track) {
    size_t turns = 0;
    for (size_t i = 1; i + 1 < track->count; i++) {
        struct deck before = track->vertices[i - 1].order;
        struct deck after = track->vertices[i].order;
        turns += before.wind_starboard != after.wind_starboard ||
                 before.spar != after.spar;
    }
    return turns;
}

/* Moves make neither of both out of the other. */
static bool is_other(const struct front *front, const struct track *a,
                     const struct track *b) {
    return is_apart(front, a, b) || count_turns(a) != count_turns(b);
}

static void add_way(struct front_result *result, const struct front *front,
                    struct track way) {
    for (size_t i = 0; i < result->way_count; i++)
        if (!is_other(front, &result->ways[i], &way))
            return;
    result->ways[result->way_count++] = way;
}

static void finish(struct front *front) {
    struct front_result *result = front->result;
    if (front->arrival_count == 0) {
        if (front->horizon_crumb == 0)
            return;
        result->cost_s = result->end.cost_s;
        add_way(result, front, retrace(front, front->horizon_crumb, NULL));
        return;
    }
    qsort(front->arrivals, front->arrival_count, sizeof *front->arrivals,
          by_cost);
    result->reached = true;
    result->end = front->arrivals[0].boat;
    result->cost_s = result->end.cost_s;
    for (size_t i = 0;
         i < front->arrival_count && result->way_count < FRONT_WAYS; i++) {
        struct arrival *arrival = &front->arrivals[i];
        struct track ending = {.vertices = arrival->vertices,
                               .count = arrival->count};
        if (arrival->boat.cost_s > EXPAND_NEARLY * result->cost_s)
            break;
        add_way(result, front, retrace(front, arrival->crumb, &ending));
    }
}

/* The wind side is free to choose; not from a place on the way on, where it
 * matters that the mainsail stays as it is. */
static void seed(struct front *front, const struct underway *start) {
    bool keeps = front->expander.voyage.gybes_kept && start->t_s > 0.0;
    drop_crumb(front, start->at, start->deck, 0);
    for (int side = 0; side < 2; side++) {
        if (keeps && (side == 1) != start->deck.wind_starboard)
            continue;
        struct label *label = add_label(front);
        *label = (struct label){.at = start->at,
                                .cost_s = start->cost_s,
                                .twa_deg = start->twa_deg,
                                .deck = start->deck,
                                .work_left_s = start->work_left_s,
                                .stowing = start->stowing};
        label->deck.wind_starboard = side == 1;
        label->cell =
            cells_key(&front->cells, start->at, deck_index(label->deck));
    }
    front->now = front->next;
    front->now_count = front->next_count;
    front->now_capacity = front->next_capacity;
    front->next = NULL;
    front->next_capacity = 0;
}

static void make_room_for_harvests(struct front *front) {
    size_t room = expand_most(&front->expander.fan);
    front->harvests =
        arena_alloc(front->scratch, BLOCK, sizeof *front->harvests);
    /* one piece, of which little is ever touched: the rest takes no memory */
    struct label *items =
        arena_alloc(front->scratch, BLOCK * room, sizeof *items);
    for (size_t i = 0; i < BLOCK; i++)
        front->harvests[i].items = items + i * room;
}

void front_run(const struct voyage *voyage, const struct underway *start,
               struct position goal, const struct front_options *options,
               struct arena *arena, struct front_result *result) {
    *result = (struct front_result){.reached = false};
    struct arena scratch;
    arena_init(&scratch);
    struct front front = {.options = options,
                          .start = start->at,
                          .start_s = start->t_s,
                          .arena = arena,
                          .scratch = &scratch,
                          .result = result};
    front.expander = (struct expander){.voyage = *voyage,
                                       .options = options,
                                       .goal = goal,
                                       .cells = &front.cells,
                                       .bound_s = options->bound_s};
    front.expander.voyage.step_s = options->step_s;
    front.expander.calmer_s = voyage->ease > 0.0 ? options->calmer_s : HUGE_VAL;
    double safe = options->waterway ? WATERWAY_SAFE_FRAC : SPHERE_SAFE_FRAC;
    front.expander.fair_s_per_m = 1.0 / options->fair_mps;
    front.expander.least_s_per_m = safe / options->closing_mps;
    fan_init(&front.expander.fan, &front.expander.voyage, options->fan_deg,
             &scratch);
    result->isochrones =
        arena_alloc(arena, MAX_LAYERS, sizeof *result->isochrones);
    cells_init(&front.cells, &scratch, options->cell_m, start->at);
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
    arena_free(&scratch);
}

enum obstacle front_main_cause(const struct front_result *result) {
    static const enum obstacle causes[] = {
        OBSTACLE_ZONE, OBSTACLE_WIND,    OBSTACLE_GUST,   OBSTACLE_WAVE,
        OBSTACLE_AREA, OBSTACLE_HORIZON, OBSTACLE_CURRENT};
    enum obstacle main = OBSTACLE_NO_SPEED;
    size_t most = 0;
    for (size_t i = 0; i < sizeof causes / sizeof *causes; i++) {
        if (result->stopped_by[causes[i]] > most) {
            most = result->stopped_by[causes[i]];
            main = causes[i];
        }
    }
    return main;
}
