#include "earth/geodesic.h"

#include "earth/angle.h"
#include "earth/ellipsoid.h"

#include <assert.h>
#include <geodesic.h>
#include <math.h>
#include <stddef.h>

/* Filled at every call: it costs a tenth of the inverse problem and leaves no
 * shared state. */
static struct geod_geodesic wgs84(void) {
    struct geod_geodesic earth;
    geod_init(&earth, WGS84_EQUATOR_M, WGS84_FLATTENING);
    return earth;
}

struct geodesic geodesic_between(struct position from, struct position to) {
    assert(fabs(from.lat_deg) <= 90.0 && fabs(to.lat_deg) <= 90.0);
    struct geod_geodesic earth = wgs84();
    double distance_m, start_deg, end_deg;
    geod_inverse(&earth, from.lat_deg, from.lon_deg, to.lat_deg, to.lon_deg,
                 &distance_m, &start_deg, &end_deg);
    return (struct geodesic){.distance_m = distance_m,
                             .course_start_deg = angle_wrap_360(start_deg),
                             .course_end_deg = angle_wrap_360(end_deg)};
}

struct position geodesic_ahead(struct position from, double course_deg,
                               double distance_m) {
    assert(fabs(from.lat_deg) <= 90.0);
    struct geod_geodesic earth = wgs84();
    double lat_deg, lon_deg;
    geod_direct(&earth, from.lat_deg, from.lon_deg, course_deg, distance_m,
                &lat_deg, &lon_deg, NULL);
    return (struct position){.lat_deg = lat_deg,
                             .lon_deg = angle_wrap_longitude(lon_deg)};
}
