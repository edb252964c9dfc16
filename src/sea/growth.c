#include "sea/growth.h"

#include <assert.h>
#include <math.h>

/* All lengths and times below are made plain numbers with g and the friction
 * velocity u*: gX/u*^2, gt/u*, gH/u*^2, gT/u*. */
#define FETCH_PER_DURATION 5.23e-3 /* II-2-38, times (gt/u*)^1.5 */
#define FETCH_PER_DURATION_ROOT3                                               \
    0.17358035129114342592       /* its cube root, calculated */
#define HEIGHT_PER_FETCH 4.13e-2 /* II-2-36, times sqrt(gX/u*^2) */
#define PERIOD_PER_FETCH 0.651   /* II-2-36, times cbrt(gX/u*^2) */
#define HEIGHT_FULL 2.115e2      /* II-2-37, fully developed */
#define PERIOD_FULL 2.398e2      /* II-2-37 */

/* u* = sqrt(CD) U10 with CD = 0.001 (1.1 + 0.035 U10), II-2-36. */
static double friction_velocity_mps(double wind_mps) {
    return wind_mps * sqrt(0.001 * (1.1 + 0.035 * wind_mps));
}

static double least(double a, double b) {
    return a < b ? a : b;
}

struct wave_system growth_wind_sea(double wind_mps, double wind_from_deg,
                                   double fetch_m, double duration_s) {
    assert(wind_mps >= 0.0 && fetch_m > 0.0 && duration_s > 0.0);
    struct wave_system sea = {.known = true, .from_deg = wind_from_deg};
    double u = friction_velocity_mps(wind_mps);
    if (u <= 0.0)
        return sea;
    double t = GRAVITY_MPS2 * duration_s / u, root = sqrt(t);
    double fetch = FETCH_PER_DURATION * t * root;
    double fetch_root3 = FETCH_PER_DURATION_ROOT3 * root;
    if (GRAVITY_MPS2 * fetch_m < fetch * (u * u)) {
        fetch = GRAVITY_MPS2 * fetch_m / (u * u);
        fetch_root3 = cbrt(fetch);
    }
    double height = least(HEIGHT_PER_FETCH * sqrt(fetch), HEIGHT_FULL);
    double period = least(PERIOD_PER_FETCH * fetch_root3, PERIOD_FULL);
    sea.height_m = height * u * u / GRAVITY_MPS2;
    sea.period_s = period * u / GRAVITY_MPS2;
    return sea;
}

struct growth growth_of(double wind_mps) {
    assert(wind_mps >= 0.0);
    double u = friction_velocity_mps(wind_mps);
    return (struct growth){.wind_mps = wind_mps,
                           .friction_mps = u,
                           .full_height_m = HEIGHT_FULL * u * u / GRAVITY_MPS2};
}

/* gX/u*^2 = (gH/u*^2 / 4.13e-2)^2, and gt/u* from it: both laws inverted. */
double growth_time_s(const struct growth *growth, double height_m) {
    assert(growth->friction_mps > 0.0);
    double u = growth->friction_mps;
    double height = least(GRAVITY_MPS2 * height_m / (u * u), HEIGHT_FULL);
    double fetch_root = height / HEIGHT_PER_FETCH;
    double t_root = cbrt(fetch_root * fetch_root / FETCH_PER_DURATION);
    return t_root * t_root * u / GRAVITY_MPS2;
}

struct grown growth_after(const struct growth *growth, double seconds) {
    double u = growth->friction_mps;
    if (u <= 0.0)
        return (struct grown){0};
    double t = GRAVITY_MPS2 * seconds / u, root = sqrt(t);
    double height_full_root = HEIGHT_FULL / HEIGHT_PER_FETCH;
    double fetch = least(FETCH_PER_DURATION * t * root,
                         height_full_root * height_full_root);
    double period =
        least(PERIOD_PER_FETCH * FETCH_PER_DURATION_ROOT3 * root, PERIOD_FULL);
    return (struct grown){.height_m = HEIGHT_PER_FETCH * sqrt(fetch) * u * u /
                                      GRAVITY_MPS2,
                          .period_s = period * u / GRAVITY_MPS2,
                          .fetch_m = fetch * u * u / GRAVITY_MPS2};
}
