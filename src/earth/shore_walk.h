/* Walking a leg over the raster of a shore: what is far from any shoreline is
 * leapt over, what is left comes in pieces no wider than a cell; and the runs
 * of edges in a window of cells. For earth/shore_meet.c and shore_near.c.
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

/* Goes through the runs of all cells of a window; one that lies in several
 * cells comes several times. */
struct run_walk {
    const struct shore_raster *raster;
    struct raster_window window;
    size_t row, column;
    uint32_t next, end; /* in `touching` */
};

struct run_walk run_walk_begin(const struct shore_raster *raster,
                               const struct raster_window *window);

/* NULL when there are no more. */
const struct shore_run *run_walk_next(struct run_walk *walk);

/* The box about two places, wider by `reach` on all sides. */
struct chart_box {
    struct mercator low, high;
};

struct chart_box box_about(struct mercator a, struct mercator b, double reach);

/* Touching included. */
static inline bool box_touches_run(const struct chart_box *box,
                                   const struct shore_run *run) {
    return run->low.x <= box->high.x && run->high.x >= box->low.x &&
           run->low.y <= box->high.y && run->high.y >= box->low.y;
}

/* False if the edge from this point to the next lies beyond one side. */
static inline bool box_touches_edge(const struct chart_box *box,
                                    const struct mercator *edge) {
    return !((edge[0].x > box->high.x && edge[1].x > box->high.x) ||
             (edge[0].x < box->low.x && edge[1].x < box->low.x) ||
             (edge[0].y > box->high.y && edge[1].y > box->high.y) ||
             (edge[0].y < box->low.y && edge[1].y < box->low.y));
}

#endif
