#include "flow.h"

#include "earth/angle.h"
#include "earth/ellipsoid.h"
#include <math.h>

/* Mid-Atlantic. */
static const double ORIGIN_LON_DEG = -25.0;

/* Stronger than any current here, so that there is wind over the water. */
static const double WIND_MPS = 60.0;

static double metres_per_lon_deg(void) {
    return WGS84_EQUATOR_M * RADIANS_PER_DEGREE;
}

/* Radius of the meridian at the equator: a (1 - e^2). */
static double metres_per_lat_deg(void) {
    return WGS84_EQUATOR_M * (1.0 - WGS84_ECCENTRICITY2) * RADIANS_PER_DEGREE;
}

double flow_unit_s(const struct flow *flow) {
    return flow->unit_m / flow->unit_mps;
}

struct position flow_place(const struct flow *flow, struct plane_point place) {
    return (struct position){
        .lat_deg = place.y * flow->unit_m / metres_per_lat_deg(),
        .lon_deg =
            ORIGIN_LON_DEG + place.x * flow->unit_m / metres_per_lon_deg()};
}

struct plane_point flow_point(const struct flow *flow, struct position at) {
    return (struct plane_point){
        .x =
            (at.lon_deg - ORIGIN_LON_DEG) * metres_per_lon_deg() / flow->unit_m,
        .y = at.lat_deg * metres_per_lat_deg() / flow->unit_m};
}

struct vector_mps flow_current(const void *context, struct position at,
                               double t_s) {
    const struct flow *flow = context;
    struct plane_point current =
        flow->at(flow_point(flow, at), t_s / flow_unit_s(flow));
    return (struct vector_mps){.east = current.x * flow->unit_mps,
                               .north = current.y * flow->unit_mps};
}

struct analytic flow_weather(const struct flow *flow) {
    struct position south_west =
        flow_place(flow, (struct plane_point){flow->box.west, flow->box.south});
    struct position north_east =
        flow_place(flow, (struct plane_point){flow->box.east, flow->box.north});
    return (struct analytic){.wind_from_deg = 0.0,
                             .wind_mps = WIND_MPS,
                             .current_at = flow->at ? flow_current : NULL,
                             .flow = flow,
                             .max_current_mps = flow->most * flow->unit_mps,
                             .south_deg = south_west.lat_deg,
                             .west_deg = south_west.lon_deg,
                             .north_deg = north_east.lat_deg,
                             .east_deg = north_east.lon_deg};
}

static struct plane_point shear(struct plane_point place, double t) {
    (void)t;
    return (struct plane_point){.x = -place.y};
}

const struct flow flow_sheared = {.unit_m = 20.0 * METRES_PER_NMI,
                                  .unit_mps =
                                      6.0 * METRES_PER_NMI / SECONDS_PER_HOUR,
                                  .box = {-1.5, -2.6, 6.5, 1.8},
                                  .most = 2.6,
                                  .at = shear};

static struct plane_point half_sine(struct plane_point place, double t) {
    (void)t;
    return (struct plane_point){
        .y = 5.0 * sin(180.0 / 31.0 * place.x * RADIANS_PER_DEGREE)};
}

const struct flow flow_ferry = {.unit_m = 2.0 * METRES_PER_NMI,
                                .unit_mps = 6.0 / 9.0 * METRES_PER_NMI /
                                            SECONDS_PER_HOUR,
                                .box = {-10.0, -20.0, 41.0, 20.0},
                                .most = 5.0,
                                .at = half_sine};

double flow_six_kn(double twa_deg) {
    (void)twa_deg;
    return kn_to_mps(6.0);
}
