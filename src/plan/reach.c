#include "plan/reach.h"

#include "base/units.h"
#include "earth/angle.h"
#include "earth/geodesic.h"

#include <math.h>

static const double LEAST_M = 600.0 * METRES_PER_NMI;
static const double PORT_M = 60.0 * METRES_PER_NMI;

/* A degree of latitude is nowhere shorter. */
static const double DEGREE_LEAST_M = 110570.0;

/* Nearer to a pole than this the box goes all the way round. */
static const double POLAR_DEG = 85.0;

/* Longitudes go on beyond 180 from stop to stop, the shorter way each time. */
struct walker {
    struct coast_box box;
    struct position last;
    double lon_deg, way_m;
};

static struct walker walk_from(struct position start) {
    return (struct walker){
        .box = {start.lat_deg, start.lat_deg, start.lon_deg, start.lon_deg},
        .last = start,
        .lon_deg = start.lon_deg};
}

static void walk_to(struct walker *walker, struct position next) {
    struct coast_box *box = &walker->box;
    walker->way_m += geodesic_between(walker->last, next).distance_m;
    walker->lon_deg += angle_turn(walker->last.lon_deg, next.lon_deg);
    box->south_deg = fmin(box->south_deg, next.lat_deg);
    box->north_deg = fmax(box->north_deg, next.lat_deg);
    box->west_deg = fmin(box->west_deg, walker->lon_deg);
    box->east_deg = fmax(box->east_deg, walker->lon_deg);
    walker->last = next;
}

static struct walker walk_of(const struct request *request) {
    struct walker walker = walk_from(request->from);
    if (request->track) {
        for (size_t i = 0; i < request->track_count; i++)
            walk_to(&walker, request->track[i]);
        return walker;
    }
    for (size_t i = 0; i < request->via_count; i++)
        walk_to(&walker, request->via[i]);
    walk_to(&walker, request->to);
    return walker;
}

static struct coast_box grown(struct coast_box box, double by_m) {
    double up_deg = by_m / DEGREE_LEAST_M;
    box.south_deg = fmax(box.south_deg - up_deg, -90.0);
    box.north_deg = fmin(box.north_deg + up_deg, 90.0);
    double far_deg = fmax(-box.south_deg, box.north_deg);
    double s, c;
    sincos_deg(fmin(far_deg, POLAR_DEG), &s, &c);
    double aside_deg = far_deg > POLAR_DEG ? 360.0 : up_deg / c;
    box.west_deg -= aside_deg;
    box.east_deg += aside_deg;
    return box;
}

/* Ports to run to: the sea round each is needed, too. */
static void reach_ports(const struct request *request, struct coast_box *box) {
    for (size_t i = 0; i < request->port_count; i++) {
        struct position at = request->ports[i].at;
        double port_deg = request->from.lon_deg +
                          angle_turn(request->from.lon_deg, at.lon_deg);
        struct coast_box port = grown(
            (struct coast_box){at.lat_deg, at.lat_deg, port_deg, port_deg},
            PORT_M);
        box->south_deg = fmin(box->south_deg, port.south_deg);
        box->north_deg = fmax(box->north_deg, port.north_deg);
        box->west_deg = fmin(box->west_deg, port.west_deg);
        box->east_deg = fmax(box->east_deg, port.east_deg);
    }
}

/* Cuts both sides, but not into what is needed. */
static void cut(double *low, double *high, const double needed[2],
                const double allowed[2]) {
    *low = fmin(fmax(*low, allowed[0]), needed[0]);
    *high = fmax(fmin(*high, allowed[1]), needed[1]);
}

static struct coast_box within(struct coast_box box,
                               const struct coast_box *stops,
                               const struct coast_box *wind) {
    cut(&box.south_deg, &box.north_deg,
        (const double[2]){stops->south_deg, stops->north_deg},
        (const double[2]){wind->south_deg, wind->north_deg});
    if (wind->east_deg - wind->west_deg >= 360.0)
        return box;
    /* the wind's longitudes at the turn at which the stops are */
    double middle_deg = 0.5 * (stops->west_deg + stops->east_deg);
    double wind_deg = 0.5 * (wind->west_deg + wind->east_deg);
    double turned_deg = 360.0 * round((middle_deg - wind_deg) / 360.0);
    cut(&box.west_deg, &box.east_deg,
        (const double[2]){stops->west_deg, stops->east_deg},
        (const double[2]){wind->west_deg + turned_deg,
                          wind->east_deg + turned_deg});
    return box;
}

/* Wider than any rounding: a place on the forecast's own border is inside. */
static const double BORDER_DEG = 1e-6;

static struct coast_box normal(struct coast_box box) {
    box.south_deg = fmax(box.south_deg - BORDER_DEG, -90.0);
    box.north_deg = fmin(box.north_deg + BORDER_DEG, 90.0);
    box.west_deg -= BORDER_DEG;
    box.east_deg += BORDER_DEG;
    double width_deg = fmin(box.east_deg - box.west_deg, 360.0);
    box.west_deg = angle_wrap_longitude(box.west_deg);
    box.east_deg = box.west_deg + width_deg;
    return box;
}

struct coast_box reach_box(const struct request *request,
                           const struct coast_box *wind) {
    struct walker walker = walk_of(request);
    double by_m = request->track ? LEAST_M : fmax(LEAST_M, walker.way_m);
    struct coast_box box = grown(walker.box, by_m);
    reach_ports(request, &box);
    return normal(within(box, &walker.box, wind));
}

struct grid_bounds reach_weather(const struct request *request) {
    static const double more_m = 3.0 * 60.0 * METRES_PER_NMI;
    struct walker walker = walk_of(request);
    double by_m = fmax(LEAST_M, walker.way_m);
    struct coast_box box = grown(walker.box, by_m);
    reach_ports(request, &box);
    box = normal(grown(box, more_m));
    if (box.east_deg - box.west_deg > 180.0) /* so is the coast */
        box.east_deg = box.west_deg + 360.0;
    return (struct grid_bounds){box.south_deg, box.north_deg, box.west_deg,
                                box.east_deg};
}

double reach_great_circle_m(const struct request *request) {
    double sum_m = 0.0;
    struct position last = request->from;
    for (size_t i = 0; i < request->via_count; i++) {
        sum_m += geodesic_between(last, request->via[i]).distance_m;
        last = request->via[i];
    }
    return sum_m + geodesic_between(last, request->to).distance_m;
}
