#include "sea/growth.h"

#include <assert.h>
#include <math.h>

/* All lengths and times below are made plain numbers with g and the wind:
 * gX/U^2, gt/U, gH/U^2, gT/U. H = 4 sqrt(variance), T = 2 pi / w. */
#define HEIGHT_PER_FETCH 1.63462533933620e-3 /* 4 sqrt(1.67e-7), calculated */
#define PERIOD_PER_FETCH 0.28559933214452665 /* 2 pi / 22, calculated */
#define HEIGHT_FULL 0.22040934009517 /* 4 sqrt(2.74e-3) 1.026^2, calculated */
#define PERIOD_FULL 7.35068201273233 /* 2 pi 1.026 / 0.877, calculated */
#define DURATION_PER_FETCH 68.8

/* The fetch at which the height is the full one, calculated. */
#define FETCH_FULL (HEIGHT_FULL * HEIGHT_FULL / (16.0 * 1.67e-7))

static double least(double a, double b) {
    return a < b ? a : b;
}

/* gX/U^2 and its cube root. */
struct fetch {
    double all, root3;
};

/* That is worth as much as a duration gt/U. */
static struct fetch fetch_of_time(double time) {
    double root = sqrt(time * (1.0 / DURATION_PER_FETCH));
    return (struct fetch){root * root * root, root};
}

static struct grown grown_by(double wind_mps, struct fetch fetch) {
    double height = least(HEIGHT_PER_FETCH * sqrt(fetch.all), HEIGHT_FULL);
    double period = least(PERIOD_PER_FETCH * fetch.root3, PERIOD_FULL);
    double metres = wind_mps * wind_mps / GRAVITY_MPS2;
    return (struct grown){.height_m = height * metres,
                          .period_s = period * wind_mps / GRAVITY_MPS2,
                          .fetch_m = least(fetch.all, FETCH_FULL) * metres};
}

struct wave_system growth_wind_sea(double wind_mps, double wind_from_deg,
                                   double fetch_m, double duration_s) {
    assert(wind_mps >= 0.0 && fetch_m > 0.0 && duration_s > 0.0);
    struct wave_system sea = {.known = true, .from_deg = wind_from_deg};
    if (wind_mps <= 0.0)
        return sea;
    struct fetch fetch = fetch_of_time(GRAVITY_MPS2 * duration_s / wind_mps);
    double limit = GRAVITY_MPS2 * fetch_m / (wind_mps * wind_mps);
    if (limit < fetch.all)
        fetch = (struct fetch){limit, cbrt(limit)};
    struct grown grown = grown_by(wind_mps, fetch);
    sea.height_m = grown.height_m;
    sea.period_s = grown.period_s;
    return sea;
}

double growth_full_height_m(double wind_mps) {
    return HEIGHT_FULL * wind_mps * wind_mps / GRAVITY_MPS2;
}

double growth_time_s(double wind_mps, double height_m) {
    assert(wind_mps > 0.0);
    double height = GRAVITY_MPS2 * height_m / (wind_mps * wind_mps);
    double root = least(height, HEIGHT_FULL) * (1.0 / HEIGHT_PER_FETCH);
    double fetch_root3 = cbrt(root * root);
    return DURATION_PER_FETCH * fetch_root3 * fetch_root3 * wind_mps /
           GRAVITY_MPS2;
}

struct grown growth_after(double wind_mps, double seconds) {
    assert(wind_mps > 0.0 && seconds >= 0.0);
    return grown_by(wind_mps, fetch_of_time(GRAVITY_MPS2 * seconds / wind_mps));
}
