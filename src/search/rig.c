#include "search/rig.h"

#include "base/units.h"
#include "earth/rhumb.h"

#include <math.h>
#include <string.h>

/* The way back from a label: all that is kept of those further astern. */
struct back {
    int parent;        /* place of the label at the vertex before */
    struct deck order; /* that was given there */
};

/* The cheapest way to be at a vertex in one deck state. */
struct label {
    bool live;
    struct underway boat;
    struct back back;
};

/* A boat that is still stowing has paid for less than one that has stowed, but
 * may not pass the landfall circle yet; so has one that began later. They have
 * places of their own, by the minutes that are left. */
enum { STOWING_PLACES = 12, PLACES = DECK_STATES + 2 * STOWING_PLACES };
static const double STOWING_PLACE_S = 180.0;

static int place_of(const struct underway *boat) {
    if (!boat->stowing || boat->deck.spar != SPAR_STOWED)
        return deck_index(boat->deck);
    double left =
        fmin(boat->work_left_s / STOWING_PLACE_S, STOWING_PLACES - 1.0);
    return DECK_STATES + (boat->deck.wind_starboard ? STOWING_PLACES : 0) +
           (int)left;
}

/* Orders to try: the wind side does not count. */
static const struct deck orders[] = {
    {.spar = SPAR_STOWED},
    {.spar = SPAR_PORT},
    {.spar = SPAR_STARBOARD},
    {.spar = SPAR_PORT, .rolled = true},
    {.spar = SPAR_STARBOARD, .rolled = true},
};
enum { ORDERS = sizeof orders / sizeof *orders };

static void keep_cheapest(struct label *row, const struct underway *boat,
                          int parent, struct deck order) {
    struct label *label = &row[place_of(boat)];
    if (label->live && label->boat.cost_s <= boat->cost_s)
        return;
    label->live = true;
    label->boat = *boat;
    label->back = (struct back){parent, order};
}

/* No use: to roll a sail that is not out there, or to order a spar that can't
 * draw. */
static bool is_idle(const struct voyage *voyage, const struct underway *boat,
                    double course_deg, struct deck order) {
    if (order.spar == SPAR_STOWED || deck_same_rig(order, boat->deck))
        return false;
    if (order.rolled)
        return order.spar != boat->deck.spar;
    return boat->here_known &&
           voyage_spar_hopeless(voyage, &boat->here, course_deg, order.spar);
}

/* Sails one stretch from one label under every order. */
static enum obstacle expand(const struct voyage *voyage,
                            const struct track *track, size_t index,
                            const struct label *from, int parent,
                            struct label *row) {
    enum obstacle why = OBSTACLE_NONE;
    struct vertex ends[2] = {track->vertices[index],
                             track->vertices[index + 1]};
    struct track stretch = {.vertices = ends, .count = 2};
    int count = voyage->spar_allowed ? ORDERS : 1;
    double course_deg = rhumb_between(ends[0].at, ends[1].at).course_deg;
    for (int i = 0; i < count; i++) {
        struct underway boat = from->boat;
        if (is_idle(voyage, &boat, course_deg, orders[i]))
            continue;
        ends[0].order = orders[i];
        enum obstacle obstacle =
            track_sail_stretch(voyage, &stretch, 0, &boat, NULL);
        if (obstacle == OBSTACLE_NONE)
            keep_cheapest(row, &boat, parent, orders[i]);
        else if (why == OBSTACLE_NONE || why == OBSTACLE_LANDFALL)
            why = obstacle;
    }
    return why;
}

static enum obstacle expand_row(const struct voyage *voyage,
                                const struct track *track, size_t index,
                                const struct label *row, struct label *next) {
    enum obstacle why = OBSTACLE_NONE;
    bool reached = false;
    for (int place = 0; place < PLACES; place++)
        next[place].live = false;
    for (int place = 0; place < PLACES; place++) {
        if (!row[place].live)
            continue;
        enum obstacle obstacle =
            expand(voyage, track, index, &row[place], place, next);
        if (why == OBSTACLE_NONE || why == OBSTACLE_LANDFALL)
            why = obstacle;
    }
    for (int place = 0; place < PLACES; place++)
        reached = reached || next[place].live;
    return reached ? OBSTACLE_NONE : why;
}

static void seed_first_row(struct label *row, const struct underway *start) {
    for (int side = 0; side < 2; side++) {
        struct underway boat = *start;
        boat.deck.wind_starboard = side == 1;
        keep_cheapest(row, &boat, 0, boat.deck);
    }
}

/* The cheapest end with the spar stowed. */
static int best_end(const struct label *row) {
    int best = -1;
    for (int place = 0; place < PLACES; place++) {
        if (!row[place].live || row[place].boat.deck.spar != SPAR_STOWED)
            continue;
        if (best < 0 || row[place].boat.cost_s < row[best].boat.cost_s)
            best = place;
    }
    return best;
}

static void note_backs(const struct label *row, struct back *backs) {
    for (int place = 0; place < PLACES; place++)
        if (row[place].live)
            backs[place] = row[place].back;
}

enum obstacle rig_track(const struct voyage *voyage, struct track *track,
                        const struct underway *start, struct arena *scratch,
                        double *cost_s) {
    struct label rows[2][PLACES];
    struct back(*backs)[PLACES] =
        arena_alloc(scratch, track->count, sizeof *backs);
    size_t last = track->count - 1;
    for (int i = 0; i < PLACES; i++)
        rows[0][i].live = false;
    seed_first_row(rows[0], start);
    for (size_t i = 0; i < last; i++) {
        struct label *next = rows[(i + 1) % 2];
        enum obstacle why = expand_row(voyage, track, i, rows[i % 2], next);
        if (why != OBSTACLE_NONE)
            return why;
        note_backs(next, backs[i + 1]);
    }
    int place = best_end(rows[last % 2]);
    if (place < 0)
        return OBSTACLE_LANDFALL;
    *cost_s = rows[last % 2][place].boat.cost_s;
    for (size_t i = last; i > 0; i--) {
        track->vertices[i - 1].order = backs[i][place].order;
        place = backs[i][place].parent;
    }
    return OBSTACLE_NONE;
}

/* Near the finish the last stow has to find its place to half a mile. */
static const double NEAR_SPACING_M = 0.5 * METRES_PER_NMI;
static const double NEAR_ZONE_M = 6.0 * METRES_PER_NMI;

static double spacing_at(const struct voyage *voyage, struct position place,
                         double spacing_m) {
    double off_m = rhumb_between(place, voyage->finish).distance_m;
    double landfall_m = voyage->boat->spar.landfall_m;
    bool near = voyage->spar_allowed && off_m > landfall_m - NEAR_SPACING_M &&
                off_m < landfall_m + NEAR_ZONE_M;
    return near ? fmin(spacing_m, NEAR_SPACING_M) : spacing_m;
}

/* The next vertex on the line to `end`: by the spacing, but never past the
 * edge of the zone of close spacing. */
static double next_distance(const struct voyage *voyage, struct position from,
                            struct rhumb line, double spacing_m) {
    double step_m = spacing_at(voyage, from, spacing_m);
    if (step_m <= NEAR_SPACING_M || !voyage->spar_allowed)
        return step_m;
    double zone_m = voyage->boat->spar.landfall_m + NEAR_ZONE_M;
    double off_m = rhumb_between(from, voyage->finish).distance_m;
    if (off_m > zone_m && off_m - zone_m < fmin(step_m, line.distance_m))
        return fmax(off_m - zone_m + 1.0, NEAR_SPACING_M);
    return step_m;
}

struct track rig_divide(const struct voyage *voyage, const struct track *track,
                        double spacing_m, struct arena *arena) {
    struct track divided = {.count = 0};
    size_t capacity = 0;
    for (size_t i = 0; i < track->count; i++) {
        struct vertex vertex = track->vertices[i];
        for (;;) {
            divided.vertices =
                arena_room(arena, divided.vertices, divided.count, &capacity,
                           sizeof *divided.vertices);
            divided.vertices[divided.count++] = vertex;
            if (i + 1 == track->count)
                break;
            struct rhumb line =
                rhumb_between(vertex.at, track->vertices[i + 1].at);
            double step_m = next_distance(voyage, vertex.at, line, spacing_m);
            if (line.distance_m < 1.5 * step_m)
                break;
            vertex.at = rhumb_ahead(vertex.at, line.course_deg, step_m);
            vertex.pinned = false;
            vertex.added = true;
        }
    }
    return divided;
}

struct track rig_halve(const struct track *track, struct arena *arena) {
    struct track halved = {.count = 2 * track->count - 1};
    halved.vertices = arena_alloc(arena, halved.count, sizeof *halved.vertices);
    for (size_t i = 0; i < track->count; i++) {
        halved.vertices[2 * i] = track->vertices[i];
        if (i + 1 == track->count)
            break;
        struct position at = track->vertices[i].at;
        struct rhumb line = rhumb_between(at, track->vertices[i + 1].at);
        halved.vertices[2 * i + 1] = (struct vertex){
            .at = rhumb_ahead(at, line.course_deg, 0.5 * line.distance_m),
            .order = track->vertices[i].order};
    }
    return halved;
}

struct track rig_thin(const struct track *track, struct arena *arena) {
    struct track thin = {.count = 0};
    thin.vertices = arena_alloc(arena, track->count, sizeof *thin.vertices);
    for (size_t i = 0; i < track->count; i++) {
        const struct vertex *vertex = &track->vertices[i];
        bool needed =
            !vertex->added || i + 1 == track->count ||
            !deck_same_rig(vertex->order, thin.vertices[thin.count - 1].order);
        if (needed)
            thin.vertices[thin.count++] = *vertex;
    }
    return thin;
}
