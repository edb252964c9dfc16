/* A map from cells of the sea to what is known of them: squares of equal size
 * in rows of latitude, times a deck state. Open addressing; no order of its
 * own is ever shown. */
#ifndef SEARCH_CELLS_H
#define SEARCH_CELLS_H

#include "base/arena.h"
#include "earth/position.h"
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct cell {
    uint64_t key;    /* 0: free */
    double merit;    /* of the label that holds it */
    double unease_s; /* likewise: cost beyond the time that has passed */
    uint32_t layer, label;
};

struct cells {
    struct arena *arena;
    struct cell *slots;
    size_t count, capacity; /* capacity a power of two */
    double cell_m;
    double origin_lon_deg;
    double per_deg;  /* rows of latitude in a degree */
    double *columns; /* [rows]: cells per degree of longitude */
    int rows;        /* from the south pole */
};

void cells_init(struct cells *cells, struct arena *arena, double cell_m,
                struct position origin);

/* The key of a cell and deck state; never 0. */
uint64_t cells_key(const struct cells *cells, struct position position,
                   int state);

/* The cell of that key, or NULL. */
const struct cell *cells_find(const struct cells *cells, uint64_t key);

/* The same, made where it is not there (`*made`). The pointer holds until the
 * next cells_make(). */
struct cell *cells_make(struct cells *cells, uint64_t key, bool *made);

#endif
