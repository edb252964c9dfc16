#include "earth/shore_near.h"

#include "earth/chart.h"
#include "earth/ellipsoid.h"
#include "earth/shore_walk.h"

#include <math.h>

/* Of latitude, about. */
static const double DEGREE_M = 111000.0;

/* --- distances -------------------------------------------------------------*/

/* The chart about an ordinate, for distances that ask for no latitude. On a
 * sphere of radius 1 the chart's scale is 1 / cosh y, so that a step u north
 * divides it by cosh u + sine * sinh u; and the square of the chord between
 * two places is 2 (cosh dy - cos dx) times the scales at both (the haversine
 * formula in y). The ellipsoid differs from that, over a distance d, by less
 * than a hundredth of the square of d / radius. */
struct base {
    double y, sine, scale_m;
};

static double stretch(const struct base *base, double y) {
    double u = y - base->y, s = base->sine;
    return 1.0 + u * (s + u * (1.0 / 2.0 + u * (s / 6.0 + u / 24.0)));
}

static struct base base_at(const struct shore_raster *raster, size_t row,
                           double y) {
    const struct raster_row *south = &raster->row[row];
    struct base low = {raster->y[row], south->sine, south->scale_m};
    double u = y - low.y, tanh_u = u - u * u * u / 3.0;
    double sine = (low.sine + tanh_u) / (1.0 + low.sine * tanh_u);
    return (struct base){y, sine, low.scale_m / stretch(&low, y)};
}

static double chord2_m2(const struct base *base, struct mercator p,
                        struct mercator q) {
    double dx = q.x - p.x, dy = q.y - p.y;
    double x2 = dx * dx, y2 = dy * dy;
    return base->scale_m * base->scale_m * (x2 + y2) *
           (1.0 + (y2 - x2) / 12.0) / (stretch(base, p.y) * stretch(base, q.y));
}

static double arc_of(double chord_m) {
    double angle = chord_m / WGS84_EQUATOR_M;
    return chord_m * (1.0 + angle * angle / 24.0);
}

static double chord_of(double arc_m) {
    double angle = arc_m / WGS84_EQUATOR_M;
    return arc_m * (1.0 - angle * angle / 24.0);
}

/* --- looking ---------------------------------------------------------------*/

/* What is known of the nearest shore so far. */
struct look {
    const struct shore_raster *raster;
    struct piece piece; /* of the leg, now looked at */
    struct base base;   /* in its middle */
    bool is_point;      /* the leg has no length */
    bool any;           /* any that is nearer than the limit will do */
    bool is_rough;      /* a first look, at one point of each run */
    bool is_found;
    double chord2_m2; /* to the nearest; the limit until one is found */
    double reach;     /* the same on the chart: what is nearer is no further */
    struct chart_box box; /* and so about the piece */
    struct mercator on_shore;
};

static bool is_enough(const struct look *look) {
    return look->is_found && (look->any || look->chord2_m2 <= 0.0);
}

static void set_reach(struct look *look) {
    double narrow_m = look->raster->row[look->piece.row].narrow_scale_m;
    look->reach = sqrt(look->chord2_m2) / narrow_m;
    look->box = chart_box_about(look->piece.from, look->piece.to, look->reach);
}

static void keep(struct look *look, double square_m2,
                 struct mercator on_shore) {
    if (square_m2 >= look->chord2_m2)
        return;
    look->chord2_m2 = square_m2;
    look->on_shore = on_shore;
    look->is_found = true;
    set_reach(look);
}

/* From a point to the place of a line that is nearest to it. What is equally
 * far from the point lies on a circle of the chart whose middle is poleward of
 * it, by half the sine of the latitude times the square of the radius. */
static void look_across(struct look *look, struct mercator point,
                        const struct mercator line[2], bool point_is_shore) {
    struct mercator a = line[0], b = line[1];
    struct mercator foot = chart_along(a, b, chart_foot(a, b, point));
    double apart2 = chart_apart2(point, foot);
    if (apart2 > look->reach * look->reach)
        return;
    struct mercator middle = {point.x,
                              point.y + 0.5 * look->base.sine * apart2};
    foot = chart_along(a, b, chart_foot(a, b, middle));
    keep(look, chord2_m2(&look->base, point, foot),
         point_is_shore ? point : foot);
}

static void look_at_point(struct look *look, struct mercator point) {
    struct mercator leg[2] = {look->piece.from, look->piece.to};
    look_across(look, point, leg, true);
}

/* Two that do not meet are nearest at an end of one of them. The first point
 * of the edge is left to the edge before, or to the first look. */
static void look_at_edge(struct look *look, const struct mercator *edge) {
    struct mercator from = look->piece.from, to = look->piece.to;
    if (look->is_point) {
        look_across(look, from, edge, false);
    } else if (chart_meets(from, to, edge)) {
        keep(look, 0.0, chart_along(from, to, chart_meeting(from, to, edge)));
    } else {
        look_across(look, from, edge, false);
        look_across(look, to, edge, false);
        look_at_point(look, edge[1]);
    }
}

/* Is the edge further away than the reach, going by its first point and its
 * length? */
static bool is_beyond(const struct look *look, const struct mercator *edge) {
    struct mercator near = look->piece.from;
    if (!look->is_point)
        near = chart_along(near, look->piece.to,
                           chart_foot(near, look->piece.to, edge[0]));
    double far =
        look->reach + fabs(edge[1].x - edge[0].x) + fabs(edge[1].y - edge[0].y);
    return chart_apart2(near, edge[0]) > far * far;
}

static void look_at_run(struct look *look, const struct shore_run *run) {
    if (is_enough(look) || !chart_boxes_touch(&look->box, &run->box))
        return;
    if (look->is_rough) {
        look_at_point(look, run->points[0]);
        return;
    }
    for (size_t i = 0; i < run->edges; i++) {
        if (!is_beyond(look, &run->points[i]))
            look_at_edge(look, &run->points[i]);
    }
}

static void look_at_cell(struct look *look, size_t row, size_t column) {
    const struct shore_raster *raster = look->raster;
    struct cell_runs cell = cell_runs(raster, row, column);
    for (const uint32_t *i = cell.first; i < cell.end; i++)
        look_at_run(look, &raster->runs[*i]);
}

static void look_within(struct look *look, double radius_m) {
    const struct shore_raster *raster = look->raster;
    const struct piece *piece = &look->piece;
    double reach = radius_m / raster->row[piece->row].narrow_scale_m;
    struct chart_box box = chart_box_about(piece->from, piece->to, reach);
    struct raster_window window;
    if (!raster_window(raster, &box, piece->row, &window))
        return;
    for (size_t row = window.south; row <= window.north; row++) {
        for (size_t column = window.west; column <= window.east; column++)
            look_at_cell(look, row, column);
    }
}

/* In growing circles, so that a wide limit costs little near a shore. */
static void look_round(struct look *look) {
    double cell_m = DEGREE_M / look->raster->cells_per_deg;
    double radius_m = look->piece.clear_m + cell_m;
    look->base = base_at(look->raster, look->piece.row,
                         0.5 * (look->piece.from.y + look->piece.to.y));
    set_reach(look);
    for (;;) {
        look->is_rough = true;
        look_within(look, fmin(radius_m, sqrt(look->chord2_m2)));
        look->is_rough = false;
        look_within(look, fmin(radius_m, sqrt(look->chord2_m2)));
        if (is_enough(look) || radius_m >= sqrt(look->chord2_m2))
            return;
        radius_m *= 2.0;
    }
}

static void look_along(struct look *look, struct way way) {
    struct walk walk = walk_begin(look->raster, way);
    while (!is_enough(look) &&
           walk_next(&walk, arc_of(sqrt(look->chord2_m2)), &look->piece))
        look_round(look);
}

static struct look look_begin(const struct shore *shore, double most_m) {
    double chord_m = chord_of(most_m);
    return (struct look){.raster = &shore->raster,
                         .chord2_m2 = chord_m * chord_m};
}

static void look_from_to(struct look *look, const struct shore *shore,
                         struct position from, struct position to) {
    struct way ways[2];
    int count = shore_ways(shore, from, to, ways);
    for (int i = 0; i < count; i++)
        look_along(look, ways[i]);
}

double shore_segment_distance_m(const struct shore *shore, struct position from,
                                struct position to, double most_m) {
    most_m = fmin(most_m, SHORE_REACH_M);
    if (shore_is_far(shore, from, to, most_m))
        return most_m;
    struct look look = look_begin(shore, most_m);
    look_from_to(&look, shore, from, to);
    return look.is_found ? arc_of(sqrt(look.chord2_m2)) : most_m;
}

bool shore_nearer(const struct shore *shore, struct position from,
                  struct position to, double distance_m) {
    if (shore_is_far(shore, from, to, distance_m))
        return false;
    struct look look = look_begin(shore, fmin(distance_m, SHORE_REACH_M));
    look.any = true;
    look_from_to(&look, shore, from, to);
    return look.is_found;
}

double shore_distance_m(const struct shore *shore, struct position at,
                        double most_m, struct position *nearest) {
    most_m = fmin(most_m, SHORE_REACH_M);
    if (shore_clear_m(shore, at) >= most_m)
        return most_m;
    struct mercator place = shore_chart(shore, at);
    struct look look = look_begin(shore, most_m);
    look.is_point = true;
    look_along(&look, (struct way){place, place});
    if (!look.is_found)
        return most_m;
    if (nearest)
        *nearest = mercator_position(look.on_shore);
    return arc_of(sqrt(look.chord2_m2));
}
