#include "forecast/layer.h"

#include "forecast/pair.h"
#include <stdlib.h>
#include <string.h>

void notes_add(struct notes *notes, const char *text) {
    notes->texts = arena_room(notes->arena, notes->texts, notes->count,
                              &notes->capacity, sizeof *notes->texts);
    notes->texts[notes->count++] = text;
}

const char *quantity_name(enum quantity quantity) {
    static const char *const names[QUANTITY_COUNT] = {
        [QUANTITY_WIND] = "wind",           [QUANTITY_GUST] = "gust",
        [QUANTITY_PRESSURE] = "pressure",   [QUANTITY_CURRENT] = "current",
        [QUANTITY_SEA] = "combined sea",    [QUANTITY_WIND_SEA] = "wind sea",
        [QUANTITY_SWELL_1] = "first swell", [QUANTITY_SWELL_2] = "second swell",
        [QUANTITY_SWELL_3] = "third swell"};
    return names[quantity];
}

/* --- orders --------------------------------------------------------------- */

static int compare_what(const struct layer *a, const struct layer *b) {
    int order = order_of(a->quantity, b->quantity);
    if (!order)
        order = order_of(a->part, b->part);
    if (!order)
        order = order_of(a->rank, b->rank);
    return order ? order : order_of((int64_t)a->grid, (int64_t)b->grid);
}

static int compare_validity(const struct layer *a, const struct layer *b) {
    const struct validity *x = &a->validity, *y = &b->validity;
    int order = order_of(x->interval, y->interval);
    if (!order)
        order = order_of(x->start.unix_s, y->start.unix_s);
    return order ? order : order_of(x->end.unix_s, y->end.unix_s);
}

int layer_compare_place(const struct layer *a, const struct layer *b) {
    const struct decoded *x = a->from, *y = b->from;
    int order = order_of((int64_t)x->source, (int64_t)y->source);
    if (!order)
        order = order_of((int64_t)x->message, (int64_t)y->message);
    return order ? order : order_of(x->number, y->number);
}

/* Same field of the same run; a quantity is of one member. */
static int compare_field(const struct layer *a, const struct layer *b) {
    int order = compare_what(a, b);
    if (order == 0)
        order = order_of(a->run.unix_s, b->run.unix_s);
    return order ? order : compare_validity(a, b);
}

static int by_field(const void *left, const void *right) {
    int order = compare_field(left, right);
    return order ? order : layer_compare_place(left, right);
}

/* By valid time; of each the oldest run first. */
static int by_time(const void *left, const void *right) {
    const struct layer *a = left, *b = right;
    int order = compare_what(a, b);
    if (order == 0)
        order = compare_validity(a, b);
    if (order == 0)
        order = order_of(a->run.unix_s, b->run.unix_s);
    return order ? order : layer_compare_place(a, b);
}

static void sort(struct layers *layers,
                 int (*order)(const void *, const void *)) {
    if (layers->count > 0)
        qsort(layers->items, layers->count, sizeof *layers->items, order);
}

/* --- from fields ---------------------------------------------------------- */

/* LAYER_GRIDS where there is no room for one more. */
static size_t grid_index(struct layers *layers, const struct grid *grid,
                         struct arena *arena) {
    for (size_t i = 0; i < layers->grid_count; i++) {
        if (grid_same(&layers->grids[i], grid))
            return i;
    }
    if (layers->grid_count == LAYER_GRIDS)
        return LAYER_GRIDS;
    layers->grids = arena_room(arena, layers->grids, layers->grid_count,
                               &layers->grid_capacity, sizeof *layers->grids);
    layers->grids[layers->grid_count] = *grid;
    return layers->grid_count++;
}

static void add_layer(struct layers *layers, const struct decoded *decoded,
                      struct arena *arena) {
    const struct grib_field *field = &decoded->field;
    size_t grid = grid_index(layers, &field->grid, arena);
    if (grid == LAYER_GRIDS) {
        layers->crowded++;
        return;
    }
    layers->items = arena_room(arena, layers->items, layers->count,
                               &layers->capacity, sizeof *layers->items);
    layers->items[layers->count++] =
        (struct layer){.from = decoded,
                       .quantity = field->parameter.quantity,
                       .part = field->parameter.part,
                       .rank = field->parameter.rank,
                       .grid = grid,
                       .run = field->run,
                       .validity = field->validity,
                       .since_previous = field->parameter.since_previous,
                       .values = field->values,
                       .known = field->known,
                       .packed = &field->packed};
}

void layer_unpack(struct layer *layer, const struct grid *grid,
                  struct arena *arena) {
    if (layer->values)
        return;
    size_t points = grid_points(grid);
    float *values = arena_alloc(arena, points, sizeof *values);
    uint8_t *known = arena_alloc(arena, points, sizeof *known);
    packed_all(layer->packed, grid, values, known);
    layer->values = values;
    layer->known = layer->packed->bitmap ? known : NULL;
}

/* Keeps those that `wanted` says yes to, in order. */
static void keep_if(struct layers *layers,
                    bool (*wanted)(const struct layer *, const void *),
                    const void *context) {
    size_t kept = 0;
    for (size_t i = 0; i < layers->count; i++) {
        if (wanted(&layers->items[i], context))
            layers->items[kept++] = layers->items[i];
    }
    layers->count = kept;
}

/* --- duplicates ----------------------------------------------------------- */

static bool same_values(struct layer a, struct layer b,
                        const struct grid *grid) {
    size_t points = grid_points(grid);
    if (!a.values && !b.values && packed_same(a.packed, b.packed))
        return true;
    struct arena scratch;
    arena_init(&scratch);
    layer_unpack(&a, grid, &scratch);
    layer_unpack(&b, grid, &scratch);
    bool same = (a.known == NULL) == (b.known == NULL) &&
                (!a.known || memcmp(a.known, b.known, points) == 0) &&
                memcmp(a.values, b.values, points * sizeof *a.values) == 0;
    arena_free(&scratch);
    return same;
}

static void note_unlike(const struct layer *layer, size_t unlike,
                        const struct source *sources, struct notes *notes) {
    char at[INSTANT_TEXT_SIZE];
    instant_print(layer->validity.end, at);
    notes_add(notes,
              arena_print(notes->arena,
                          "%s at %s is there twice with unlike values, and "
                          "%zu more like it; the last one is used ('%s', "
                          "message %zu)",
                          quantity_name(layer->quantity), at, unlike - 1,
                          sources[layer->from->source].path,
                          layer->from->message + 1));
}

static void drop_duplicates(struct layers *layers, const struct source *sources,
                            struct notes *notes) {
    size_t kept = 0, same = 0, unlike = 0;
    struct layer first = {0};
    sort(layers, by_field);
    for (size_t i = 0; i < layers->count; i++) {
        const struct layer *layer = &layers->items[i];
        if (kept == 0 || compare_field(&layers->items[kept - 1], layer) != 0) {
            layers->items[kept++] = *layer;
            continue;
        }
        if (same_values(layers->items[kept - 1], *layer,
                        &layers->grids[layer->grid])) {
            same++;
            continue;
        }
        if (unlike++ == 0)
            first = *layer;
        layers->items[kept - 1] = *layer;
    }
    layers->count = kept;
    if (same > 0)
        notes_add(notes, arena_print(notes->arena,
                                     "%zu field%s there twice; counted once",
                                     same, same == 1 ? " is" : "s are"));
    if (unlike > 0)
        note_unlike(&first, unlike, sources, notes);
}

/* --- maxima since the step before ---------------------------------------- */

/* The header says only when the interval ends; it starts at the end of the one
 * before, or with the run. Layers are in the order of by_field(). */
static void start_maxima(struct layers *layers) {
    const struct layer *before = NULL;
    for (size_t i = 0; i < layers->count; i++) {
        struct layer *layer = &layers->items[i];
        if (!layer->since_previous || layer->validity.interval)
            continue;
        bool follows = before && compare_what(before, layer) == 0 &&
                       before->run.unix_s == layer->run.unix_s;
        layer->validity.start = follows ? before->validity.end : layer->run;
        layer->validity.interval =
            layer->validity.start.unix_s < layer->validity.end.unix_s;
        before = layer;
    }
}

/* --- ranks ---------------------------------------------------------------- */

enum { PARTS = PART_PERIOD + 1, RANKS_END = 1000 };

struct ranks {
    int best[QUANTITY_COUNT][PARTS];
};

static bool is_vector(enum quantity quantity) {
    return quantity == QUANTITY_WIND || quantity == QUANTITY_CURRENT;
}

static bool is_swell(enum quantity quantity) {
    return quantity >= QUANTITY_SWELL_1 && quantity <= QUANTITY_SWELL_3;
}

static bool is_best_rank(const struct layer *layer, const void *context) {
    const struct ranks *ranks = context;
    return layer->rank == ranks->best[layer->quantity][layer->part];
}

/* A swell's height, period and direction come from one source: a total is not
 * mixed with a partition. */
static void level_ranks(struct ranks *ranks) {
    for (int quantity = 0; quantity < QUANTITY_COUNT; quantity++) {
        int best = RANKS_END;
        for (int part = 0; part < PARTS; part++) {
            if (ranks->best[quantity][part] < best)
                best = ranks->best[quantity][part];
        }
        for (int part = 0; part < PARTS; part++) {
            if (is_swell((enum quantity)quantity) ||
                is_vector((enum quantity)quantity))
                ranks->best[quantity][part] = best;
        }
    }
}

static void choose_ranks(struct layers *layers, struct notes *notes) {
    struct ranks ranks;
    size_t before = layers->count;
    for (int quantity = 0; quantity < QUANTITY_COUNT; quantity++) {
        for (int part = 0; part < PARTS; part++)
            ranks.best[quantity][part] = RANKS_END;
    }
    for (size_t i = 0; i < layers->count; i++) {
        const struct layer *layer = &layers->items[i];
        int *best = &ranks.best[layer->quantity][layer->part];
        if (layer->rank < *best)
            *best = layer->rank;
    }
    level_ranks(&ranks);
    bool other_levels = false;
    for (size_t i = 0; i < layers->count; i++) {
        const struct layer *layer = &layers->items[i];
        int best = ranks.best[layer->quantity][layer->part];
        other_levels |=
            layer->quantity == QUANTITY_WIND && layer->rank / 2 != best / 2;
    }
    keep_if(layers, is_best_rank, &ranks);
    if (other_levels && layers->count < before)
        notes_add(notes, "wind: the one at 10 m is used, the one at the "
                         "surface is not");
}

/* --- runs ----------------------------------------------------------------- */

struct overlap {
    size_t times;
    struct instant older, newer;
};

static void note_overlap(enum quantity quantity, const struct overlap *overlap,
                         struct notes *notes) {
    char older[INSTANT_TEXT_SIZE], newer[INSTANT_TEXT_SIZE];
    instant_print(overlap->older, older);
    instant_print(overlap->newer, newer);
    notes_add(notes,
              arena_print(notes->arena,
                          "%s: runs %s and %s overlap; the newer is used at "
                          "%zu valid time%s",
                          quantity_name(quantity), older, newer, overlap->times,
                          overlap->times == 1 ? "" : "s"));
}

static bool same_time(const struct layer *a, const struct layer *b) {
    return compare_what(a, b) == 0 && compare_validity(a, b) == 0;
}

static void keep_newest(struct layers *layers, struct notes *notes) {
    struct overlap overlaps[QUANTITY_COUNT] = {0};
    size_t kept = 0;
    sort(layers, by_time);
    for (size_t i = 0; i < layers->count; i++) {
        const struct layer *layer = &layers->items[i];
        if (kept == 0 || !same_time(&layers->items[kept - 1], layer)) {
            layers->items[kept++] = *layer;
            continue;
        }
        struct layer *last = &layers->items[kept - 1];
        struct overlap *overlap = &overlaps[layer->quantity];
        overlap->older = last->run;
        overlap->newer = layer->run;
        /* a vector or a wave has several parts at each time */
        overlap->times += layer->part == PART_EAST ||
                          layer->part == PART_HEIGHT ||
                          layer->part == PART_VALUE;
        *last = *layer;
    }
    layers->count = kept;
    for (int i = 0; i < QUANTITY_COUNT; i++) {
        if (overlaps[i].times > 0)
            note_overlap((enum quantity)i, &overlaps[i], notes);
    }
}

/* The layers are by what they are, then by time. */
static void limit_steps(struct layers *layers, struct notes *notes) {
    bool told[QUANTITY_COUNT] = {false};
    size_t kept = 0, run = 0;
    for (size_t i = 0; i < layers->count; i++) {
        const struct layer *layer = &layers->items[i];
        bool same = kept > 0 &&
                    compare_what(&layers->items[kept - 1], layer) == 0 &&
                    layers->items[kept - 1].validity.interval ==
                        layer->validity.interval;
        run = same ? run + 1 : 1;
        if (run <= LAYER_STEPS)
            layers->items[kept++] = *layer;
        else if (!told[layer->quantity]) {
            told[layer->quantity] = true;
            notes_add(notes,
                      arena_print(notes->arena,
                                  "%s has more than %d steps; the later ones "
                                  "are not used",
                                  quantity_name(layer->quantity), LAYER_STEPS));
        }
    }
    layers->count = kept;
}

static void note_crowded(const struct layers *layers, struct notes *notes) {
    if (layers->crowded > 0)
        notes_add(notes, arena_print(notes->arena,
                                     "fields lie on more than %d grids; %zu "
                                     "of them are not used",
                                     LAYER_GRIDS, layers->crowded));
}

struct layers layers_from(const struct batch *batch,
                          const struct choice *choice,
                          const struct source *sources, struct notes *notes,
                          struct arena *arena) {
    struct layers layers = {0};
    for (size_t i = 0; i < batch->count; i++) {
        if (choice_takes(choice, &batch->fields[i].field))
            add_layer(&layers, &batch->fields[i], arena);
    }
    drop_duplicates(&layers, sources, notes);
    start_maxima(&layers);
    pair_layers(&layers, sources, notes, arena);
    choose_ranks(&layers, notes);
    keep_newest(&layers, notes);
    limit_steps(&layers, notes);
    note_crowded(&layers, notes);
    return layers;
}
