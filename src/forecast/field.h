/* Fields on a time axis, ready to be sampled.
 *
 * Layers of one grid and one set of valid times are put into one block, point
 * by point: all channels of a point lie side by side, so one sample touches
 * eight short stretches of memory. A word of flags beside them says which
 * channels are known there. The points are put there tile by tile, when a
 * sample asks for them (forecast/tile.h): a passage comes by few of them.
 *
 * A gust over an interval is a block of its own: it holds from one breakpoint
 * to the next and is not interpolated in time.
 */
#ifndef FORECAST_FIELD_H
#define FORECAST_FIELD_H

#include "forecast/axis.h"
#include "forecast/layer.h"
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum channel {
    CHANNEL_WIND_EAST,
    CHANNEL_WIND_NORTH,
    CHANNEL_GUST,
    CHANNEL_PRESSURE,
    CHANNEL_CURRENT_EAST,
    CHANNEL_CURRENT_NORTH,
    CHANNEL_WAVES, /* then WAVE_CHANNELS for the sea and each system */
    WAVE_SYSTEMS = QUANTITY_SWELL_3 - QUANTITY_SEA + 1,
    WAVE_HEIGHT = 0, /* offsets from the first channel of a system */
    WAVE_PERIOD,
    WAVE_EAST, /* where they come from, weighted by height squared */
    WAVE_NORTH,
    WAVE_CHANNELS,
    CHANNEL_COUNT = CHANNEL_WAVES + WAVE_SYSTEMS * WAVE_CHANNELS
};

/* First channel of a wave quantity. */
static inline int wave_channel(enum quantity quantity) {
    return (int)CHANNEL_WAVES +
           ((int)quantity - (int)QUANTITY_SEA) * (int)WAVE_CHANNELS;
}

/* The values of one layer. */
struct feed {
    const float *values; /* NULL: still packed */
    const uint8_t *known;
    const struct packed *packed;
};

struct feed feed_of(const struct layer *layer);

/* Points side by side along a row, from west to east, not over the seam. */
struct run {
    int row, column, count;
};

/* Their values; `known` is 1 where there is one. */
void feed_row(const struct feed *feed, const struct grid *grid, struct run run,
              float *values, uint8_t *known);

/* What fills one channel of a block, or two. */
struct stream {
    int channel;               /* of the block, the first one */
    bool is_direction;         /* becomes a vector, in two channels */
    double turn_deg;           /* added to a direction */
    const struct feed *feeds;  /* one for each slab */
    const struct feed *weight; /* heights for a direction; NULL: none */
};

struct block {
    struct grid grid;
    struct axis axis;
    int channel_count;
    uint8_t channel[CHANNEL_COUNT]; /* enum channel of each of ours */
    uint32_t channels;              /* the same as bits of enum channel */
    struct stream streams[CHANNEL_COUNT];
    int stream_count;
    struct tiles *tiles; /* the values, a slab of tiles for each step */
    /* of a block that holds over intervals, per breakpoint but the last */
    bool holds;
    const int32_t *slab;   /* which step's values; -1: none */
    const uint8_t *coarse; /* longer than the shortest interval there is */
    struct instant newest_run, oldest_run;
};

/* A bit for each channel of the block. */
static inline uint32_t block_all(const struct block *block) {
    return (uint32_t)((1ULL << block->channel_count) - 1);
}

/* Several blocks may hold one channel: the best comes first. */
struct blocks {
    struct block *items;
    size_t count, capacity;
};

/* `layers` as layers_from() gives them; the result lives in `arena` and as long
 * as the batch. `waves_towards` turns wave directions round. */
struct blocks blocks_make(const struct layers *layers, bool waves_towards,
                          struct arena *arena);

#endif
