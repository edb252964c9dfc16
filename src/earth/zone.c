#include "earth/zone.h"

#include "earth/angle.h"
#include "earth/ellipsoid.h"
#include "earth/geodesic.h"
#include "earth/mercator.h"
#include "earth/ring.h"

#include <assert.h>
#include <math.h>

/* How far a piece of a line may be off it, and how much wider than the circle
 * its polygon may be, in metres. */
static const double PIECE_OFF_M = 2.0;
static const double CIRCLE_OFF_M = 1.0;

/* Corners of the smallest circles. */
enum { CIRCLE_CORNERS = 24 };

/* --- making ------------------------------------------------------------- */

struct maker {
    struct arena *arena;
    struct plane_point *points;
    size_t count, capacity;
};

static void put(struct maker *maker, struct plane_point point) {
    maker->points = arena_room(maker->arena, maker->points, maker->count,
                               &maker->capacity, sizeof *maker->points);
    maker->points[maker->count++] = point;
}

/* A corner in degrees, at whatever turn of longitude it stands. */
static void put_corner(struct maker *maker, struct plane_point corner) {
    struct mercator point =
        mercator_of((struct position){.lat_deg = corner.y, .lon_deg = 0.0});
    put(maker, (struct plane_point){corner.x * RADIANS_PER_DEGREE, point.y});
}

/* Most that a line straight in degrees is off the chart's chord, in metres.
 * The isometric latitude has the second derivative tan(lat) / cos(lat), and a
 * radian of chart R cos(lat) metres: over a step of latitude the two lines are
 * R tan(lat) step^2 / 8 apart in height, and less across where they are steep.
 */
static double bend_m(struct plane_point a, struct plane_point b) {
    double lat_deg = fmin(fmax(fabs(a.y), fabs(b.y)), 89.99);
    double north = (b.y - a.y) * RADIANS_PER_DEGREE;
    double east = (b.x - a.x) * RADIANS_PER_DEGREE;
    double length = hypot(north, east);
    if (!(length > 0.0))
        return 0.0;
    return WGS84_EQUATOR_M * tan(lat_deg * RADIANS_PER_DEGREE) * north * north /
           8.0 * fabs(east) / length;
}

/* Puts `a` and what is needed between it and `b`. */
static void put_line(struct maker *maker, struct plane_point a,
                     struct plane_point b) {
    if (maker->count > ZONE_EDGES)
        return;
    if (bend_m(a, b) <= PIECE_OFF_M) {
        put_corner(maker, a);
        return;
    }
    struct plane_point middle = {0.5 * (a.x + b.x), 0.5 * (a.y + b.y)};
    put_line(maker, a, middle);
    put_line(maker, middle, b);
}

/* Latitudes are widened by what the way there and back may lose. */
static void widen(struct zone *zone, struct plane_box box) {
    zone->box = zone->ring_count ? plane_box_both(zone->box, box) : box;
    box = zone->box;
    zone->south_deg =
        mercator_position((struct mercator){0.0, box.south}).lat_deg - 1e-9;
    zone->north_deg =
        mercator_position((struct mercator){0.0, box.north}).lat_deg + 1e-9;
    zone->middle_deg = 0.5 * (box.west + box.east) / RADIANS_PER_DEGREE;
    zone->half_deg = 0.5 * (box.east - box.west) / RADIANS_PER_DEGREE + 1e-9;
}

static void add_outline(struct zone *zone, struct maker *maker, bool is_hole) {
    assert(maker->count >= 3 && maker->points);
    put(maker, maker->points[0]);
    struct zone_ring ring = {
        .outline = outline_make(maker->points, maker->count - 1, maker->arena),
        .is_hole = is_hole};
    widen(zone, ring.outline.box);
    zone->rings = arena_room(maker->arena, zone->rings, zone->ring_count,
                             &zone->ring_capacity, sizeof *zone->rings);
    zone->rings[zone->ring_count++] = ring;
}

const char *zone_add_ring(struct zone *zone, const struct position *corners,
                          size_t count, bool is_hole, struct arena *arena) {
    assert(!is_hole || zone->ring_count > 0);
    struct ring ring;
    const char *flaw = ring_make(&ring, corners, count, arena);
    if (flaw)
        return flaw;
    struct maker maker = {.arena = arena};
    for (size_t i = 0; i < ring.count; i++)
        put_line(&maker, ring.corners[i], ring.corners[i + 1]);
    if (maker.count > ZONE_EDGES)
        return "is too large: its lines come in too many pieces";
    add_outline(zone, &maker, is_hole);
    return NULL;
}

/* Chords of n corners come nearer to the centre by radius (1 - cos(pi / n));
 * so the corners are put that much further out. */
const char *zone_add_circle(struct zone *zone, struct position centre,
                            double radius_m, struct arena *arena) {
    assert(radius_m > 0.0 && radius_m <= ZONE_RADIUS_M);
    struct position pole = {centre.lat_deg < 0.0 ? -90.0 : 90.0, 0.0};
    double n =
        ceil(fmax(CIRCLE_CORNERS, PI * sqrt(radius_m / (2.0 * CIRCLE_OFF_M))));
    double corner_m = radius_m / cos(PI / n);
    if (geodesic_between(centre, pole).distance_m <= corner_m)
        return "holds a pole";
    struct maker maker = {.arena = arena};
    for (int i = 0; i < n; i++) {
        struct position corner =
            geodesic_ahead(centre, 360.0 * i / n, corner_m);
        struct mercator point = mercator_near(corner, mercator_of(centre));
        put(&maker, (struct plane_point){point.x, point.y});
    }
    add_outline(zone, &maker, false);
    return NULL;
}

/* --- asking ------------------------------------------------------------- */

bool zone_is_active(const struct zone *zone, double start_unix_s,
                    double end_unix_s) {
    if (zone->from_known && (double)zone->from.unix_s > end_unix_s)
        return false;
    return !zone->until_known || (double)zone->until.unix_s >= start_unix_s;
}

struct line {
    struct plane_point from, to;
};

static struct line line_between(struct position from, struct position to) {
    struct mercator start = mercator_of(from);
    struct mercator end = mercator_near(to, start);
    return (struct line){{start.x, start.y}, {end.x, end.y}};
}

/* In an outer ring and in none of the holes that follow it. */
static bool holds(const struct zone *zone, struct plane_point at) {
    bool inside = false;
    for (size_t i = 0; i < zone->ring_count; i++) {
        const struct zone_ring *ring = &zone->rings[i];
        if (!ring->is_hole && inside)
            return true;
        if (!ring->is_hole)
            inside = outline_holds(&ring->outline, at);
        else if (inside)
            inside = !outline_holds(&ring->outline, at);
    }
    return inside;
}

static bool edge_meets(const struct zone *zone, struct line line) {
    for (size_t i = 0; i < zone->ring_count; i++)
        if (outline_meets(&zone->rings[i].outline, line.from, line.to))
            return true;
    return false;
}

static double edge_distance_m(const struct zone *zone, struct line line,
                              double most_m) {
    for (size_t i = 0; i < zone->ring_count; i++)
        most_m = outline_distance_m(&zone->rings[i].outline, line.from, line.to,
                                    most_m);
    return most_m;
}

/* A degree of latitude is this long or longer, in metres; and so near the pole
 * longitudes are not looked at. */
static const double LEAST_DEGREE_M = 110574.0;
static const double POLAR_DEG = 85.0;

static bool far_in_longitude(const struct zone *zone, struct position from,
                             struct position to, double margin_deg) {
    double step_deg = angle_turn(from.lon_deg, to.lon_deg);
    double gap_deg =
        angle_turn(zone->middle_deg, from.lon_deg + 0.5 * step_deg);
    return fabs(gap_deg) > zone->half_deg + 0.5 * fabs(step_deg) + margin_deg;
}

/* Surely further than that, told without the chart: most zones are far from
 * most questions. */
static bool is_far(const struct zone *zone, struct position from,
                   struct position to, double most_m) {
    double margin_deg = most_m / LEAST_DEGREE_M;
    double south_deg = fmin(from.lat_deg, to.lat_deg) - margin_deg;
    double north_deg = fmax(from.lat_deg, to.lat_deg) + margin_deg;
    if (north_deg < zone->south_deg || south_deg > zone->north_deg)
        return true;
    double lat_deg = fmax(fabs(south_deg), fabs(north_deg));
    if (lat_deg > POLAR_DEG)
        return false;
    double s, c;
    sincos_deg(lat_deg, &s, &c);
    return far_in_longitude(zone, from, to, margin_deg / c * 1.01);
}

bool zone_meets(const struct zone *zone, struct position from,
                struct position to) {
    if (is_far(zone, from, to, 0.0))
        return false;
    struct line line = line_between(from, to);
    return edge_meets(zone, line) || holds(zone, line.from);
}

double zone_distance_m(const struct zone *zone, struct position at,
                       double most_m) {
    if (is_far(zone, at, at, most_m))
        return most_m;
    struct line line = line_between(at, at);
    double distance_m = edge_distance_m(zone, line, most_m);
    return holds(zone, line.from) ? -distance_m : distance_m;
}

double zone_segment_distance_m(const struct zone *zone, struct position from,
                               struct position to, double most_m) {
    if (is_far(zone, from, to, most_m))
        return most_m;
    struct line line = line_between(from, to);
    if (holds(zone, line.from))
        return 0.0;
    return edge_distance_m(zone, line, most_m);
}
