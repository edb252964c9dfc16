#include "search/waterway.h"

#include "earth/angle.h"
#include "earth/mercator.h"
#include "earth/sphere.h"
#include "search/sight.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

/* Squares: so many round the earth at first, 42 nmi on the equator; each can be
 * halved so often. The chart ends at 85 degrees of latitude. */
enum { ROOTS = 512, HALVINGS = 10, ROOT_SIZE = 1 << HALVINGS };
#define UNIT_RAD (2.0 * PI / ((double)ROOTS * ROOT_SIZE))

/* Squares are halved down to this, and off the start and the goal, where
 * harbours are, to the second. */
static const double GRAIN_M = 0.5 * METRES_PER_NMI;
static const double HARBOUR_GRAIN_M = 0.12 * METRES_PER_NMI;
static const double HARBOUR_M = 6.0 * METRES_PER_NMI;

/* Half a diagonal in parts of the side, with some slack for the scale, which
 * changes over a square. */
static const double HALF_DIAGONAL = 0.5 * 1.4143 * 1.02;

/* Ways that are longer than the best by more than this are not looked at. */
static const double DETOUR_FACTOR = 1.5;
static const double DETOUR_M = 60.0 * METRES_PER_NMI;

/* No sea needs more; what lies beyond stays unknown. */
enum { MOST_SQUARES = 3000000 };

struct square {
    int32_t x, y;          /* south-west corner, in units */
    int32_t size;          /* side; 0: the goal itself */
    uint32_t children;     /* the first of four; 0: none yet */
    bool halved, open;     /* open: its middle is open water */
    bool settled, sighted; /* sighted: the corner is known to be in sight */
    bool by_start;         /* the start may be in sight */
    uint32_t corner;       /* where the way goes on */
    struct position place; /* its middle */
    struct sphere_point point;
    double left_m; /* HUGE_VAL: no way known */
};

struct entry {
    double total_m; /* way left and the straight way to the start */
    uint32_t square;
};

struct waterway {
    const struct voyage *voyage;
    struct arena *arena;
    struct position start, goal;
    struct sphere_point start_point;
    uint32_t *roots; /* [ROOTS * ROOTS], 0: none yet */
    struct square *squares;
    size_t count, capacity;
    struct entry *heap;
    size_t heap_count, heap_capacity;
    uint32_t *around; /* neighbours, as they are listed */
    size_t around_count, around_capacity;
    bool reached;
    double limit_m; /* totals beyond are not looked at */
};

/* Number 0 is nobody. */
enum { NOBODY = 0, GOAL = 1 };

/* --- squares -------------------------------------------------------------- */

static struct position middle_of(int32_t x, int32_t y, int32_t size) {
    return mercator_position((struct mercator){
        (x + 0.5 * size) * UNIT_RAD - PI, (y + 0.5 * size) * UNIT_RAD - PI});
}

static double grain_m(const struct waterway *way, struct sphere_point point) {
    struct sphere_point goal = way->squares[GOAL].point;
    double off_m = fmin(sphere_distance_m(point, way->start_point),
                        sphere_distance_m(point, goal));
    return off_m < HARBOUR_M ? HARBOUR_GRAIN_M : GRAIN_M;
}

static uint32_t add_square(struct waterway *way, const struct square *square) {
    way->squares = arena_room(way->arena, way->squares, way->count,
                              &way->capacity, sizeof *way->squares);
    way->squares[way->count] = *square;
    return (uint32_t)way->count++;
}

static uint32_t make_square(struct waterway *way, int32_t x, int32_t y,
                            int32_t size) {
    struct square square = {.x = x,
                            .y = y,
                            .size = size,
                            .place = middle_of(x, y, size),
                            .left_m = HUGE_VAL};
    square.point = sphere_point(square.place);
    double side_m = size * UNIT_RAD * mercator_scale_m(square.place.lat_deg);
    double room_m = way->voyage->room_m(way->voyage->water, square.place);
    square.halved = size > 1 && fabs(room_m) < HALF_DIAGONAL * side_m &&
                    side_m > grain_m(way, square.point) &&
                    way->count < MOST_SQUARES;
    square.open = !square.halved && room_m > 0.0;
    return add_square(way, &square);
}

static uint32_t child_at(const struct square *square, int32_t x, int32_t y) {
    int32_t half = square->size / 2;
    return square->children + (x >= square->x + half ? 1u : 0u) +
           (y >= square->y + half ? 2u : 0u);
}

static void halve(struct waterway *way, uint32_t index) {
    struct square parent = way->squares[index];
    int32_t half = parent.size / 2;
    uint32_t first = (uint32_t)way->count;
    for (int i = 0; i < 4; i++)
        make_square(way, parent.x + (i & 1) * half, parent.y + (i >> 1) * half,
                    half);
    way->squares[index].children = first;
}

static uint32_t *root_at(const struct waterway *way, int32_t x, int32_t y) {
    if (y < 0 || y >= ROOTS * ROOT_SIZE)
        return NULL;
    return &way->roots[(y >> HALVINGS) * ROOTS + (x >> HALVINGS)];
}

static int32_t wrapped(int32_t x) {
    return x & (ROOTS * ROOT_SIZE - 1);
}

/* The smallest square at a place, made where it is not there yet. */
static uint32_t leaf_at(struct waterway *way, int32_t x, int32_t y) {
    x = wrapped(x);
    uint32_t *root = root_at(way, x, y);
    if (!root)
        return NOBODY;
    if (*root == NOBODY)
        *root = make_square(way, x & ~(ROOT_SIZE - 1), y & ~(ROOT_SIZE - 1),
                            ROOT_SIZE);
    uint32_t index = *root;
    while (way->squares[index].halved) {
        if (way->squares[index].children == NOBODY)
            halve(way, index);
        index = child_at(&way->squares[index], x, y);
    }
    return index;
}

/* The same among those that are there. */
static uint32_t find_leaf(const struct waterway *way, int32_t x, int32_t y) {
    x = wrapped(x);
    const uint32_t *root = root_at(way, x, y);
    uint32_t index = root ? *root : NOBODY;
    while (index != NOBODY && way->squares[index].halved) {
        const struct square *square = &way->squares[index];
        index = square->children == NOBODY ? NOBODY : child_at(square, x, y);
    }
    return index;
}

static void units_of(struct position place, int32_t *x, int32_t *y) {
    struct mercator point = mercator_of(place);
    *x = wrapped((int32_t)floor((point.x + PI) / UNIT_RAD));
    *y = (int32_t)floor((point.y + PI) / UNIT_RAD);
}

/* --- neighbours ----------------------------------------------------------- */

static void list(struct waterway *way, uint32_t index) {
    if (index == NOBODY)
        return;
    way->around = arena_room(way->arena, way->around, way->around_count,
                             &way->around_capacity, sizeof *way->around);
    way->around[way->around_count++] = index;
}

/* All along one side, from (x, y) on in steps of (dx, dy). */
static void list_side(struct waterway *way, int32_t x, int32_t y, bool north,
                      int32_t length) {
    for (int32_t done = 0; done < length;) {
        int32_t px = north ? x : x + done, py = north ? y + done : y;
        uint32_t index = leaf_at(way, px, py);
        list(way, index);
        if (index == NOBODY)
            return;
        const struct square *square = &way->squares[index];
        int32_t end = north ? square->y + square->size - y
                            : square->size - ((wrapped(px) - square->x) - done);
        done = end > done ? end : done + 1;
    }
}

/* The squares that touch one, into `around`. */
static void list_neighbours(struct waterway *way, uint32_t index) {
    struct square s = way->squares[index];
    way->around_count = 0;
    list_side(way, s.x + s.size, s.y, true, s.size);
    list_side(way, s.x - 1, s.y, true, s.size);
    list_side(way, s.x, s.y + s.size, false, s.size);
    list_side(way, s.x, s.y - 1, false, s.size);
    list(way, leaf_at(way, s.x - 1, s.y - 1));
    list(way, leaf_at(way, s.x + s.size, s.y - 1));
    list(way, leaf_at(way, s.x - 1, s.y + s.size));
    list(way, leaf_at(way, s.x + s.size, s.y + s.size));
}

/* --- the heap, least total first, then least number ------------------------
 */

static bool comes_first(struct entry a, struct entry b) {
    return a.total_m < b.total_m ||
           (a.total_m <= b.total_m && a.square < b.square);
}

static void push(struct waterway *way, struct entry entry) {
    way->heap = arena_room(way->arena, way->heap, way->heap_count,
                           &way->heap_capacity, sizeof *way->heap);
    size_t i = way->heap_count++;
    while (i > 0 && comes_first(entry, way->heap[(i - 1) / 2])) {
        way->heap[i] = way->heap[(i - 1) / 2];
        i = (i - 1) / 2;
    }
    way->heap[i] = entry;
}

static struct entry pop(struct waterway *way) {
    struct entry first = way->heap[0];
    struct entry last = way->heap[--way->heap_count];
    size_t i = 0;
    for (;;) {
        size_t child = 2 * i + 1;
        if (child >= way->heap_count)
            break;
        if (child + 1 < way->heap_count &&
            comes_first(way->heap[child + 1], way->heap[child]))
            child++;
        if (!comes_first(way->heap[child], last))
            break;
        way->heap[i] = way->heap[child];
        i = child;
    }
    way->heap[i] = last;
    return first;
}

/* --- from the goal outwards ------------------------------------------------
 */

static double between_m(const struct waterway *way, uint32_t a, uint32_t b) {
    return sphere_distance_m(way->squares[a].point, way->squares[b].point);
}

static bool is_clear(const struct waterway *way, uint32_t a, uint32_t b) {
    return sight_is_clear(way->voyage, way->squares[a].place,
                          way->squares[b].place);
}

static double total_m(const struct waterway *way, uint32_t index) {
    const struct square *square = &way->squares[index];
    return square->left_m + sphere_distance_m(square->point, way->start_point);
}

/* A way on from a square, by a corner that may not be in sight. */
static void offer(struct waterway *way, uint32_t index, uint32_t corner) {
    struct square *square = &way->squares[index];
    if (!square->open || square->settled)
        return;
    double left_m = way->squares[corner].left_m + between_m(way, index, corner);
    if (left_m >= square->left_m)
        return;
    square->left_m = left_m;
    square->corner = corner;
    square->sighted = false;
    double total = total_m(way, index);
    if (total <= way->limit_m)
        push(way, (struct entry){total, index});
}

/* The corner was not in sight: the best of the neighbours is one. */
static void turn_at_a_neighbour(struct waterway *way, uint32_t index) {
    double best_m = HUGE_VAL;
    uint32_t best = NOBODY;
    list_neighbours(way, index);
    for (size_t i = 0; i < way->around_count; i++) {
        uint32_t other = way->around[i];
        if (!way->squares[other].settled)
            continue;
        double left_m =
            way->squares[other].left_m + between_m(way, index, other);
        if (left_m < best_m && is_clear(way, index, other)) {
            best_m = left_m;
            best = other;
        }
    }
    struct square *square = &way->squares[index];
    square->left_m = best_m;
    square->corner = best;
    square->sighted = true;
    if (best != NOBODY)
        push(way, (struct entry){total_m(way, index), index});
}

static void settle(struct waterway *way, uint32_t index) {
    way->squares[index].settled = true;
    if (way->squares[index].by_start && !way->reached &&
        sight_is_clear(way->voyage, way->start, way->squares[index].place)) {
        way->reached = true;
        way->limit_m = DETOUR_FACTOR * total_m(way, index) + DETOUR_M;
    }
    list_neighbours(way, index);
    for (size_t i = 0; i < way->around_count; i++)
        offer(way, way->around[i], way->squares[index].corner);
}

static void spread(struct waterway *way) {
    while (way->heap_count > 0 && way->count < MOST_SQUARES) {
        struct entry entry = pop(way);
        const struct square *square = &way->squares[entry.square];
        if (square->settled || entry.total_m > way->limit_m ||
            entry.total_m > total_m(way, entry.square))
            continue;
        if (square->sighted || is_clear(way, entry.square, square->corner))
            settle(way, entry.square);
        else
            turn_at_a_neighbour(way, entry.square);
    }
}

/* The squares round a place, its own and two rings, for what `visit` does. */
static void visit_near(struct waterway *way, struct position place,
                       void (*visit)(struct waterway *way, uint32_t index)) {
    int32_t x, y;
    units_of(place, &x, &y);
    uint32_t own = leaf_at(way, x, y);
    if (own == NOBODY)
        return;
    visit(way, own);
    list_neighbours(way, own);
    size_t count = way->around_count;
    uint32_t *ring = arena_alloc(way->arena, count + 1, sizeof *ring);
    memcpy(ring, way->around, count * sizeof *ring);
    for (size_t i = 0; i < count; i++) {
        visit(way, ring[i]);
        list_neighbours(way, ring[i]);
        for (size_t k = 0; k < way->around_count; k++)
            visit(way, way->around[k]);
    }
}

static void note_by_start(struct waterway *way, uint32_t index) {
    way->squares[index].by_start = true;
}

static void offer_goal(struct waterway *way, uint32_t index) {
    offer(way, index, GOAL);
}

const struct waterway *waterway_make(const struct voyage *voyage,
                                     struct position start,
                                     struct position goal,
                                     struct arena *arena) {
    struct waterway *way = arena_alloc(arena, 1, sizeof *way);
    *way = (struct waterway){.voyage = voyage,
                             .arena = arena,
                             .start = start,
                             .goal = goal,
                             .start_point = sphere_point(start),
                             .limit_m = HUGE_VAL};
    way->roots = arena_alloc(arena, (size_t)ROOTS * ROOTS, sizeof *way->roots);
    add_square(way, &(struct square){.left_m = HUGE_VAL});
    add_square(way, &(struct square){.place = goal,
                                     .point = sphere_point(goal),
                                     .settled = true,
                                     .corner = GOAL});
    visit_near(way, start, note_by_start);
    visit_near(way, goal, offer_goal);
    if (sight_is_clear(voyage, start, goal)) {
        way->reached = true;
        way->limit_m =
            DETOUR_FACTOR *
                sphere_distance_m(way->start_point, way->squares[GOAL].point) +
            DETOUR_M;
    }
    spread(way);
    return way;
}

/* --- asking ----------------------------------------------------------------
 */

/* The settled square at a place, or the best one beside it: a boat may be
 * where the middle of her square is not open. */
static uint32_t settled_at(const struct waterway *way, struct position at,
                           bool *own) {
    int32_t x, y;
    units_of(at, &x, &y);
    uint32_t index = find_leaf(way, x, y);
    *own = index != NOBODY && way->squares[index].settled;
    if (*own || index == NOBODY)
        return index;
    int32_t size = way->squares[index].size;
    uint32_t best = NOBODY;
    for (int i = 0; i < 9; i++) {
        uint32_t other =
            find_leaf(way, x + (i % 3 - 1) * size, y + (i / 3 - 1) * size);
        if (other != NOBODY && way->squares[other].settled &&
            (best == NOBODY ||
             way->squares[other].left_m < way->squares[best].left_m))
            best = other;
    }
    return best;
}

double waterway_left_m(const struct waterway *way, struct position at) {
    struct sphere_point point = sphere_point(at);
    bool own;
    uint32_t index = settled_at(way, at, &own);
    double straight_m = sphere_distance_m(point, way->squares[GOAL].point);
    if (index == NOBODY) {
        double beyond_m =
            way->limit_m - sphere_distance_m(point, way->start_point);
        return isfinite(beyond_m) ? fmax(straight_m, beyond_m) : straight_m;
    }
    uint32_t corner = own ? way->squares[index].corner : index;
    return sphere_distance_m(point, way->squares[corner].point) +
           way->squares[corner].left_m;
}

bool waterway_reaches(const struct waterway *way) {
    bool full = way->count >= MOST_SQUARES; /* then nobody knows */
    return way->reached || full;
}

size_t waterway_path(const struct waterway *way, struct position at,
                     struct position *corners, size_t most) {
    bool own;
    uint32_t index = settled_at(way, at, &own);
    if (index == NOBODY)
        return 0;
    uint32_t corner = way->squares[index].corner;
    if (!own || !sight_is_clear(way->voyage, at, way->squares[corner].place))
        corner = index;
    size_t count = 0;
    while (count < most) {
        corners[count++] = way->squares[corner].place;
        if (corner == GOAL)
            break;
        corner = way->squares[corner].corner;
    }
    return count;
}
