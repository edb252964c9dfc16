/* The points of a block, put side by side when they are first asked for.
 *
 * A tile is a square of cells of the grid with all their corners, at one step:
 * a sample in it finds its four corners in one tile. The edges that tiles share
 * are in both. Whoever samples in a tile first, fills it; several threads may.
 * What it holds does not depend on who does, nor when.
 *
 * A vector is known where both its parts are.
 */
#ifndef FORECAST_TILE_H
#define FORECAST_TILE_H

#include "forecast/field.h"

enum {
    TILE_CELLS = 8,             /* along a side */
    TILE_SIDE = TILE_CELLS + 1, /* points along a side */
    TILE_POINTS = TILE_SIDE * TILE_SIDE
};

union cell {
    float value;
    uint32_t known; /* bit per channel of the block */
};

struct tiles {
    int columns;        /* tiles from west to east */
    size_t per_slab;    /* tiles of one step */
    size_t stride;      /* cells of a point: flags, then channels */
    size_t tile_stride; /* cells of a tile */
    union cell *cells;  /* [slab][tile][point][stride] */
    _Atomic uint8_t *states;
};

struct tiles *tiles_make(const struct grid *grid, size_t slabs, int channels,
                         struct arena *arena);

/* One tile of one slab; filled by the call where it is not. `*whole`: all
 * channels are known at all its points. */
const union cell *tile_at(const struct block *block, size_t slab, size_t tile,
                          bool *whole);

#endif
