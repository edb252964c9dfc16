/* What forecast/resample.c is made of; nobody else includes it. */
#ifndef FORECAST_RESAMPLE_PARTS_H
#define FORECAST_RESAMPLE_PARTS_H

#include "forecast/resample.h"

/* Make the grid and its blends out of rows of one latitude, and out of lines of
 * equal length. NULL, or why it can't be. */
const char *resample_rows(const struct outlay *outlay,
                          struct resampling *resampling);
const char *resample_lines(const struct outlay *outlay,
                           struct resampling *resampling);

/* Makes the grid coarser where it has more points than the limit, cuts it to
 * what is wanted, then asks for its blends, all 0. `span_lat_deg` and
 * `span_lon_deg` are what it covers. */
const char *resample_room(struct resampling *resampling, double span_lat_deg,
                          double span_lon_deg,
                          const struct grid_bounds *wanted);

/* Where a point stands in the message: `along` its line of `count` points that
 * starts at `start`. */
static inline uint32_t resample_index(size_t start, size_t count, size_t along,
                                      bool backwards) {
    return (uint32_t)(start + (backwards ? count - 1 - along : along));
}

#endif
