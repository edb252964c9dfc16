/* Angles in degrees. This file alone owns wrap-around.
 *
 *   headings, courses, directions   true, [0, 360)
 *   wind and waves                  where they come from
 *   current                         where it sets to
 *   TWA, AWA                        (-180, 180], + = wind on the starboard side
 *   longitude                       [-180, 180)
 */
#ifndef EARTH_ANGLE_H
#define EARTH_ANGLE_H

#define PI 3.14159265358979323846
#define RADIANS_PER_DEGREE (PI / 180.0)

/* Any finite angle into [0, 360), (-180, 180] and [-180, 180). */
double angle_wrap_360(double angle_deg);
double angle_wrap_180(double angle_deg);
double angle_wrap_longitude(double longitude_deg);

/* The turn from one direction to another, (-180, 180], + = clockwise. */
double angle_turn(double from_deg, double to_deg);

/* Exact at the quadrants: sine of 180 is 0. */
void sincos_deg(double angle_deg, double *sine, double *cosine);

/* A horizontal vector, east and north. Wind vectors point where the air goes
 * TO; vector_from() and vector_direction_from() turn to and from "from". */
struct vector_mps {
    double east, north;
};

struct vector_mps vector_towards(double direction_deg, double speed_mps);
struct vector_mps vector_from(double direction_deg, double speed_mps);
double vector_length(struct vector_mps vector);
/* [0, 360); 0 for the null vector. */
double vector_direction_towards(struct vector_mps vector);
double vector_direction_from(struct vector_mps vector);

static inline struct vector_mps vector_plus(struct vector_mps a,
                                            struct vector_mps b) {
    return (struct vector_mps){a.east + b.east, a.north + b.north};
}

static inline struct vector_mps vector_minus(struct vector_mps a,
                                             struct vector_mps b) {
    return (struct vector_mps){a.east - b.east, a.north - b.north};
}

#endif
