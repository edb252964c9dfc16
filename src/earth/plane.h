/* Plane geometry: on the Mercator chart, or on longitude and latitude taken as
 * a plane. The unit is the caller's. Touching counts as meeting. */
#ifndef EARTH_PLANE_H
#define EARTH_PLANE_H

#include <stdbool.h>

struct plane_point {
    double x, y;
};

struct plane_box {
    double west, south, east, north;
};

/* Twice the area of the triangle a b c: above 0 where c is left of a-b. */
static inline double plane_side(struct plane_point a, struct plane_point b,
                                struct plane_point c) {
    return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

static inline double plane_least(double a, double b) {
    return a < b ? a : b;
}

static inline double plane_most(double a, double b) {
    return a > b ? a : b;
}

static inline struct plane_box plane_box_of(struct plane_point a,
                                            struct plane_point b) {
    return (struct plane_box){plane_least(a.x, b.x), plane_least(a.y, b.y),
                              plane_most(a.x, b.x), plane_most(a.y, b.y)};
}

static inline struct plane_box plane_box_both(struct plane_box a,
                                              struct plane_box b) {
    return (struct plane_box){
        plane_least(a.west, b.west), plane_least(a.south, b.south),
        plane_most(a.east, b.east), plane_most(a.north, b.north)};
}

static inline struct plane_box plane_box_grown(struct plane_box box,
                                               double by) {
    return (struct plane_box){box.west - by, box.south - by, box.east + by,
                              box.north + by};
}

static inline bool plane_boxes_meet(struct plane_box a, struct plane_box b) {
    return a.west <= b.east && b.west <= a.east && a.south <= b.north &&
           b.south <= a.north;
}

/* Do the segments a-b and c-d share a point? */
bool plane_meet(struct plane_point a, struct plane_point b,
                struct plane_point c, struct plane_point d);

/* The place of the segment a-b that is nearest to `at`. */
struct plane_point plane_nearest(struct plane_point at, struct plane_point a,
                                 struct plane_point b);

#endif
