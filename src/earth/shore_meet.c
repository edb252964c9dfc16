#include "earth/shore_meet.h"

#include "earth/geodesic.h"
#include "earth/shore_walk.h"

#include <math.h>

static const double CHORD_M = 10000.0;

/* More than any part of a leg. */
static const double NO_MEETING = 2.0;

struct mercator chart_along(struct mercator a, struct mercator b, double t) {
    return (struct mercator){a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)};
}

double chart_foot(struct mercator a, struct mercator b, struct mercator point) {
    double x = b.x - a.x, y = b.y - a.y, length2 = x * x + y * y;
    if (length2 <= 0.0)
        return 0.0;
    double t = ((point.x - a.x) * x + (point.y - a.y) * y) / length2;
    return t < 0.0 ? 0.0 : t > 1.0 ? 1.0 : t;
}

/* The ends of each lie on different sides of the other's line, or on it. All
 * on one line meet too, since their boxes touch. */
bool chart_meets(struct mercator a, struct mercator b,
                 const struct mercator *edge) {
    struct chart_box box = box_about(a, b, 0.0);
    if (!box_touches_edge(&box, edge) ||
        shore_side_of(a, b, edge[0]) * shore_side_of(a, b, edge[1]) > 0)
        return false;
    return shore_side_of(edge[0], edge[1], a) *
               shore_side_of(edge[0], edge[1], b) <=
           0;
}

double chart_meeting(struct mercator a, struct mercator b,
                     const struct mercator *edge) {
    double x = edge[1].x - edge[0].x, y = edge[1].y - edge[0].y;
    double start = x * (a.y - edge[0].y) - y * (a.x - edge[0].x);
    double end = x * (b.y - edge[0].y) - y * (b.x - edge[0].x);
    bool is_one_line =
        shore_side_of(a, b, edge[0]) == 0 && shore_side_of(a, b, edge[1]) == 0;
    if (is_one_line || fabs(start - end) <= 0.0)
        return fmin(chart_foot(a, b, edge[0]), chart_foot(a, b, edge[1]));
    return fmin(fmax(start / (start - end), 0.0), 1.0);
}

/* The least of `before` and where the leg meets an edge of the run. */
static double run_meeting(const struct walk *walk, const struct shore_run *run,
                          double before) {
    for (size_t i = 0; i < run->edges; i++) {
        const struct mercator *edge = &run->points[i];
        if (chart_meets(walk->a, walk->b, edge))
            before = fmin(before, chart_meeting(walk->a, walk->b, edge));
    }
    return before;
}

/* The piece finds the edges, but the whole leg is held against them: then no
 * rounding of the piece's ends matters. */
static double piece_meeting(const struct walk *walk, const struct piece *piece,
                            double before) {
    struct chart_box box = box_about(piece->from, piece->to, 0.0);
    struct raster_window window;
    if (!raster_window(walk->raster, (struct mercator[2]){box.low, box.high},
                       piece->row, &window))
        return before;
    struct run_walk runs = run_walk_begin(walk->raster, &window);
    const struct shore_run *run;
    box = box_about(walk->a, walk->b, 0.0);
    while ((run = run_walk_next(&runs))) {
        if (box_touches_run(&box, run))
            before = run_meeting(walk, run, before);
    }
    return before;
}

/* The first meeting, or NO_MEETING; with `any` one that need not be first. */
static double way_meeting(const struct shore *shore, struct way way, bool any) {
    struct walk walk = walk_begin(&shore->raster, way);
    struct piece piece;
    double first = NO_MEETING;
    while (walk_next(&walk, 0.0, &piece)) {
        first = piece_meeting(&walk, &piece, first);
        if (first <= (any ? 1.0 : piece.end))
            break;
    }
    return first;
}

bool shore_meets(const struct shore *shore, struct position from,
                 struct position to) {
    if (shore_is_far(shore, from, to, 0.0))
        return false;
    struct way ways[2];
    int count = shore_ways(shore, from, to, ways);
    for (int i = 0; i < count; i++) {
        if (way_meeting(shore, ways[i], true) < NO_MEETING)
            return true;
    }
    return false;
}

bool shore_first_crossing(const struct shore *shore, struct position from,
                          struct position to, struct position *at) {
    if (shore_is_far(shore, from, to, 0.0))
        return false;
    struct way ways[2];
    int count = shore_ways(shore, from, to, ways);
    double first = NO_MEETING;
    for (int i = 0; i < count; i++)
        first = fmin(first, way_meeting(shore, ways[i], false));
    if (first >= NO_MEETING)
        return false;
    *at = mercator_position(chart_along(ways[0].a, ways[0].b, first));
    return true;
}

bool shore_meets_geodesic(const struct shore *shore, struct position from,
                          struct position to) {
    struct geodesic all = geodesic_between(from, to);
    double count = fmax(ceil(all.distance_m / CHORD_M), 1.0);
    double chord_m = all.distance_m / count, done = 0.0;
    struct position at = from;
    while (done < count) {
        double clear_m = shore_clear_m(shore, at);
        double leap = floor(0.999 * clear_m / fmax(chord_m, 1.0));
        done = fmin(done + fmax(leap, 1.0), count);
        struct position next = to;
        if (done < count)
            next = geodesic_ahead(from, all.course_start_deg, done * chord_m);
        if (!shore_covers(shore, next))
            return true;
        if (leap < 1.0 && shore_meets(shore, at, next))
            return true;
        at = next;
    }
    return false;
}
