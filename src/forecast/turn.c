#include "forecast/turn.h"

#include <math.h>

/* Parallels nearer to one another than this are one. */
static const double PARALLEL_DEG = 1e-6;
/* Files round angles to 0.001 degree at worst. */
static const double SAME_DEG = 0.002;

static double sine(double deg) {
    return sin(deg * RADIANS_PER_DEGREE);
}

static double cosine(double deg) {
    return cos(deg * RADIANS_PER_DEGREE);
}

static double half_colatitude_tangent(double lat_deg) {
    return tan((45.0 + lat_deg / 2.0) * RADIANS_PER_DEGREE);
}

/* Snyder, Map Projections: a Working Manual (USGS Professional Paper 1395,
 * 1987), equation 15-3, from memory: of the sphere. On the ellipsoid it differs
 * by less than 0.0002, which turns a wind 60 degrees off the meridian by 0.01
 * degree. */
double turn_cone(double first_parallel_deg, double second_parallel_deg) {
    if (fabs(first_parallel_deg - second_parallel_deg) < PARALLEL_DEG)
        return sine(first_parallel_deg);
    return log(cosine(first_parallel_deg) / cosine(second_parallel_deg)) /
           log(half_colatitude_tangent(second_parallel_deg) /
               half_colatitude_tangent(first_parallel_deg));
}

/* The course of a great circle at its start. */
static double course_deg(struct position from, struct position to) {
    double east_deg = to.lon_deg - from.lon_deg;
    double x = sine(east_deg) * cosine(to.lat_deg);
    double y = cosine(from.lat_deg) * sine(to.lat_deg) -
               sine(from.lat_deg) * cosine(to.lat_deg) * cosine(east_deg);
    return atan2(x, y) / RADIANS_PER_DEGREE;
}

double turn_deg(const struct turn *turn, struct position position) {
    switch (turn->kind) {
    case TURN_CONE:
        return turn->cone *
               angle_wrap_180(position.lon_deg - turn->meridian_deg);
    case TURN_POLE:
        return course_deg(position, turn->north_pole);
    case TURN_NONE:
    case TURN_NOT_KNOWN:
        break;
    }
    return 0.0;
}

struct vector_mps turn_vector(const struct turn *turn, struct position position,
                              struct vector_mps along) {
    double s, c;
    sincos_deg(turn_deg(turn, position), &s, &c);
    return (struct vector_mps){.east = along.east * c + along.north * s,
                               .north = along.north * c - along.east * s};
}

bool turn_same(const struct turn *a, const struct turn *b) {
    return a->kind == b->kind && fabs(a->cone - b->cone) < SAME_DEG &&
           fabs(angle_wrap_180(a->meridian_deg - b->meridian_deg)) < SAME_DEG &&
           fabs(a->north_pole.lat_deg - b->north_pole.lat_deg) < SAME_DEG &&
           fabs(angle_wrap_180(a->north_pole.lon_deg - b->north_pole.lon_deg)) <
               SAME_DEG;
}
