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
    TILE_POINTS = TILE_SIDE * TILE_SIDE,
    TILE_CHANNELS = 4 /* a point has a multiple of so many values, the last of
                         them 0 where it has fewer channels */
};

struct tiles {
    int columns;            /* tiles from west to east */
    size_t per_slab;        /* tiles of one step */
    size_t stride;          /* values of a point: channels, evened out */
    size_t tile_stride;     /* values of a tile */
    float *values;          /* [slab][tile][point][stride] */
    uint32_t *known;        /* [slab][tile][point], a bit per channel */
    _Atomic uint8_t *state; /* [slab][tile] */
};

/* The points of one tile, row by row. */
struct tile {
    const float *values;
    const uint32_t *known;
    bool whole; /* all channels are known at all points */
};

struct tiles *tiles_make(const struct grid *grid, size_t slabs, int channels,
                         struct arena *arena);

/* One tile of one slab; filled by the call where it is not. */
struct tile tile_at(const struct block *block, size_t slab, size_t tile);

#endif
