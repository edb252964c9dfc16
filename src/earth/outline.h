/* A closed line on the Mercator chart, in radians (earth/mercator.h): the edge
 * of an area. Its points may lie beyond 180 degrees either way, so that there
 * is no seam in it; a place is looked for at every longitude that it has.
 *
 * Edges stand in runs of OUTLINE_RUN with a box round each: neighbours on the
 * line are neighbours on the chart, so that most runs are passed over whole.
 */
#ifndef EARTH_OUTLINE_H
#define EARTH_OUTLINE_H

#include "base/arena.h"
#include "earth/plane.h"
#include <stddef.h>

enum { OUTLINE_RUN = 16 };

struct outline {
    const struct plane_point *points; /* count + 1: the first again at the end,
                                         bit for bit */
    size_t count;                     /* edges; at least 3 */
    struct plane_box box;
    const struct plane_box *runs; /* one for each OUTLINE_RUN edges */
};

/* `points` are kept, not copied; the first stands again behind the last. The
 * middle of its box is within [-pi, pi). */
struct outline outline_make(const struct plane_point *points, size_t count,
                            struct arena *arena);

/* The segment shares a point with the line; x of `to` within pi of `from`. */
bool outline_meets(const struct outline *outline, struct plane_point from,
                   struct plane_point to);

/* Inside, even-odd. On the line itself either answer may come. */
bool outline_holds(const struct outline *outline, struct plane_point at);

/* Least distance in metres between the segment and the line, `most_m` where
 * there is nothing nearer, 0 where they meet. Up to 100 nmi and 85 degrees of
 * latitude it is the distance on the earth to within 2 parts in 10 000. */
double outline_distance_m(const struct outline *outline,
                          struct plane_point from, struct plane_point to,
                          double most_m);

#endif
