#include "search/boards.h"

#include "earth/angle.h"
#include "earth/rhumb.h"

#include <math.h>

/* Moves take no more off a way than this part of its cost. */
static const double WORTH_FRAC = 0.01;

/* She creeps at half a knot; what moves make of that is no slower than a beat,
 * with some three knots made good. */
static const double CURED_FRAC = 5.0 / 6.0;

/* The stretches of a track from one turn to the next: board k starts at vertex
 * `first[k]`, and ends where the next one starts. */
struct boards {
    size_t *first; /* [count + 1]: the last one is the end of the track */
    size_t count;
};

/* By the side of the wind on which she ends each stretch. */
static struct boards boards_of(const struct voyage *voyage,
                               const struct track *track,
                               const struct underway *start,
                               struct arena *arena) {
    struct boards boards = {
        .first = arena_alloc(arena, track->count, sizeof *boards.first)};
    struct underway boat = track_start(voyage, track, start);
    for (size_t i = 0; i + 1 < track->count; i++) {
        bool before = boat.deck.wind_starboard;
        if (track_sail_stretch(voyage, track, i, &boat, NULL) != OBSTACLE_NONE)
            return (struct boards){.count = 0};
        if (i == 0 || boat.deck.wind_starboard != before)
            boards.first[boards.count++] = i;
    }
    boards.first[boards.count] = track->count - 1;
    return boards;
}

static bool is_pinned(const struct track *track, size_t from, size_t to) {
    for (size_t i = from + 1; i < to; i++)
        if (track->vertices[i].pinned)
            return true;
    return false;
}

/* Appends the stretches from one vertex to another, from where the way so far
 * ends. */
static void append(struct track *way, const struct track *track, size_t from,
                   size_t to) {
    for (size_t i = from; i < to; i++) {
        struct vertex *last = &way->vertices[way->count - 1];
        const struct vertex *v = &track->vertices[i];
        struct rhumb line = rhumb_between(v[0].at, v[1].at);
        last->order = v->order;
        way->vertices[way->count] = v[1];
        way->vertices[way->count++].at =
            rhumb_ahead(last->at, line.course_deg, line.distance_m);
    }
}

/* Board k + 1 before board k. */
static struct track exchanged(const struct track *track,
                              const struct boards *boards, size_t k,
                              struct arena *arena) {
    const size_t *first = &boards->first[k];
    struct track way = track_copy(arena, track);
    way.count = first[0] + 1;
    append(&way, track, first[1], first[2]);
    way.vertices[way.count - 1].pinned = false; /* its end may have been */
    append(&way, track, first[0], first[1]);
    way.vertices[first[2]] = track->vertices[first[2]];
    way.count = track->count;
    return way;
}

/* Moves the vertices between two, the ends of which go by `by_deg` at the one
 * and stay at the other, each by its part of the way. */
static void shear(struct track *way, size_t stays, size_t goes,
                  struct position by_deg) {
    double whole_m = 0.0, on_m = 0.0;
    size_t first = stays < goes ? stays : goes;
    size_t last = stays < goes ? goes : stays;
    struct vertex *v = way->vertices;
    for (size_t i = first; i < last; i++)
        whole_m += rhumb_between(v[i].at, v[i + 1].at).distance_m;
    struct position before = v[first].at;
    for (size_t i = first; i <= last && whole_m > 0.0; i++) {
        on_m += rhumb_between(before, v[i].at).distance_m;
        double part = stays < goes ? on_m / whole_m : 1.0 - on_m / whole_m;
        before = v[i].at;
        v[i].at.lat_deg += part * by_deg.lat_deg;
        v[i].at.lon_deg =
            angle_wrap_longitude(v[i].at.lon_deg + part * by_deg.lon_deg);
    }
}

/* Without board k: the next one, or of the last board that before, makes up
 * for it. */
static struct track without(const struct track *track,
                            const struct boards *boards, size_t k,
                            struct arena *arena) {
    size_t from = boards->first[k], to = boards->first[k + 1];
    struct track way = track_copy(arena, track);
    struct position a = track->vertices[from].at, b = track->vertices[to].at;
    struct position there = {b.lat_deg - a.lat_deg,
                             angle_turn(a.lon_deg, b.lon_deg)};
    struct position back = {-there.lat_deg, -there.lon_deg};
    bool last = k + 1 == boards->count;
    if (last)
        shear(&way, boards->first[k - 1], from, there);
    else
        shear(&way, boards->first[k + 2], to, back);
    const struct vertex *joint = &track->vertices[last ? to : from];
    way.vertices[from] = way.vertices[last ? from : to];
    way.vertices[from].at = joint->at;
    way.vertices[from].pinned = joint->pinned;
    way.count = from + 1;
    for (size_t i = to + 1; i < track->count; i++)
        way.vertices[way.count++] = way.vertices[i];
    return way;
}

/* As if she made something good where she creeps. */
static double fair_cost_s(const struct voyage *voyage, const struct track *way,
                          const struct underway *start) {
    struct underway boat = track_start(voyage, way, start);
    if (track_sail(voyage, way, &boat, NULL) != OBSTACLE_NONE)
        return HUGE_VAL;
    return boat.cost_s - CURED_FRAC * boat.crept_s;
}

/* The cheapest ways so far, in order. */
struct picks {
    struct pick {
        struct track way;
        double cost_s;
    } * items;
    size_t count, most;
    double most_s;
};

static void offer(struct picks *picks, struct track way, double cost_s) {
    bool full = picks->count == picks->most;
    if (cost_s >= picks->most_s ||
        (full && cost_s >= picks->items[picks->most - 1].cost_s))
        return;
    size_t i = full ? picks->most - 1 : picks->count++;
    for (; i > 0 && picks->items[i - 1].cost_s > cost_s; i--)
        picks->items[i] = picks->items[i - 1];
    picks->items[i] = (struct pick){way, cost_s};
}

/* What can be done with board k: after the next one, and not at all. */
static size_t list_ways(const struct track *track, const struct boards *boards,
                        size_t k, struct track ways[2], struct arena *arena) {
    bool last = k + 1 == boards->count;
    size_t first = boards->first[last ? k - 1 : k];
    size_t end = boards->first[last ? k + 1 : k + 2];
    size_t count = 0;
    if (is_pinned(track, first, end))
        return 0;
    ways[count++] = without(track, boards, k, arena);
    if (!last)
        ways[count++] = exchanged(track, boards, k, arena);
    return count;
}

size_t boards_ways(const struct voyage *voyage, const struct track *track,
                   const struct underway *start, struct track *ways,
                   size_t most, struct arena *arena) {
    struct boards boards = boards_of(voyage, track, start, arena);
    struct picks picks = {
        .items = arena_alloc(arena, most, sizeof *picks.items), .most = most};
    picks.most_s = (1.0 + WORTH_FRAC) * fair_cost_s(voyage, track, start);
    for (size_t k = 0; boards.count > 1 && k < boards.count; k++) {
        struct track other[2];
        size_t count = list_ways(track, &boards, k, other, arena);
        for (size_t i = 0; i < count; i++)
            offer(&picks, other[i], fair_cost_s(voyage, &other[i], start));
    }
    for (size_t i = 0; i < picks.count; i++)
        ways[i] = picks.items[i].way;
    return picks.count;
}
