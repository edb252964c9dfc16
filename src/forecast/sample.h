/* The weather of one block at a place and an instant: the inner loop of every
 * search. No memory is asked for, nothing is written but the sample. */
#ifndef FORECAST_SAMPLE_H
#define FORECAST_SAMPLE_H

#include "forecast/field.h"

struct sample {
    uint32_t known;  /* bit per enum channel */
    uint32_t single; /* one corner of the cell only had a value */
    bool coarse;     /* of a gust over an interval, see struct block */
    double value[CHANNEL_COUNT];
};

/* Adds to `sample` the channels that this block has and that are not yet
 * known there. Nothing is carried across a gap in time longer than
 * `gap_limit_s`. COVERAGE_OUTSIDE_AREA also where no corner is known. */
enum coverage block_sample(const struct block *block, struct position position,
                           double unix_s, double gap_limit_s,
                           struct sample *sample);

/* The wind of the nearest point of the grid, between the steps, read from its
 * layers: no tile is filled. False where block_sample() would find none. */
bool block_point_wind(const struct block *block, struct position position,
                      double unix_s, double gap_limit_s,
                      struct vector_mps *wind);

#endif
