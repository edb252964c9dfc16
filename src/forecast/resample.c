#include "forecast/resample_parts.h"

#include "earth/angle.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Weights of known corners that add up to less than this are none: rounding. */
static const double WEIGHT_LEAST = 1e-5;
/* Unit vectors that add up to less than this have no direction. */
static const double LENGTH_LEAST = 1e-6;

static int steps_in(double span_deg, double step_deg) {
    return (int)floor(span_deg / step_deg + 1e-6);
}

const char *resample_room(struct resampling *resampling, double span_lat_deg,
                          double span_lon_deg,
                          const struct grid_bounds *wanted) {
    struct grid *grid = &resampling->grid;
    double rows = span_lat_deg / grid->lat_step_deg + 1.0;
    double columns = span_lon_deg / grid->lon_step_deg + 1.0;
    double excess = rows * columns / (double)RESAMPLE_POINTS_LIMIT;
    if (!(excess < 1e6))
        return "points too close together";
    if (excess > 1.0) {
        grid->lat_step_deg *= sqrt(excess);
        grid->lon_step_deg *= sqrt(excess);
    }
    grid->nj = steps_in(span_lat_deg, grid->lat_step_deg) + 1;
    if (grid->wraps) {
        grid->ni = (int)ceil(360.0 / grid->lon_step_deg - 1e-6);
        grid->lon_step_deg = 360.0 / grid->ni;
    } else {
        grid->ni = steps_in(span_lon_deg, grid->lon_step_deg) + 1;
    }
    if (grid->ni < 2 || grid->nj < 2)
        return "fewer than 2 x 2 points";
    resampling->part = (struct grid_part){.whole = *grid};
    if (wanted)
        grid_cut(grid, wanted, &resampling->part);
    resampling->blends = calloc(grid_points(grid), sizeof *resampling->blends);
    return resampling->blends ? NULL : "more points than memory holds";
}

const char *resampling_make(const struct outlay *outlay,
                            struct resampling *resampling) {
    *resampling = (struct resampling){.source_points = outlay->count};
    const char *fault = outlay->inner > 0 ? resample_lines(outlay, resampling)
                                          : resample_rows(outlay, resampling);
    if (fault)
        resampling_free(resampling);
    return fault;
}

void resampling_free(struct resampling *resampling) {
    free(resampling->blends);
    *resampling = (struct resampling){0};
}

static bool blend_value(const struct blend *blend, struct written written,
                        float *value) {
    double sum = 0.0, weight = 0.0;
    for (int i = 0; i < 4; i++) {
        double part = (double)blend->weight[i];
        if (part > 0.0 && written.known[blend->point[i]]) {
            sum += part * (double)written.values[blend->point[i]];
            weight += part;
        }
    }
    bool known = weight > WEIGHT_LEAST;
    *value = known ? (float)(sum / weight) : 0.0F;
    return known;
}

static bool blend_direction(const struct blend *blend, struct written written,
                            float *value) {
    struct vector_mps sum = {0.0, 0.0};
    double weight = 0.0;
    for (int i = 0; i < 4; i++) {
        double part = (double)blend->weight[i];
        if (part > 0.0 && written.known[blend->point[i]]) {
            double deg = (double)written.values[blend->point[i]];
            sum = vector_plus(sum, vector_towards(deg, part));
            weight += part;
        }
    }
    bool known = weight > WEIGHT_LEAST && vector_length(sum) > LENGTH_LEAST;
    *value = known ? (float)vector_direction_towards(sum) : 0.0F;
    return known;
}

size_t resampling_apply(const struct resampling *resampling,
                        struct written written, float *values, uint8_t *known) {
    size_t points = grid_points(&resampling->grid), gone = 0;
    for (size_t i = 0; i < points; i++) {
        const struct blend *blend = &resampling->blends[i];
        known[i] = written.is_direction
                       ? blend_direction(blend, written, &values[i])
                       : blend_value(blend, written, &values[i]);
        gone += !known[i];
    }
    return gone;
}
