/* A regular lat-lon grid, and how the points of a message lie on it.
 *
 * Inside, rows run from south to north and columns from west to east; row j,
 * column i is point j * ni + i. Whatever scanning mode, sign or wrap of
 * longitude a file uses ends here.
 */
#ifndef FORECAST_GRID_H
#define FORECAST_GRID_H

#include "earth/position.h"
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* Most points that a field may have: 0.1 degree global is 6.5 million. */
enum { GRID_POINTS_LIMIT = 20000000 };

struct grid {
    int ni, nj;                        /* columns, rows; both >= 2 */
    double south_deg, west_deg;        /* west in [-180, 180) */
    double lat_step_deg, lon_step_deg; /* > 0 */
    bool wraps; /* the column after the last is the first */
};

/* A grid as a message writes it. */
struct grid_corners {
    long ni, nj;
    double first_lat_deg, first_lon_deg, last_lat_deg, last_lon_deg;
    double lon_step_deg; /* 0 where not given */
    bool west_going;     /* first row runs from east to west */
    bool north_going;    /* rows run from south to north */
    bool by_columns;     /* adjacent points run along a column */
    bool alternating;    /* every other row (column) runs backwards */
};

/* NULL, or why there is no such grid: too few or too many points, corners
 * that make no sense. A last column that repeats the first is left out. */
const char *grid_make(const struct grid_corners *corners, struct grid *grid);

/* Puts ni * nj `values` of the message into our order. `known` is 1 where the
 * value is not `missing`; where it is, the value becomes 0. Returns how many
 * are missing. */
size_t grid_arrange(const struct grid_corners *corners, const struct grid *grid,
                    const double *values, double missing, float *arranged,
                    uint8_t *known);

/* The same points, within the rounding of edition 1 (0.001 degree). */
bool grid_same(const struct grid *a, const struct grid *b);

static inline size_t grid_points(const struct grid *grid) {
    return (size_t)grid->ni * (size_t)grid->nj;
}

struct position grid_position(const struct grid *grid, size_t point);

/* The cell round a place: the column and row of its south-west corner, and the
 * weights of its corners, south-west, south-east, north-west, north-east, which
 * add up to 1. On a grid that wraps, the last column's cells end at the first.
 */
struct grid_cell {
    int column, row;
    double weight[4];
};

/* The point that is corner 0 to 3 of a cell. */
static inline size_t grid_corner(const struct grid *grid,
                                 const struct grid_cell *cell, int corner) {
    int column = (cell->column + corner % 2) % grid->ni;
    return (size_t)(cell->row + corner / 2) * (size_t)grid->ni + (size_t)column;
}

/* False outside the grid. */
bool grid_find(const struct grid *grid, struct position position,
               struct grid_cell *cell);

#endif
