/* Walking a leg over the raster of a shore: what is far from any shoreline is
 * leapt over, what is left comes in pieces no wider than a cell. For
 * earth/shore_meet.c and shore_near.c.
 */
#ifndef EARTH_SHORE_WALK_H
#define EARTH_SHORE_WALK_H

#include "earth/shore.h"

/* No shoreline is nearer to a covered place than that, by the raster alone. */
double shore_clear_m(const struct shore *shore, struct position at);

/* True if the raster knows at the ends of a leg already that no place of it is
 * nearer to a shoreline than that, nor as near. Without a call of the
 * mathematical library. */
bool shore_is_far(const struct shore *shore, struct position from,
                  struct position to, double distance_m);

/* A leg on the chart. Its places are told by t, 0 at a and 1 at b. */
struct walk {
    const struct shore_raster *raster;
    struct mercator a, b;
    double length; /* on the chart */
    double t, end; /* where it stands, and where it ends */
    double piece;  /* length of a piece, as t */
    size_t row;    /* of the place where it stands */
    bool is_done;
};

/* A part of it that may be near a shoreline. */
struct piece {
    struct mercator from, to;
    double end;     /* t of `to` */
    size_t row;     /* of the raster, at `from` */
    double clear_m; /* at `from` */
};

struct way {
    struct mercator a, b;
};

/* The leg on the chart; a second time, a turn further, where it leaves a box
 * that goes all the way round. Returns how many. */
int shore_ways(const struct shore *shore, struct position from,
               struct position to, struct way ways[2]);

/* What lies beyond the sides of the raster is left out. */
struct walk walk_begin(const struct shore_raster *raster, struct way way);

/* The next piece that may be as near as that; false when nothing is left.
 * `near_m` may shrink on the way. */
bool walk_next(struct walk *walk, double near_m, struct piece *piece);

/* The runs of a cell, as numbers. */
struct cell_runs {
    const uint32_t *first, *end;
};

static inline struct cell_runs cell_runs(const struct shore_raster *raster,
                                         size_t row, size_t column) {
    const uint32_t *first = raster->first + row * raster->columns + column;
    return (struct cell_runs){raster->touching + first[0],
                              raster->touching + first[1]};
}

#endif
