#include "earth/shore_meet.h"

#include "earth/chart.h"
#include "earth/geodesic.h"
#include "earth/shore_walk.h"

#include <math.h>

static const double CHORD_M = 10000.0;

/* More than any part of a leg. */
static const double NO_MEETING = 2.0;

/* A leg looking for the first edge that it meets. */
struct meeting {
    struct walk walk;
    struct chart_box box; /* of the whole leg */
    double first;         /* so far; NO_MEETING where none is known */
};

static void meet_run(struct meeting *meeting, const struct shore_run *run) {
    struct mercator a = meeting->walk.a, b = meeting->walk.b;
    if (!chart_boxes_touch(&meeting->box, &run->box))
        return;
    for (size_t i = 0; i < run->edges; i++) {
        const struct mercator *edge = &run->points[i];
        if (chart_meets(a, b, edge))
            meeting->first = fmin(meeting->first, chart_meeting(a, b, edge));
    }
}

static void meet_cell(struct meeting *meeting, size_t row, size_t column) {
    const struct shore_raster *raster = meeting->walk.raster;
    struct cell_runs cell = cell_runs(raster, row, column);
    for (const uint32_t *i = cell.first; i < cell.end; i++)
        meet_run(meeting, &raster->runs[*i]);
}

/* The piece finds the edges, but the whole leg is held against them: then no
 * rounding of the piece's ends matters. */
static void meet_piece(struct meeting *meeting, const struct piece *piece) {
    struct chart_box box = chart_box_about(piece->from, piece->to, 0.0);
    struct raster_window window;
    if (!raster_window(meeting->walk.raster, &box, piece->row, &window))
        return;
    for (size_t row = window.south; row <= window.north; row++) {
        for (size_t column = window.west; column <= window.east; column++)
            meet_cell(meeting, row, column);
    }
}

/* The first meeting, or NO_MEETING; with `any` one that need not be first. */
static double way_meeting(const struct shore *shore, struct way way, bool any) {
    struct meeting meeting = {.walk = walk_begin(&shore->raster, way),
                              .box = chart_box_about(way.a, way.b, 0.0),
                              .first = NO_MEETING};
    struct piece piece;
    while (walk_next(&meeting.walk, 0.0, &piece)) {
        meet_piece(&meeting, &piece);
        if (meeting.first <= (any ? 1.0 : piece.end))
            break;
    }
    return meeting.first;
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
