#include "plan/water.h"

#include "base/units.h"
#include "earth/angle.h"
#include "earth/geodesic.h"
#include "earth/mercator.h"
#include "earth/rhumb.h"

#include <math.h>
#include <string.h>

/* --- a rhumb line and the circles of approach -------------------------------
 */

/* The line on the chart, where its places are linear in `part`, 0 to 1. */
struct stretch {
    struct mercator from, to;
};

static struct stretch stretch_between(struct position from,
                                      struct position to) {
    struct mercator start = mercator_of(from);
    return (struct stretch){start, mercator_near(to, start)};
}

static struct position place_at(const struct stretch *stretch, double part) {
    struct mercator a = stretch->from, b = stretch->to;
    return mercator_position(
        (struct mercator){a.x + part * (b.x - a.x), a.y + part * (b.y - a.y)});
}

static double apart_m(struct position a, struct position b) {
    return geodesic_between(a, b).distance_m;
}

/* A degree of latitude, and of longitude at the equator, or a little less. */
static const double DEGREE_LEAST_M = 110000.0;

/* Surely outside the circle from end to end, told in degrees alone. */
static bool passes_circle(const struct water *water, struct position from,
                          struct position to, struct position centre) {
    double margin_deg = water->approach_m / DEGREE_LEAST_M;
    if (fmin(from.lat_deg, to.lat_deg) - margin_deg > centre.lat_deg ||
        fmax(from.lat_deg, to.lat_deg) + margin_deg < centre.lat_deg)
        return true;
    double s, c;
    sincos_deg(centre.lat_deg, &s, &c);
    double half_deg = 0.5 * angle_turn(from.lon_deg, to.lon_deg);
    double gap_deg = angle_turn(centre.lon_deg, from.lon_deg + half_deg);
    /* twice the margin: the circle is wider polewards of its middle */
    return (fabs(gap_deg) - fabs(half_deg)) * c > 2.0 * margin_deg;
}

/* Parts of the line between which it is inside a circle; none where first is
 * not below last. */
struct inside {
    double first, last;
};

/* Rounds of halving: from a line of 100 km to the tenth of a metre. */
enum { HALVINGS = 20 };

/* Where the line passes the rim, between a part inside and one outside. The
 * answer is inside. */
static double rim(const struct stretch *stretch, struct position centre,
                  double radius_m, struct inside between) {
    double in = between.first, out = between.last;
    for (int i = 0; i < HALVINGS; i++) {
        double middle = 0.5 * (in + out);
        if (apart_m(place_at(stretch, middle), centre) <= radius_m)
            in = middle;
        else
            out = middle;
    }
    return in;
}

static struct inside inside_circle(const struct stretch *stretch,
                                   struct position centre, double radius_m) {
    struct mercator a = stretch->from;
    struct mercator c = mercator_near(centre, a);
    double dx = stretch->to.x - a.x, dy = stretch->to.y - a.y;
    double length2 = dx * dx + dy * dy;
    double part =
        length2 > 0.0 ? ((c.x - a.x) * dx + (c.y - a.y) * dy) / length2 : 0.0;
    part = fmin(fmax(part, 0.0), 1.0);
    if (apart_m(place_at(stretch, part), centre) > radius_m)
        return (struct inside){1.0, 0.0};
    struct inside inside = {0.0, 1.0};
    if (apart_m(place_at(stretch, 0.0), centre) > radius_m)
        inside.first =
            rim(stretch, centre, radius_m, (struct inside){part, 0.0});
    if (apart_m(place_at(stretch, 1.0), centre) > radius_m)
        inside.last =
            rim(stretch, centre, radius_m, (struct inside){part, 1.0});
    return inside;
}

/* --- land -------------------------------------------------------------------
 */

/* A shore so near is met, whatever the clearance. */
static const double SHORE_MET_M = 1.0;

static double keep_m(const struct water *water) {
    return fmax(water->clearance_m + water->rounding_m, SHORE_MET_M);
}

/* Parts of a line that have to keep the clearance. */
struct parts {
    struct inside part[3];
    int count;
};

static void add_part(struct parts *parts, double first, double last) {
    if (first < last)
        parts->part[parts->count++] = (struct inside){first, last};
}

/* What is outside both circles. */
static struct parts parts_outside(const struct water *water,
                                  const struct stretch *stretch) {
    struct inside a = inside_circle(stretch, water->start, water->approach_m);
    struct inside b = inside_circle(stretch, water->finish, water->approach_m);
    bool in_order = a.first <= b.first;
    const struct inside circles[2] = {in_order ? a : b, in_order ? b : a};
    struct parts parts = {.count = 0};
    double reached = 0.0;
    for (int i = 0; i < 2; i++) {
        if (!(circles[i].first < circles[i].last))
            continue;
        add_part(&parts, reached, circles[i].first);
        reached = fmax(reached, circles[i].last);
    }
    add_part(&parts, reached, 1.0);
    return parts;
}

/* For a line that is nearer to the shore than the clearance, or meets it. */
static bool outside_too_near(const struct water *water, struct position from,
                             struct position to) {
    if (passes_circle(water, from, to, water->start) &&
        passes_circle(water, from, to, water->finish))
        return true;
    struct stretch stretch = stretch_between(from, to);
    struct parts parts = parts_outside(water, &stretch);
    for (int i = 0; i < parts.count; i++)
        if (coast_nearer(water->coast, place_at(&stretch, parts.part[i].first),
                         place_at(&stretch, parts.part[i].last), keep_m(water)))
            return true;
    return false;
}

double water_off_m(const struct water *water, struct position from,
                   struct position to) {
    double least_m = water->clearance_m;
    if (!water->coast || !coast_nearer(water->coast, from, to, least_m))
        return least_m;
    struct stretch stretch = stretch_between(from, to);
    struct parts parts = parts_outside(water, &stretch);
    for (int i = 0; i < parts.count; i++)
        least_m = coast_segment_distance_m(
            water->coast, place_at(&stretch, parts.part[i].first),
            place_at(&stretch, parts.part[i].last), least_m);
    return least_m;
}

bool water_is_inland(const struct water *water, struct position at) {
    return water->coast && !sea_mask_is_sea(water->mask, at);
}

/* Whoever crosses no shoreline stays in the sea if that is where the line
 * begins. */
static bool land_bars(const struct water *water, struct position from,
                      struct position to) {
    if (!coast_nearer(water->coast, from, to, keep_m(water)))
        return !sea_mask_is_sea(water->mask, from);
    return outside_too_near(water, from, to) ||
           coast_meets(water->coast, from, to) ||
           !sea_mask_is_sea(water->mask, from);
}

double water_shore_m(const struct water *water, struct position at,
                     double most_m) {
    return water->coast ? coast_distance_m(water->coast, at, most_m, NULL)
                        : most_m;
}

/* --- zones ------------------------------------------------------------------
 */

enum { LATITUDES = 180, LONGITUDES = 360, SQUARES = 180 * 360 };

static int row_of(double lat_deg) {
    int row = (int)floor(lat_deg) + LATITUDES / 2;
    return row < 0 ? 0 : row < LATITUDES ? row : LATITUDES - 1;
}

static int column_of(double lon_deg) {
    return (int)floor(angle_wrap_360(lon_deg)) % LONGITUDES;
}

/* Its square degrees and those about them. */
static void mark(uint8_t *near, const struct zone *zone) {
    int south = row_of(zone->south_deg - 1.0);
    int north = row_of(zone->north_deg + 1.0);
    int wide = (int)ceil(fmin(2.0 * zone->half_deg + 3.0, LONGITUDES));
    int west = column_of(zone->middle_deg - zone->half_deg - 1.0);
    for (int row = south; row <= north; row++)
        for (int i = 0; i < wide; i++)
            near[row * LONGITUDES + (west + i) % LONGITUDES] = 1;
}

void water_prepare(struct water *water, struct arena *arena) {
    uint8_t *near = arena_alloc(arena, SQUARES, 1);
    for (size_t i = 0; i < water->zones.count; i++)
        mark(near, &water->zones.items[i]);
    water->near_zone = near;
}

/* A line that is no longer than a degree ends in the square of its start or
 * beside it. */
static bool no_zone_near(const struct water *water, struct position from,
                         struct position to) {
    if (water->zones.count == 0)
        return true;
    double east_deg = fabs(to.lon_deg - from.lon_deg);
    if (fabs(to.lat_deg - from.lat_deg) > 1.0 ||
        (east_deg > 1.0 && east_deg < 359.0))
        return false;
    return !water->near_zone[row_of(from.lat_deg) * LONGITUDES +
                             column_of(from.lon_deg)];
}

/* One that closes later and for good may be passed before it does. */
static bool bars(const struct water *water, const struct zone *zone,
                 double start_s, double end_s) {
    if (isinf(start_s) && zone->from_known &&
        (double)zone->from.unix_s > water->depart_unix_s)
        return false;
    return zone_is_active(zone, water->depart_unix_s + start_s,
                          water->depart_unix_s + end_s);
}

const struct zone *water_zone_met(const struct water *water,
                                  struct position from, struct position to,
                                  double start_s, double end_s) {
    if (no_zone_near(water, from, to))
        return NULL;
    for (size_t i = 0; i < water->zones.count; i++) {
        const struct zone *zone = &water->zones.items[i];
        if (bars(water, zone, start_s, end_s) && zone_meets(zone, from, to))
            return zone;
    }
    return NULL;
}

static bool is_for_good(const struct water *water, const struct zone *zone) {
    return bars(water, zone, VOYAGE_FOR_GOOD, VOYAGE_FOR_GOOD);
}

/* --- the three questions ----------------------------------------------------
 */

enum obstacle water_blocked(const void *context, struct position from,
                            struct position to, double start_s, double end_s) {
    const struct water *water = context;
    if (water->coast) {
        bool known =
            coast_covers(water->coast, from) && coast_covers(water->coast, to);
        if (!known && !water->open_border)
            return OBSTACLE_AREA;
        if (known && land_bars(water, from, to))
            return OBSTACLE_LAND;
    }
    if (water_zone_met(water, from, to, start_s, end_s))
        return OBSTACLE_ZONE;
    return OBSTACLE_NONE;
}

/* By how much a place is inside a circle; below 0 outside. */
static double depth_m(const struct water *water, struct position at,
                      struct position centre) {
    return water->approach_m - apart_m(at, centre);
}

/* Within a circle the shoreline holds, and its rim. */
static double room_off_land_m(const struct water *water, struct position at) {
    double reach_m = VOYAGE_ROOM_M + keep_m(water);
    double off_m = coast_distance_m(water->coast, at, reach_m, NULL);
    if (!sea_mask_is_sea(water->mask, at))
        off_m = -off_m;
    double room_m = off_m - keep_m(water);
    if (off_m >= reach_m)
        return VOYAGE_ROOM_M;
    double start_m = depth_m(water, at, water->start);
    double finish_m = depth_m(water, at, water->finish);
    return fmax(room_m, fmin(off_m, fmax(start_m, finish_m)));
}

/* To the border of what is known of the coast; below 0 outside. */
static double border_m(const struct water *water, struct position at) {
    const struct coast_box *box = &water->box;
    double north_deg = box->north_deg - at.lat_deg;
    double south_deg = at.lat_deg - box->south_deg;
    double half_deg = 0.5 * (box->east_deg - box->west_deg);
    double off_deg = fabs(angle_turn(box->west_deg + half_deg, at.lon_deg));
    double s, c;
    sincos_deg(at.lat_deg, &s, &c);
    double aside_deg = half_deg < 180.0 ? (half_deg - off_deg) * c : HUGE_VAL;
    return fmin(fmin(north_deg, south_deg), aside_deg) * DEGREE_LEAST_M;
}

double water_room_m(const void *context, struct position at) {
    const struct water *water = context;
    double room_m = VOYAGE_ROOM_M;
    bool known = water->coast && coast_covers(water->coast, at);
    if (water->coast && !water->open_border) {
        room_m = fmin(room_m, border_m(water, at));
        if (!known)
            return fmax(fmin(room_m, -SHORE_MET_M), -VOYAGE_ROOM_M);
    }
    if (known)
        room_m = fmin(room_m, room_off_land_m(water, at));
    for (size_t i = 0; i < water->zones.count; i++)
        if (is_for_good(water, &water->zones.items[i]))
            room_m = fmin(room_m, zone_distance_m(&water->zones.items[i], at,
                                                  VOYAGE_ROOM_M));
    return fmax(room_m, -VOYAGE_ROOM_M);
}

/* How far along the course the answer is still no, if it is yes at most_m. */
static double first_m(const struct water *water, struct position at,
                      double direction_deg, double most_m,
                      bool (*is_met)(const struct water *water,
                                     struct position from,
                                     struct position to)) {
    double clear_m = 0.0, met_m = most_m;
    if (most_m <= 0.0)
        return 0.0;
    if (!is_met(water, at, rhumb_ahead(at, direction_deg, most_m)))
        return most_m;
    for (int i = 0; i < HALVINGS; i++) {
        double middle_m = 0.5 * (clear_m + met_m);
        if (is_met(water, at, rhumb_ahead(at, direction_deg, middle_m)))
            met_m = middle_m;
        else
            clear_m = middle_m;
    }
    return clear_m;
}

static bool leaves_coast(const struct water *water, struct position from,
                         struct position to) {
    (void)from;
    return !coast_covers(water->coast, to);
}

static bool meets_zone(const struct water *water, struct position from,
                       struct position to) {
    return water_zone_met(water, from, to, VOYAGE_FOR_GOOD, VOYAGE_FOR_GOOD);
}

double water_clear_m(const void *context, struct position at,
                     double direction_deg, double most_m) {
    const struct water *water = context;
    struct position shore;
    if (water->coast) {
        if (!coast_covers(water->coast, at) || water_is_inland(water, at))
            return 0.0;
        most_m = first_m(water, at, direction_deg, most_m, leaves_coast);
        if (coast_first_crossing(water->coast, at,
                                 rhumb_ahead(at, direction_deg, most_m),
                                 &shore))
            most_m = rhumb_between(at, shore).distance_m;
    }
    return first_m(water, at, direction_deg, most_m, meets_zone);
}
