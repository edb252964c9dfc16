#include "earth/shore_walk.h"

#include "earth/angle.h"

#include <assert.h>
#include <math.h>

/* A degree, of latitude or of longitude, is nowhere longer. */
static const double DEGREE_MOST_M = 111700.0;

/* --- what the raster says --------------------------------------------------*/

struct spot {
    size_t row, column;
};

/* Row and column of a covered place, without its place on the chart. */
static struct spot spot_of(const struct shore *shore, struct position at) {
    const struct shore_raster *raster = &shore->raster;
    assert(shore_covers(shore, at));
    double up = (at.lat_deg - raster->south_deg) * raster->cells_per_deg;
    double lon_deg =
        at.lon_deg < shore->box.west_deg ? at.lon_deg + 360.0 : at.lon_deg;
    double aside = (lon_deg - raster->west_deg) * raster->cells_per_deg;
    double last_row = (double)(raster->rows - 1);
    up = up > 0.0 ? up : 0.0;
    return (struct spot){.row = (size_t)(up < last_row ? up : last_row),
                         .column = (size_t)aside};
}

static double clear_at(const struct shore_raster *raster, struct spot spot) {
    return (double)raster->clear_m[spot.row * raster->columns + spot.column];
}

double shore_clear_m(const struct shore *shore, struct position at) {
    return clear_at(&shore->raster, spot_of(shore, at));
}

/* A rhumb line makes its northing and its easting, and a degree of easting is
 * longest nearest to the equator: its length squared is at most this. */
static double length2_most_m2(const struct shore_raster *raster,
                              const struct position ends[2],
                              const struct spot spots[2]) {
    double north_m = (ends[1].lat_deg - ends[0].lat_deg) * DEGREE_MOST_M;
    double east_deg = fabs(ends[1].lon_deg - ends[0].lon_deg);
    if (east_deg > 180.0)
        east_deg = 360.0 - east_deg;
    double degree_m = raster->row[spots[0].row].degree_m;
    if (raster->row[spots[1].row].degree_m > degree_m)
        degree_m = raster->row[spots[1].row].degree_m;
    if ((ends[0].lat_deg < 0.0) != (ends[1].lat_deg < 0.0))
        degree_m = DEGREE_MOST_M;
    double east_m = east_deg * degree_m;
    return north_m * north_m + east_m * east_m;
}

/* A place that is s from one end is length - s from the other, so the greater
 * of the two bounds for it is at least half of (both clear - length). */
bool shore_is_far(const struct shore *shore, struct position from,
                  struct position to, double distance_m) {
    const struct position ends[2] = {from, to};
    const struct spot spots[2] = {spot_of(shore, from), spot_of(shore, to)};
    double spare_m = clear_at(&shore->raster, spots[0]) +
                     clear_at(&shore->raster, spots[1]) - 2.0 * distance_m;
    return spare_m > 0.0 &&
           length2_most_m2(&shore->raster, ends, spots) < spare_m * spare_m;
}

/* --- along a leg -----------------------------------------------------------*/

int shore_ways(const struct shore *shore, struct position from,
               struct position to, struct way ways[2]) {
    struct mercator a = shore_chart(shore, from), b = shore_chart(shore, to);
    double turn = 2.0 * PI;
    double west = shore->box.west_deg * RADIANS_PER_DEGREE;
    if (shore->is_round && fabs(b.x - a.x) > PI)
        b.x += b.x > a.x ? -turn : turn;
    ways[0] = (struct way){a, b};
    if (!shore->is_round || (b.x >= west && b.x <= west + turn))
        return 1;
    turn = b.x < west ? turn : -turn;
    ways[1] = (struct way){{a.x + turn, a.y}, {b.x + turn, b.y}};
    return 2;
}

static struct mercator walk_at(const struct walk *walk, double t) {
    if (t >= 1.0)
        return walk->b;
    return (struct mercator){walk->a.x + t * (walk->b.x - walk->a.x),
                             walk->a.y + t * (walk->b.y - walk->a.y)};
}

static void clip(struct walk *walk) {
    const struct shore_raster *raster = walk->raster;
    double west = raster->west_deg * RADIANS_PER_DEGREE;
    double wide_deg = (double)raster->columns / raster->cells_per_deg;
    double east = west + wide_deg * RADIANS_PER_DEGREE;
    double a = walk->a.x, b = walk->b.x;
    if (fmax(a, b) < west || fmin(a, b) > east)
        walk->is_done = true;
    else if (fmin(a, b) < west)
        *(a < b ? &walk->t : &walk->end) = (west - a) / (b - a);
    else if (fmax(a, b) > east)
        *(a < b ? &walk->end : &walk->t) = (east - a) / (b - a);
}

struct walk walk_begin(const struct shore_raster *raster, struct way way) {
    double length = hypot(way.b.x - way.a.x, way.b.y - way.a.y);
    double cell = RADIANS_PER_DEGREE / raster->cells_per_deg;
    struct walk walk = {.raster = raster,
                        .a = way.a,
                        .b = way.b,
                        .length = length,
                        .end = 1.0,
                        .piece = length > cell ? cell / length : 1.0,
                        .row = raster_row(raster, way.a.y, raster->rows / 2)};
    clip(&walk);
    return walk;
}

static void cut_piece(struct walk *walk, struct mercator from,
                      struct piece *piece) {
    walk->t = fmin(walk->t + walk->piece, walk->end);
    walk->is_done = walk->t >= walk->end;
    piece->from = from;
    piece->to = walk_at(walk, walk->t);
    piece->end = walk->t;
    piece->row = walk->row;
}

bool walk_next(struct walk *walk, double near_m, struct piece *piece) {
    const struct shore_raster *raster = walk->raster;
    while (!walk->is_done) {
        struct mercator at = walk_at(walk, walk->t);
        walk->row = raster_row(raster, at.y, walk->row);
        struct spot spot = {walk->row, raster_column(raster, at.x)};
        piece->clear_m = clear_at(raster, spot);
        double leap =
            (piece->clear_m - near_m) / raster->row[walk->row].wide_scale_m;
        double left = (walk->end - walk->t) * walk->length;
        if (leap > 0.0 && leap >= left) {
            walk->is_done = true;
        } else if (leap > walk->piece * walk->length) {
            walk->t += leap / walk->length;
        } else {
            cut_piece(walk, at, piece);
            return true;
        }
    }
    return false;
}
