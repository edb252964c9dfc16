#include "earth/sphere.h"

#include "earth/angle.h"

#include <math.h>

struct sphere_point sphere_point(struct position position) {
    double lat = position.lat_deg * RADIANS_PER_DEGREE;
    double lon = position.lon_deg * RADIANS_PER_DEGREE;
    double level = cos(lat);
    return (struct sphere_point){level * cos(lon), level * sin(lon), sin(lat)};
}

double sphere_distance_m(struct sphere_point a, struct sphere_point b) {
    double dx = a.x - b.x, dy = a.y - b.y, dz = a.z - b.z;
    double chord = sqrt(dx * dx + dy * dy + dz * dz);
    return 2.0 * SPHERE_RADIUS_M * asin(fmin(1.0, 0.5 * chord));
}
