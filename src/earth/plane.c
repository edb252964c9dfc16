#include "earth/plane.h"

static int sign(double value) {
    return (value > 0.0) - (value < 0.0);
}

/* Neither segment lies wholly on one side of the line through the other. Where
 * all four are on one line that says nothing, and the boxes decide. */
bool plane_meet(struct plane_point a, struct plane_point b,
                struct plane_point c, struct plane_point d) {
    if (!plane_boxes_meet(plane_box_of(a, b), plane_box_of(c, d)))
        return false;
    return sign(plane_side(c, d, a)) * sign(plane_side(c, d, b)) <= 0 &&
           sign(plane_side(a, b, c)) * sign(plane_side(a, b, d)) <= 0;
}

struct plane_point plane_nearest(struct plane_point at, struct plane_point a,
                                 struct plane_point b) {
    double dx = b.x - a.x, dy = b.y - a.y;
    double length2 = dx * dx + dy * dy;
    if (!(length2 > 0.0))
        return a;
    double part = ((at.x - a.x) * dx + (at.y - a.y) * dy) / length2;
    if (part <= 0.0)
        return a;
    if (part >= 1.0)
        return b;
    return (struct plane_point){a.x + part * dx, a.y + part * dy};
}
