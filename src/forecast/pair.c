#include "forecast/pair.h"

#include "earth/angle.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

static bool is_vector(enum quantity quantity) {
    return quantity == QUANTITY_WIND || quantity == QUANTITY_CURRENT;
}

/* Everything that a pair shares but the grid. The member is the same for all
 * layers of a quantity by now. */
static int compare_pair(const struct layer *a, const struct layer *b) {
    int order = order_of(a->quantity, b->quantity);
    if (!order)
        order = order_of(a->rank, b->rank);
    if (!order)
        order = order_of(a->run.unix_s, b->run.unix_s);
    return order ? order
                 : order_of(a->validity.end.unix_s, b->validity.end.unix_s);
}

/* Vectors first, partners side by side. */
static int by_pair(const void *left, const void *right) {
    const struct layer *a = left, *b = right;
    int order = order_of(is_vector(b->quantity), is_vector(a->quantity));
    if (!order)
        order = compare_pair(a, b);
    if (!order)
        order = order_of((int64_t)a->grid, (int64_t)b->grid);
    if (!order)
        order = order_of(a->part, b->part);
    return order ? order : layer_compare_place(a, b);
}

static const struct turn *turn_of(const struct layer *layer) {
    return &layer->from->field.origin.turn;
}

static bool are_partners(const struct layer *a, const struct layer *b) {
    return compare_pair(a, b) == 0 && a->grid == b->grid &&
           turn_same(turn_of(a), turn_of(b)) &&
           ((a->part == PART_EAST && b->part == PART_NORTH) ||
            (a->part == PART_SPEED && b->part == PART_DIRECTION));
}

/* --- joining ---------------------------------------------------------------*/

/* The values that were decoded stay: another member may have them, too. */
static void turn_to_components(struct layer *speed, struct layer *direction,
                               size_t points, struct arena *arena) {
    bool from = speed->quantity == QUANTITY_WIND;
    float *east = arena_alloc(arena, points, sizeof *east);
    float *north = arena_alloc(arena, points, sizeof *north);
    for (size_t i = 0; i < points; i++) {
        double mps = (double)speed->values[i];
        double deg = angle_wrap_360((double)direction->values[i]);
        struct vector_mps vector =
            from ? vector_from(deg, mps) : vector_towards(deg, mps);
        east[i] = (float)vector.east;
        north[i] = (float)vector.north;
    }
    speed->values = east;
    direction->values = north;
    speed->part = PART_EAST;
    direction->part = PART_NORTH;
}

/* Components along the axes of a grid to east and north: known where both are.
 */
static void turn_to_north(struct layer *u, struct layer *v,
                          const struct grid *grid, struct arena *arena) {
    size_t points = grid_points(grid);
    float *east = arena_alloc(arena, points, sizeof *east);
    float *north = arena_alloc(arena, points, sizeof *north);
    uint8_t *known = arena_alloc(arena, points, sizeof *known);
    for (size_t i = 0; i < points; i++) {
        struct vector_mps along = {(double)u->values[i], (double)v->values[i]};
        known[i] = (!u->known || u->known[i]) && (!v->known || v->known[i]);
        if (!known[i])
            continue;
        struct vector_mps vector =
            turn_vector(turn_of(u), grid_position(grid, i), along);
        east[i] = (float)vector.east;
        north[i] = (float)vector.north;
    }
    u->values = east;
    v->values = north;
    u->known = v->known = known;
}

static void join(struct layer *a, struct layer *b, const struct grid *grid,
                 struct arena *arena) {
    bool turned = turn_of(a)->kind != TURN_NONE;
    if (a->part != PART_SPEED && !turned)
        return;
    layer_unpack(a, grid, arena);
    layer_unpack(b, grid, arena);
    if (a->part == PART_SPEED)
        turn_to_components(a, b, grid_points(grid), arena);
    else
        turn_to_north(a, b, grid, arena);
}

/* --- left alone ------------------------------------------------------------*/

struct lone {
    size_t count;
    struct layer first; /* in time */
    bool other_grid;    /* its partner lies on another grid */
};

static const char *lone_words(const struct layer *layer) {
    bool wind = layer->quantity == QUANTITY_WIND;
    switch (layer->part) {
    case PART_EAST:
        return wind ? "u without v" : "current: u without v";
    case PART_NORTH:
        return wind ? "v without u" : "current: v without u";
    case PART_SPEED:
        return wind ? "wind speed without direction"
                    : "current speed without direction";
    case PART_DIRECTION:
        return wind ? "wind direction without speed"
                    : "current direction without speed";
    case PART_VALUE:
    case PART_HEIGHT:
    case PART_PERIOD:
        break;
    }
    return "half a vector";
}

static void note_lone(struct layers *layers, const struct lone *lone,
                      const struct source *sources, struct notes *notes) {
    char at[INSTANT_TEXT_SIZE];
    const struct layer *layer = &lone->first;
    instant_print(layer->validity.end, at);
    const char *more = "";
    if (lone->count > 1)
        more = arena_print(notes->arena, " and at %zu more time%s",
                           lone->count - 1, lone->count == 2 ? "" : "s");
    const char *text = arena_print(
        notes->arena, "%s at %s%s%s ('%s', message %zu)", lone_words(layer), at,
        more, lone->other_grid ? ": they lie on different grids" : "",
        sources[layer->from->source].path, layer->from->message + 1);
    if (layer->quantity == QUANTITY_WIND && !layers->lone)
        layers->lone = text;
    notes_add(notes, arena_print(notes->arena, "%s; not used", text));
}

static void count_lone(struct lone *lone, const struct layer *layer,
                       bool other_grid) {
    if (lone->count == 0 ||
        layer->validity.end.unix_s < lone->first.validity.end.unix_s) {
        lone->first = *layer;
        lone->other_grid = other_grid;
    }
    lone->count++;
}

/* A stray u at the surface does not matter beside u and v at 10 m. */
static bool has_better(const struct layers *layers, const struct layer *layer) {
    for (size_t i = 0; i < layers->count; i++) {
        const struct layer *other = &layers->items[i];
        if (other->quantity == layer->quantity && other->part == PART_EAST &&
            other->rank < layer->rank)
            return true;
    }
    return false;
}

/* Layers that have no partner. */
struct leftover {
    struct layer *layers;
    size_t count;
};

/* Another part of the same run and time was left over on another grid. */
static bool has_stranger(const struct leftover *leftover, size_t i) {
    const struct layer *layer = &leftover->layers[i];
    bool before = i > 0 && compare_pair(layer - 1, layer) == 0 &&
                  layer[-1].part != layer->part;
    bool after = i + 1 < leftover->count &&
                 compare_pair(layer + 1, layer) == 0 &&
                 layer[1].part != layer->part;
    return before || after;
}

/* Joins the pairs and keeps them with all that are no vectors; the rest goes
 * into `leftover`. Layers are in the order of by_pair(). */
static void join_pairs(struct layers *layers, struct leftover *leftover,
                       struct arena *arena) {
    size_t kept = 0;
    for (size_t i = 0; i < layers->count; i++) {
        struct layer *layer = &layers->items[i];
        bool pair = is_vector(layer->quantity) && i + 1 < layers->count &&
                    are_partners(layer, layer + 1);
        if (pair) {
            join(layer, layer + 1, &layers->grids[layer->grid], arena);
            layers->items[kept++] = *layer;
            layers->items[kept++] = layers->items[++i];
        } else if (is_vector(layer->quantity)) {
            leftover->layers[leftover->count++] = *layer;
        } else {
            layers->items[kept++] = *layer;
        }
    }
    layers->count = kept;
}

/* --- shifted grids ---------------------------------------------------------*/

/* Components of one model may stand half a cell apart: u on the sides of its
 * cells, v on their ends. Grids count as shifted where their spacings are the
 * same within this part, and no border lies further off than so many. */
static const double SPACING_FRAC = 0.01, SHIFT_STEPS = 1.5;

static bool is_near(double a_deg, double b_deg, double step_deg) {
    return fabs(angle_wrap_180(a_deg - b_deg)) <= SHIFT_STEPS * step_deg;
}

static bool is_shifted(const struct grid *a, const struct grid *b) {
    double lat = a->lat_step_deg, lon = a->lon_step_deg;
    return fabs(b->lat_step_deg - lat) <= SPACING_FRAC * lat &&
           fabs(b->lon_step_deg - lon) <= SPACING_FRAC * lon &&
           a->wraps == b->wraps && is_near(a->south_deg, b->south_deg, lat) &&
           is_near(a->south_deg + lat * a->nj, b->south_deg + lat * b->nj,
                   lat) &&
           (a->wraps || (is_near(a->west_deg, b->west_deg, lon) &&
                         is_near(a->west_deg + lon * a->ni,
                                 b->west_deg + lon * b->ni, lon)));
}

/* A layer's value at a place: bilinear, without corners that are unknown. */
static bool layer_at(const struct layer *layer, const struct grid *grid,
                     struct position position, float *value) {
    struct grid_cell cell;
    double sum = 0.0, weight = 0.0;
    if (!grid_find(grid, position, &cell))
        return false;
    for (int i = 0; i < 4; i++) {
        size_t point = grid_corner(grid, &cell, i);
        if (layer->known && !layer->known[point])
            continue;
        sum += cell.weight[i] * (double)layer->values[point];
        weight += cell.weight[i];
    }
    *value = weight > 0.0 ? (float)(sum / weight) : 0.0F;
    return weight > 0.0;
}

/* Puts a layer on another grid; outside its own it is unknown. */
static void move_layer(struct layer *layer, const struct layers *layers,
                       size_t to, struct arena *arena) {
    const struct grid *grid = &layers->grids[to];
    size_t points = grid_points(grid);
    float *values = arena_alloc(arena, points, sizeof *values);
    uint8_t *known = arena_alloc(arena, points, sizeof *known);
    layer_unpack(layer, &layers->grids[layer->grid], arena);
    for (size_t i = 0; i < points; i++)
        known[i] = layer_at(layer, &layers->grids[layer->grid],
                            grid_position(grid, i), &values[i]);
    layer->values = values;
    layer->known = known;
    layer->grid = to;
}

static bool are_shifted_partners(const struct layers *layers,
                                 const struct layer *u, const struct layer *v) {
    return u->part == PART_EAST && v->part == PART_NORTH &&
           compare_pair(u, v) == 0 && turn_same(turn_of(u), turn_of(v)) &&
           is_shifted(&layers->grids[u->grid], &layers->grids[v->grid]);
}

static void drop_leftover(struct leftover *leftover, size_t i) {
    leftover->count--;
    for (; i < leftover->count; i++)
        leftover->layers[i] = leftover->layers[i + 1];
}

/* v of leftover u number `i`: its number, or the count. */
static size_t find_shifted(const struct layers *layers,
                           const struct leftover *leftover, size_t i) {
    size_t k = 0;
    while (k < leftover->count &&
           !are_shifted_partners(layers, &leftover->layers[i],
                                 &leftover->layers[k]))
        k++;
    return k;
}

/* Pairs whose grids are shifted against one another: v comes to the points of
 * u. Those go back to `layers`, which had room for them before. */
static void join_shifted(struct layers *layers, struct leftover *leftover,
                         struct notes *notes, struct arena *arena) {
    size_t moved = 0;
    for (size_t i = 0; i < leftover->count;) {
        size_t k = find_shifted(layers, leftover, i);
        if (k == leftover->count) {
            i++;
            continue;
        }
        struct layer u = leftover->layers[i], v = leftover->layers[k];
        move_layer(&v, layers, u.grid, arena);
        join(&u, &v, &layers->grids[u.grid], arena);
        layers->items[layers->count++] = u;
        layers->items[layers->count++] = v;
        drop_leftover(leftover, i > k ? i : k);
        drop_leftover(leftover, i > k ? k : i);
        i -= k < i;
        moved++;
    }
    if (moved > 0)
        notes_add(notes,
                  arena_print(notes->arena,
                              "u and v lie on grids that are shifted against "
                              "one another at %zu time%s; v is interpolated to "
                              "the points of u",
                              moved, moved == 1 ? "" : "s"));
}

void pair_layers(struct layers *layers, const struct source *sources,
                 struct notes *notes, struct arena *arena) {
    struct lone lone[2] = {0}; /* wind, current */
    struct leftover leftover = {0};
    if (layers->count == 0)
        return;
    qsort(layers->items, layers->count, sizeof *layers->items, by_pair);
    leftover.layers =
        arena_alloc(arena, layers->count, sizeof *leftover.layers);
    join_pairs(layers, &leftover, arena);
    join_shifted(layers, &leftover, notes, arena);
    for (size_t i = 0; i < leftover.count; i++) {
        const struct layer *layer = &leftover.layers[i];
        if (!has_better(layers, layer))
            count_lone(&lone[layer->quantity != QUANTITY_WIND], layer,
                       has_stranger(&leftover, i));
    }
    for (int i = 0; i < 2; i++) {
        if (lone[i].count > 0)
            note_lone(layers, &lone[i], sources, notes);
    }
}
