#include "earth/plane.h"

#include "earth/chart.h"

/* The chart's geometry knows no unit either, and its side test has a bound for
 * rounding: nothing slips through between two edges that share a corner. */
static struct mercator on_chart(struct plane_point point) {
    return (struct mercator){point.x, point.y};
}

bool plane_meet(struct plane_point a, struct plane_point b,
                struct plane_point c, struct plane_point d) {
    const struct mercator edge[2] = {on_chart(c), on_chart(d)};
    return chart_meets(on_chart(a), on_chart(b), edge);
}

struct plane_point plane_nearest(struct plane_point at, struct plane_point a,
                                 struct plane_point b) {
    struct mercator from = on_chart(a), to = on_chart(b);
    double t = chart_foot(from, to, on_chart(at));
    struct mercator foot = t < 1.0 ? chart_along(from, to, t) : to;
    return (struct plane_point){foot.x, foot.y};
}
