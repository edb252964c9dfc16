/* A raster of longitude and latitude over shorelines, which answers first: how
 * far from anywhere in a cell the shoreline is at least, and which runs of
 * edges touch a cell.
 *
 * raster_begin(), raster_add_line() for each, raster_finish(); read only from
 * then on.
 */
#ifndef EARTH_SHORE_RASTER_H
#define EARTH_SHORE_RASTER_H

#include "base/arena.h"
#include "earth/chart.h"
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* No shore further away is known, or asked for: 120 nmi. */
#define SHORE_REACH_M 222240.0

/* No row lies beyond this latitude; places there count to the last. */
#define RASTER_STOP_DEG 89.9

/* Edges one after the other, and the box about them. */
struct shore_run {
    const struct mercator *points; /* the caller's */
    size_t edges;                  /* one less than the points */
    struct chart_box box;
};

struct raster_row {
    /* On its south side: sine of the latitude, metres to a radian of chart. */
    double sine, scale_m;
    double degree_m; /* greatest length of a degree of longitude in the row */
    /* Metres to a radian of chart: at most, and at least, anywhere within
     * SHORE_REACH_M of the row and its neighbours. */
    double wide_scale_m, narrow_scale_m;
};

struct shore_raster {
    double south_deg, west_deg, cells_per_deg;
    size_t rows, columns;
    double *y; /* of the sides of the rows; rows + 1 */
    struct raster_row *row;
    float *clear_m;     /* of each cell, row by row from the south; at most
                           SHORE_REACH_M */
    uint32_t *first;    /* of a cell's runs in `touching`; cells + 1 */
    uint32_t *touching; /* numbers of runs */
    struct shore_run *runs;
    size_t run_count, run_capacity;
};

/* West may be below -180 and east above 180. */
struct raster_frame {
    double south_deg, north_deg, west_deg, east_deg;
};

/* Rows and columns, both ends included. */
struct raster_window {
    size_t south, north, west, east;
};

/* Cells of 0.1 degree, or wider where they would be more than a million. */
void raster_begin(struct shore_raster *raster, const struct raster_frame *frame,
                  struct arena *arena);

/* Cuts a line into runs. The points must stay; `scratch` holds the runs until
 * raster_finish() and may go then. */
void raster_add_line(struct shore_raster *raster, const struct mercator *points,
                     size_t count, struct arena *scratch);

/* Puts the runs into cells and works out what is clear. What is outside the
 * frame is in no cell. */
void raster_finish(struct shore_raster *raster, struct arena *arena);

/* Row of an ordinate, the first or last for one beyond; `guess` is a row near
 * it, or any. The same for columns. */
size_t raster_row(const struct shore_raster *raster, double y, size_t guess);
size_t raster_column(const struct shore_raster *raster, double x);

/* The cells that a box on the chart touches; `guess` a row near it, or any.
 * False where it is outside. */
bool raster_window(const struct shore_raster *raster,
                   const struct chart_box *box, size_t guess,
                   struct raster_window *window);

#endif
