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

/* What a passage can need of the earth; east - west in (0, 360]. */
struct grid_bounds {
    double south_deg, north_deg, west_deg, east_deg;
};

/* A grid of more points than this is cut to what is needed of it. */
enum { GRID_CUT_POINTS = 1000000 };

/* The part of a grid that was kept, from a column and a row of the whole on. */
struct grid_part {
    int column, row;
    struct grid whole;
};

/* Makes `grid` the part of itself that covers what is wanted: whole cells, the
 * same points. False, and it stays as it is, where it has no more than
 * GRID_CUT_POINTS, where it doesn't cover what is wanted, but for a row next to
 * a pole (to say so, and what was likely meant, all of it is needed), or where
 * half of it would stay. `part` is filled either way. */
bool grid_cut(struct grid *grid, const struct grid_bounds *wanted,
              struct grid_part *part);

/* One for each point, and 1 where it is known. */
struct grid_values {
    float *values;
    uint8_t *known;
};

/* Fills what is kept, the part's, out of the values of the whole. Returns how
 * many are not known. */
size_t grid_take(const struct grid_part *part, const struct grid *grid,
                 const struct grid_values *all, const struct grid_values *kept);

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
