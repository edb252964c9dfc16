/* Plane geometry on the Mercator chart: places, straight lines between them,
 * boxes. Places are in radians of chart (earth/mercator.h); `t` tells a place
 * of the line a-b, 0 at a and 1 at b. An edge is a line that is given as two
 * places one after the other in memory.
 */
#ifndef EARTH_CHART_H
#define EARTH_CHART_H

#include "earth/mercator.h"
#include <stdbool.h>

static inline struct mercator chart_along(struct mercator a, struct mercator b,
                                          double t) {
    return (struct mercator){a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)};
}

/* t of the place nearest to a point on the chart, [0, 1]. */
static inline double chart_foot(struct mercator a, struct mercator b,
                                struct mercator point) {
    double x = b.x - a.x, y = b.y - a.y, length2 = x * x + y * y;
    double t = (point.x - a.x) * x + (point.y - a.y) * y;
    if (t <= 0.0)
        return 0.0;
    return t < length2 ? t / length2 : 1.0;
}

/* Square of how far apart two places are on the chart. */
static inline double chart_apart2(struct mercator a, struct mercator b) {
    double x = b.x - a.x, y = b.y - a.y;
    return x * x + y * y;
}

/* On which side of the line a-b a point is: 1 left, -1 right; 0 on it, or too
 * near to be told for rounding, some nanometres. The answer for a point does
 * not depend on the edge that it belongs to, so that nothing slips through
 * between two edges. */
int chart_side(struct mercator a, struct mercator b, struct mercator point);

/* True if the line a-b crosses the edge or touches it. */
bool chart_meets(struct mercator a, struct mercator b,
                 const struct mercator *edge);

/* t of the place where a-b meets an edge that it does meet; the first one
 * where both lie on one line. */
double chart_meeting(struct mercator a, struct mercator b,
                     const struct mercator *edge);

struct chart_box {
    struct mercator low, high;
};

/* About two places, wider by `reach` on all sides. */
struct chart_box chart_box_about(struct mercator a, struct mercator b,
                                 double reach);

/* The box and the place. */
struct chart_box chart_box_with(struct chart_box box, struct mercator place);

/* Touching included. */
static inline bool chart_boxes_touch(const struct chart_box *a,
                                     const struct chart_box *b) {
    return a->low.x <= b->high.x && a->high.x >= b->low.x &&
           a->low.y <= b->high.y && a->high.y >= b->low.y;
}

#endif
