/* Layers: decoded fields put in order, so that each quantity, part, grid and
 * valid time has one.
 *
 *   members     one for each quantity: forecast/member.h
 *   duplicates  the same are counted, unlike ones warned about; the last wins
 *   pairs       u with v, speed with direction (turned into u and v), of one
 *               run, valid time, level, member and grid; one alone is no wind
 *   ranks       10 m before surface, u and v before speed and direction; among
 *               forms of one thing only the best that is there is used
 *   runs        per quantity and valid time the newest wins
 *
 * Every choice is told in a note.
 */
#ifndef FORECAST_LAYER_H
#define FORECAST_LAYER_H

#include "base/arena.h"
#include "forecast/decode.h"
#include "forecast/member.h"
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct layer {
    const struct decoded *from;
    enum quantity quantity;
    enum part part;
    int rank;
    size_t grid; /* index */
    struct instant run;
    struct validity validity;
    bool since_previous;
    const float *values;  /* NULL: still packed */
    const uint8_t *known; /* NULL: all points are known */
    const struct packed *packed;
};

/* Unpacks a layer's values into `arena`, where they are still packed. */
void layer_unpack(struct layer *layer, const struct grid *grid,
                  struct arena *arena);

/* Steps of a quantity, the earliest; and grids, those that come first: what is
 * more is left out, with a note. */
enum { LAYER_STEPS = 2000, LAYER_GRIDS = 200 };

struct notes {
    const char **texts;
    size_t count, capacity;
    struct arena *arena;
};

/* `text` must live as long as the notes. */
void notes_add(struct notes *notes, const char *text);

struct layers {
    struct layer *items; /* by quantity, part, grid, interval, start, end */
    size_t count, capacity;
    struct grid *grids;
    size_t grid_count, grid_capacity;
    size_t crowded;   /* fields on more grids than there is room for */
    const char *lone; /* "u without v at ...", of the wind, or NULL */
};

/* From the used fields of a batch that are of the members chosen. Values stay
 * in the batch, unless they have to be others: those live in `arena`, as lists
 * do. */
struct layers layers_from(const struct batch *batch,
                          const struct choice *choice,
                          const struct source *sources, struct notes *notes,
                          struct arena *arena);

/* -1, 0 or 1; a chain of these stops at the first that is not 0. */
static inline int order_of(int64_t a, int64_t b) {
    return (a > b) - (a < b);
}

/* The order of the files. */
int layer_compare_place(const struct layer *a, const struct layer *b);

/* "wind", "gust", "first swell". */
const char *quantity_name(enum quantity quantity);

#endif
