#include "earth/angle.h"

#include <math.h>

/* whose quadrants an int can count */
#define SMALL_ENOUGH_DEG 1e9

/* The greatest double below 360 is 5.7e-14 away from it: a tiny negative angle
 * plus 360 rounds to 360 itself. */
double angle_wrap_360(double angle_deg) {
    /* nearly all are inside, or a turn away, where no division is needed */
    if (angle_deg >= 0.0 && angle_deg < 360.0)
        return angle_deg + 0.0; /* no minus zero */
    if (!(angle_deg >= -360.0 && angle_deg < 720.0))
        angle_deg = fmod(angle_deg, 360.0);
    if (angle_deg < 0.0)
        angle_deg += 360.0;
    return angle_deg >= 360.0 ? angle_deg - 360.0 : angle_deg + 0.0;
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

/* Taylor series about 0 for angles up to 45 degrees; the first terms left out
 * are below 5e-17. Own series because the search spends much of its time here
 * (10 ns against 16 ns with sin() and cos()), and because the library's sin()
 * picks its code by processor: these bytes are the same everywhere. */
static double sine_series(double x) {
    double z = x * x;
    double z2 = z * z;
    double low = -1.0 / 6.0 + z * (1.0 / 120.0);
    double middle = -1.0 / 5040.0 + z * (1.0 / 362880.0);
    double high = -1.0 / 39916800.0 + z * (1.0 / 6227020800.0) -
                  z2 * (1.0 / 1307674368000.0);
    return x + x * z * (low + z2 * (middle + z2 * high));
}

static double cosine_series(double x) {
    double z = x * x;
    double z2 = z * z;
    double low = 1.0 / 24.0 - z * (1.0 / 720.0);
    double middle = 1.0 / 40320.0 - z * (1.0 / 3628800.0);
    double high = 1.0 / 479001600.0 - z * (1.0 / 87178291200.0) +
                  z2 * (1.0 / 20922789888000.0);
    return 1.0 - (0.5 * z - z2 * (low + z2 * (middle + z2 * high)));
}

void sincos_deg(double angle_deg, double *sine, double *cosine) {
    /* Down to 45 degrees either side of a quadrant while still in degrees,
     * where the difference is exact. */
    if (!(fabs(angle_deg) < SMALL_ENOUGH_DEG))
        angle_deg = fmod(angle_deg, 360.0);
    double quadrants = angle_deg / 90.0;
    int quadrant = (int)(quadrants < 0.0 ? quadrants - 0.5 : quadrants + 0.5);
    double rest_rad = (angle_deg - 90.0 * quadrant) * RADIANS_PER_DEGREE;
    double s = sine_series(rest_rad);
    double c = cosine_series(rest_rad);
    unsigned turned = (unsigned)quadrant % 4;
    double sine_size = turned % 2 == 0 ? s : c;
    double cosine_size = turned % 2 == 0 ? c : s;
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

/* Taylor series of the arc tangent, in degrees, for tangents up to that of
 * 11.25 degrees; the first term left out is below 2e-17. */
static double arc_series_deg(double x) {
    double z = x * x;
    double z2 = z * z;
    double z4 = z2 * z2;
    double low = (1.0 - z * (1.0 / 3.0)) + z2 * (1.0 / 5.0 - z * (1.0 / 7.0));
    double middle =
        (1.0 / 9.0 - z * (1.0 / 11.0)) + z2 * (1.0 / 13.0 - z * (1.0 / 15.0));
    double high = (1.0 / 17.0 - z * (1.0 / 19.0)) + z2 * (1.0 / 21.0);
    return x * (low + z4 * (middle + z4 * high)) * (180.0 / PI);
}

/* Angle of the lesser of two sides, [0, 45]: turned back by the nearest of 0,
 * 22.5 and 45 degrees, the rest is small. Own series for the reasons given at
 * sincos_deg(). */
static double acute_deg(double lesser, double greater) {
    static const double TAN_11 = 0.198912367379658;   /* 11.25 degrees */
    static const double TAN_22 = 0.41421356237309503; /* 22.5 degrees */
    static const double TAN_33 = 0.6681786379192989;  /* 33.75 degrees */
    if (lesser > TAN_33 * greater)
        return 45.0 + arc_series_deg((lesser - greater) / (greater + lesser));
    if (lesser > TAN_11 * greater)
        return 22.5 + arc_series_deg((lesser - TAN_22 * greater) /
                                     (greater + TAN_22 * lesser));
    return arc_series_deg(lesser / greater);
}

double vector_direction_towards(struct vector_mps vector) {
    double east = fabs(vector.east), north = fabs(vector.north);
    if (!(east > 0.0) && !(north > 0.0))
        return 0.0;
    double angle_deg =
        east <= north ? acute_deg(east, north) : 90.0 - acute_deg(north, east);
    if (vector.north < 0.0)
        angle_deg = 180.0 - angle_deg;
    if (vector.east < 0.0)
        angle_deg = 360.0 - angle_deg;
    /* a hair west of north rounds to 360 */
    return angle_deg >= 360.0 ? 0.0 : angle_deg;
}

double vector_direction_from(struct vector_mps vector) {
    return vector_direction_towards(
        (struct vector_mps){0.0 - vector.east, 0.0 - vector.north});
}
