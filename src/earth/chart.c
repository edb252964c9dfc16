#include "earth/chart.h"

#include <math.h>

int chart_side(struct mercator a, struct mercator b, struct mercator point) {
    double left = (b.x - a.x) * (point.y - a.y);
    double right = (b.y - a.y) * (point.x - a.x);
    double side = left - right;
    /* Bound A of orient2d: Shewchuk 1997, Adaptive precision floating-point
     * arithmetic and fast robust geometric predicates. */
    double doubt = 3.4e-16 * (fabs(left) + fabs(right));
    return (side > doubt) - (side < -doubt);
}

/* The ends of each lie on different sides of the other's line, or on it. All
 * on one line meet too, since their boxes touch. */
bool chart_meets(struct mercator a, struct mercator b,
                 const struct mercator *edge) {
    struct chart_box box = chart_box_about(a, b, 0.0);
    struct chart_box other = chart_box_about(edge[0], edge[1], 0.0);
    if (!chart_boxes_touch(&box, &other) ||
        chart_side(a, b, edge[0]) * chart_side(a, b, edge[1]) > 0)
        return false;
    return chart_side(edge[0], edge[1], a) * chart_side(edge[0], edge[1], b) <=
           0;
}

double chart_meeting(struct mercator a, struct mercator b,
                     const struct mercator *edge) {
    double x = edge[1].x - edge[0].x, y = edge[1].y - edge[0].y;
    double start = x * (a.y - edge[0].y) - y * (a.x - edge[0].x);
    double end = x * (b.y - edge[0].y) - y * (b.x - edge[0].x);
    bool is_one_line =
        chart_side(a, b, edge[0]) == 0 && chart_side(a, b, edge[1]) == 0;
    if (is_one_line || fabs(start - end) <= 0.0)
        return fmin(chart_foot(a, b, edge[0]), chart_foot(a, b, edge[1]));
    return fmin(fmax(start / (start - end), 0.0), 1.0);
}

/* Not fmin() and fmax(): these are asked a million times a second. */
static double lesser(double a, double b) {
    return a < b ? a : b;
}

static double greater(double a, double b) {
    return a > b ? a : b;
}

struct chart_box chart_box_about(struct mercator a, struct mercator b,
                                 double reach) {
    return (struct chart_box){
        .low = {lesser(a.x, b.x) - reach, lesser(a.y, b.y) - reach},
        .high = {greater(a.x, b.x) + reach, greater(a.y, b.y) + reach}};
}

struct chart_box chart_box_with(struct chart_box box, struct mercator place) {
    return (struct chart_box){
        .low = {lesser(box.low.x, place.x), lesser(box.low.y, place.y)},
        .high = {greater(box.high.x, place.x), greater(box.high.y, place.y)}};
}
