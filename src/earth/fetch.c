#include "earth/fetch.h"

#include "base/once.h"

#include <math.h>
#include <stdint.h>

/* Spacing of the points; doubled until there are no more than so many. */
static const double FINE_DEG = 0.1;
static const double POINTS_MOST = 4e5;

/* Points of the coarse raster for each of the fine one, along a side. */
enum { COARSE = 4 };

/* With land nearer than this, to a corner of a coarse cell, the fine raster is
 * asked: twice the width of such a cell. */
static const float NEAR_M = 90e3F;

/* What a ray holds that meets no land: twice FETCH_FAR_M, so that it limits
 * nothing when it is projected, and half of it is half way. */
static const float OPEN_M = 2e6F;

/* A ray is followed in steps of this, and of a part of the way so far. */
static const double STEP_M = 2500.0;
static const double STEP_FRAC = 0.05;

static const double DEGREE_M = 111195.0; /* of latitude, on the sphere */

/* Some ray meets land; one of them within NEAR_M; none; the point is on land.
 */
enum made { MADE_FAR = ONCE_MADE, MADE_NEAR, MADE_OPEN, MADE_LAND };

struct raster {
    double step_deg;
    size_t rows, columns;
    struct fetch_fan *fans;  /* row by row from the south */
    _Atomic uint8_t *states; /* enum made, once it is */
};

struct fetch {
    const struct sea_mask *mask;
    struct coast_box box;
    float east[FETCH_RAYS], north[FETCH_RAYS]; /* where the rays go */
    struct raster fine, coarse;
};

static struct raster raster_of(const struct coast_box *box, double step_deg,
                               struct arena *arena) {
    double height_deg = box->north_deg - box->south_deg;
    double width_deg = box->east_deg - box->west_deg;
    struct raster raster = {.step_deg = step_deg,
                            .rows = (size_t)(height_deg / step_deg) + 2,
                            .columns = (size_t)(width_deg / step_deg) + 2};
    size_t points = raster.rows * raster.columns;
    raster.fans = arena_alloc(arena, points, sizeof *raster.fans);
    raster.states = arena_alloc(arena, points, sizeof *raster.states);
    return raster;
}

static void lay_ray(struct fetch *fetch, int ray) {
    double sine, cosine;
    sincos_deg(ray * (360.0 / FETCH_RAYS), &sine, &cosine);
    fetch->east[ray] = (float)sine;
    fetch->north[ray] = (float)cosine;
}

const struct fetch *fetch_make(const struct sea_mask *mask,
                               const struct coast_box *box,
                               struct arena *arena) {
    struct fetch *fetch = arena_alloc(arena, 1, sizeof *fetch);
    *fetch = (struct fetch){.mask = mask, .box = *box};
    double step_deg = FINE_DEG;
    double area = (box->north_deg - box->south_deg + 1.0) *
                  (box->east_deg - box->west_deg + 1.0);
    while (area / (step_deg * step_deg) > POINTS_MOST)
        step_deg *= 2.0;
    for (int i = 0; i < FETCH_RAYS; i++)
        lay_ray(fetch, i);
    fetch->fine = raster_of(box, step_deg, arena);
    fetch->coarse = raster_of(box, COARSE * step_deg, arena);
    return fetch;
}

/* --- the rays of a point ----------------------------------------------------
 */

/* Degrees from the south-west corner of the box. */
struct spot {
    double north_deg, east_deg;
};

enum water { WATER_SEA, WATER_LAND, WATER_UNKNOWN };

static enum water water_at(const struct fetch *fetch, struct spot spot) {
    const struct coast_box *box = &fetch->box;
    double height_deg = box->north_deg - box->south_deg;
    double width_deg = box->east_deg - box->west_deg;
    if (!(spot.north_deg >= 0.0 && spot.north_deg <= height_deg &&
          spot.east_deg >= 0.0 && spot.east_deg <= width_deg))
        return WATER_UNKNOWN;
    struct position at = {box->south_deg + spot.north_deg,
                          angle_wrap_longitude(box->west_deg + spot.east_deg)};
    return sea_mask_is_about_sea(fetch->mask, at) ? WATER_SEA : WATER_LAND;
}

/* On a flat chart round the point: the scale of its latitude holds. */
static float ray_m(const struct fetch *fetch, struct spot spot, int ray) {
    double lat_deg = fetch->box.south_deg + spot.north_deg;
    double narrow = fmax(cos(lat_deg * RADIANS_PER_DEGREE), 0.01);
    double east_deg = (double)fetch->east[ray] / (DEGREE_M * narrow);
    double north_deg = (double)fetch->north[ray] / DEGREE_M;
    double way_m = 0.0;
    while (way_m < FETCH_FAR_M) {
        double step_m = fmax(STEP_M, STEP_FRAC * way_m);
        spot.north_deg += step_m * north_deg;
        spot.east_deg += step_m * east_deg;
        enum water water = water_at(fetch, spot);
        if (water == WATER_LAND)
            return (float)(way_m + 0.5 * step_m);
        if (water == WATER_UNKNOWN)
            return OPEN_M;
        way_m += step_m;
    }
    return OPEN_M;
}

static enum made fill(const struct fetch *fetch, struct spot spot,
                      struct fetch_fan *fan) {
    float least_m = OPEN_M;
    if (water_at(fetch, spot) == WATER_LAND)
        return MADE_LAND;
    for (int i = 0; i < FETCH_RAYS; i++) {
        fan->ray_m[i] = ray_m(fetch, spot, i);
        least_m = fminf(least_m, fan->ray_m[i]);
    }
    if (least_m < NEAR_M)
        return MADE_NEAR;
    return least_m < OPEN_M ? MADE_FAR : MADE_OPEN;
}

static enum made made_at(const struct fetch *fetch, const struct raster *raster,
                         size_t row, size_t column) {
    size_t point = row * raster->columns + column;
    _Atomic uint8_t *state = &raster->states[point];
    if (once_begin(state)) {
        struct spot spot = {(double)row * raster->step_deg,
                            (double)column * raster->step_deg};
        once_end(state, (uint8_t)fill(fetch, spot, &raster->fans[point]));
    }
    return (enum made)once_made(state);
}

/* --- between points ---------------------------------------------------------
 */

/* The corners of a cell, and how much each counts at a place. */
struct corners {
    const struct fetch_fan *fan[4];
    enum made made[4];
    float weight[4];
};

static struct corners corners_at(const struct fetch *fetch,
                                 const struct raster *raster,
                                 struct spot spot) {
    struct corners corners;
    double north = spot.north_deg / raster->step_deg;
    double east = spot.east_deg / raster->step_deg;
    size_t row = (size_t)north, column = (size_t)east;
    double up = north - (double)row, aside = east - (double)column;
    for (size_t i = 0; i < 4; i++) {
        size_t y = row + i / 2, x = column + i % 2;
        corners.fan[i] = &raster->fans[y * raster->columns + x];
        corners.made[i] = made_at(fetch, raster, y, x);
        corners.weight[i] =
            (float)((i / 2 ? up : 1.0 - up) * (i % 2 ? aside : 1.0 - aside));
    }
    return corners;
}

static int count_of(const struct corners *corners, enum made made) {
    int count = 0;
    for (int i = 0; i < 4; i++)
        count += corners->made[i] == made;
    return count;
}

/* Points on land drop out where there are others. */
static void blend(struct corners *corners, struct fetch_fan *fan) {
    float all = 0.0F;
    for (int i = 0; i < 4; i++) {
        if (corners->made[i] == MADE_LAND)
            corners->weight[i] = 0.0F;
        all += corners->weight[i];
    }
    for (int k = 0; k < FETCH_RAYS; k++)
        fan->ray_m[k] = 0.0F;
    for (int i = 0; i < 4 && all > 0.0F; i++) {
        float weight = corners->weight[i] / all;
        for (int k = 0; k < FETCH_RAYS; k++)
            fan->ray_m[k] += weight * corners->fan[i]->ray_m[k];
    }
}

bool fetch_fan_at(const struct fetch *fetch, struct position at,
                  struct fetch_fan *fan) {
    const struct coast_box *box = &fetch->box;
    double lon_deg =
        at.lon_deg < box->west_deg ? at.lon_deg + 360.0 : at.lon_deg;
    struct spot spot = {at.lat_deg - box->south_deg, lon_deg - box->west_deg};
    if (water_at(fetch, spot) == WATER_UNKNOWN)
        return false;
    struct corners corners = corners_at(fetch, &fetch->coarse, spot);
    if (count_of(&corners, MADE_OPEN) == 4)
        return false;
    if (count_of(&corners, MADE_NEAR) + count_of(&corners, MADE_LAND) > 0)
        corners = corners_at(fetch, &fetch->fine, spot);
    blend(&corners, fan);
    return true;
}

/* The squared cosines of the rays before the wind add up to a quarter of the
 * number of rays, wherever it comes from. */
double fetch_effective_m(const struct fetch *fetch, const struct fetch_fan *fan,
                         struct vector_mps from, double open_m) {
    float sum_m = 0.0F, most_m = (float)open_m;
    float wind_east = (float)from.east, wind_north = (float)from.north;
    for (int i = 0; i < FETCH_RAYS; i++) {
        float cosine =
            wind_east * fetch->east[i] + wind_north * fetch->north[i];
        float along_m = cosine * fan->ray_m[i];
        along_m = along_m < most_m ? along_m : most_m;
        cosine = cosine > 0.0F ? cosine : 0.0F;
        sum_m += cosine * cosine * along_m;
    }
    double effective_m = (double)sum_m * (4.0 / FETCH_RAYS);
    return fmin(fmax(effective_m, FETCH_LEAST_M), open_m);
}
