#include "plan/ask.h"

#include "base/units.h"
#include "earth/angle.h"
#include "earth/geodesic.h"

#include <math.h>

/* --- area ----------------------------------------------------------------- */

/* A great circle is looked at in so many places between its ends. */
enum { BETWEEN = 8 };

/* Nearer to a pole than this the meridians are too close for miles. */
static const double POLAR_DEG = 80.0;

struct box {
    double south, north, west, east; /* degrees; west to east from `from` */
    double room;                     /* round every place */
    double from;
};

static void stretch(struct box *box, struct position place) {
    double s, c;
    double east = box->from + angle_turn(box->from, place.lon_deg);
    sincos_deg(fmin(fabs(place.lat_deg), POLAR_DEG), &s, &c);
    box->south = fmin(box->south, place.lat_deg - box->room);
    box->north = fmax(box->north, place.lat_deg + box->room);
    box->west = fmin(box->west, east - box->room / c);
    box->east = fmax(box->east, east + box->room / c);
}

/* The great circle between, its first end left out. */
static void stretch_along(struct box *box, struct position a,
                          struct position b) {
    struct geodesic way = geodesic_between(a, b);
    for (int i = 1; i < BETWEEN; i++)
        stretch(box, geodesic_ahead(a, way.course_start_deg,
                                    way.distance_m * i / BETWEEN));
    stretch(box, b);
}

static struct position stop_at(const struct request *request, size_t index) {
    return index < request->via_count ? request->via[index] : request->to;
}

struct ask_area ask_area(const struct request *request, double room_deg) {
    struct box box = {90.0,   -90.0,    720.0,
                      -720.0, room_deg, request->from.lon_deg};
    struct position last = request->from;
    stretch(&box, request->from);
    for (size_t i = 0; i <= request->via_count; i++) {
        stretch_along(&box, last, stop_at(request, i));
        last = stop_at(request, i);
    }
    for (size_t i = 0; i < request->port_count; i++)
        stretch(&box, request->ports[i].at);
    struct ask_area area = {.south_deg = floor(fmax(box.south, -90.0)),
                            .north_deg = ceil(fmin(box.north, 90.0))};
    double width_deg = fmin(ceil(box.east) - floor(box.west), 360.0);
    area.west_deg = floor(angle_wrap_longitude(floor(box.west)));
    area.east_deg = area.west_deg + width_deg;
    return area;
}

double ask_way_m(const struct request *request) {
    double way_m = 0.0;
    struct position last = request->from;
    for (size_t i = 0; i <= request->via_count; i++) {
        way_m += geodesic_between(last, stop_at(request, i)).distance_m;
        last = stop_at(request, i);
    }
    return way_m;
}

/* --- bytes ---------------------------------------------------------------- */

/* What stands before the values of a message: 179 bytes in our samples, 168 to
 * 190 in files of weather centres. */
static const double HEAD_BYTES = 180.0;

/* Bits for each point; of wave fields the mean of height, period, direction. */
static const struct kind {
    int fields;
    double bits;
} kinds[ASK_FIELDS] = {
    [ASK_WIND] = {2, 12.0},    [ASK_GUST] = {1, 11.0},
    [ASK_SEA] = {3, 12.0},     [ASK_WIND_SEA] = {3, 12.0},
    [ASK_SWELL] = {3, 12.0},   [ASK_SWELL_MORE] = {3, 12.0},
    [ASK_CURRENT] = {2, 12.0}, [ASK_PRESSURE] = {1, 14.0},
};

int ask_fields_of(enum ask_field field) {
    return kinds[field].fields;
}

double ask_bytes(enum ask_field field, double points) {
    return kinds[field].fields *
           (HEAD_BYTES + points * kinds[field].bits / 8.0);
}

/* --- the whole ------------------------------------------------------------ */

static const double FAIR_WIND_KN = 12.0;

double ask_fair_mps(const struct boat *boat) {
    enum { ANGLES = 13 };
    const double first_deg = 60.0, step_deg = 10.0;
    double sum_mps = 0.0;
    for (int i = 0; i < ANGLES; i++)
        sum_mps += polar_speed(&boat->stowed, first_deg + i * step_deg,
                               kn_to_mps(FAIR_WIND_KN));
    return boat->factor * sum_mps / ANGLES;
}

/* How coarse, by the length of the passage; how much room and time to spare.
 * Common practice, no source. */
struct scale {
    double below_h; /* for a passage of less */
    double spacing_deg, step_h;
};

static const struct scale scales[2][3] = {
    [ASK_SMALL] = {{36.0, 0.25, 3.0}, {120.0, 0.5, 6.0}, {HUGE_VAL, 1.0, 6.0}},
    [ASK_FULL] = {{36.0, 0.25, 1.0}, {120.0, 0.25, 3.0}, {HUGE_VAL, 0.5, 6.0}},
};

static const struct spare {
    double least_deg, of_way_frac; /* room: the greater of the two */
    double time_frac, time_h;
    enum ask_field last;
} spares[] = {
    [ASK_SMALL] = {1.0, 0.1, 0.1, 6.0, ASK_SEA},
    [ASK_FULL] = {3.0, 0.25, 0.3, 24.0, ASK_PRESSURE},
};

static const struct scale *scale_for(enum ask_size size, double passage_s) {
    const struct scale *scale = scales[size];
    while (s_to_hours(passage_s) >= scale->below_h)
        scale++;
    return scale;
}

static size_t points_between(double low_deg, double high_deg,
                             double spacing_deg) {
    return (size_t)lround((high_deg - low_deg) / spacing_deg) + 1;
}

struct ask ask_for(const struct boat *boat, const struct request *request,
                   enum ask_size size) {
    const struct spare *spare = &spares[size];
    double way_m = ask_way_m(request);
    double way_deg = m_to_nmi(way_m) / 60.0;
    struct ask ask = {.room_deg =
                          fmax(spare->least_deg, spare->of_way_frac * way_deg),
                      .passage_s = way_m / ask_fair_mps(boat),
                      .last = spare->last};
    const struct scale *scale = scale_for(size, ask.passage_s);
    ask.area = ask_area(request, ask.room_deg);
    ask.step_h = scale->step_h;
    ask.spacing_deg = scale->spacing_deg;
    ask.hours =
        s_to_hours(ask.passage_s) * (1.0 + spare->time_frac) + spare->time_h;
    ask.steps = (size_t)ceil(ask.hours / ask.step_h) + 1;
    ask.hours = ask.step_h * (double)(ask.steps - 1);
    ask.columns =
        points_between(ask.area.west_deg, ask.area.east_deg, ask.spacing_deg);
    ask.rows =
        points_between(ask.area.south_deg, ask.area.north_deg, ask.spacing_deg);
    for (int i = 0; i <= (int)ask.last; i++)
        ask.bytes += ask_bytes((enum ask_field)i,
                               (double)ask.columns * (double)ask.rows) *
                     (double)ask.steps;
    return ask;
}
