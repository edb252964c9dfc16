#include "earth/angle.h"

#include <math.h>
#include <stdbool.h>

/* The greatest double below 360 is 5.7e-14 away from it: a tiny negative angle
 * plus 360 rounds to 360 itself. */
double angle_wrap_360(double angle_deg) {
    double wrapped = fmod(angle_deg, 360.0);
    if (wrapped < 0.0)
        wrapped += 360.0;
    return wrapped >= 360.0 ? 0.0 : wrapped + 0.0; /* + 0.0: no minus zero */
}

double angle_wrap_180(double angle_deg) {
    double wrapped = angle_wrap_360(angle_deg);
    return wrapped > 180.0 ? wrapped - 360.0 : wrapped;
}

double angle_wrap_longitude(double longitude_deg) {
    /* What is inside already keeps its last bits. */
    if (longitude_deg >= -180.0 && longitude_deg < 180.0)
        return longitude_deg + 0.0;
    double wrapped = angle_wrap_360(longitude_deg);
    return wrapped >= 180.0 ? wrapped - 360.0 : wrapped;
}

double angle_turn(double from_deg, double to_deg) {
    return angle_wrap_180(to_deg - from_deg);
}

void sincos_deg(double angle_deg, double *sine, double *cosine) {
    /* Down to 45 degrees either side of a quadrant while still in degrees,
     * where the difference is exact. */
    double quadrant = rint(angle_deg / 90.0);
    double rest_rad = (angle_deg - 90.0 * quadrant) * RADIANS_PER_DEGREE;
    double s = sin(rest_rad);
    double c = cos(rest_rad);
    int turned = (int)(quadrant - 4.0 * floor(quadrant / 4.0));
    bool odd = turned % 2 != 0;
    double sine_size = odd ? c : s;
    double cosine_size = odd ? s : c;
    /* 0 - x and not -x: the zeros keep their plus sign */
    *sine = turned >= 2 ? 0.0 - sine_size : sine_size;
    *cosine = turned == 1 || turned == 2 ? 0.0 - cosine_size : cosine_size;
}

struct vector_mps vector_towards(double direction_deg, double speed_mps) {
    double sine, cosine;
    sincos_deg(direction_deg, &sine, &cosine);
    return (struct vector_mps){speed_mps * sine, speed_mps * cosine};
}

struct vector_mps vector_from(double direction_deg, double speed_mps) {
    struct vector_mps back = vector_towards(direction_deg, speed_mps);
    return (struct vector_mps){0.0 - back.east, 0.0 - back.north};
}

double vector_length(struct vector_mps vector) {
    return sqrt(vector.east * vector.east + vector.north * vector.north);
}

double vector_direction_towards(struct vector_mps vector) {
    if (!(fabs(vector.east) > 0.0) && !(fabs(vector.north) > 0.0))
        return 0.0; /* atan2(-0, -0) is not 0 */
    return angle_wrap_360(atan2(vector.east, vector.north) * (180.0 / PI));
}

double vector_direction_from(struct vector_mps vector) {
    return vector_direction_towards(
        (struct vector_mps){0.0 - vector.east, 0.0 - vector.north});
}
