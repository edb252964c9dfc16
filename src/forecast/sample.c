#include "forecast/sample.h"

#include "forecast/tile.h"
#include <math.h>

enum {
    CORNERS = 4,
    /* whole groups of channels are written */
    ANSWER_SIZE = CHANNEL_COUNT + TILE_CHANNELS
};

/* Weights smaller than this are none. */
static const double WEIGHT_LEAST = 1e-9;
/* A mean direction shorter than this part of its parts points nowhere. */
static const double OPPOSED_FRAC = 1e-4;

/* The two steps round an instant, as slabs of cells. */
struct moment {
    size_t slab[2];
    double part; /* of the way from the first to the second */
    bool coarse;
};

/* The eight points round a place and instant; first step first. */
struct neighbours {
    const float *values[2 * CORNERS];
    const uint32_t *known[2 * CORNERS];
    double weight[2 * CORNERS]; /* in space and time, sum is 1 */
    double part;
    bool whole; /* in tiles where all is known */
};

/* What one block has to say. */
struct answer {
    uint32_t known, single; /* a bit per channel of the block */
    double values[ANSWER_SIZE];
};

static enum coverage hold(const struct block *block, size_t step,
                          struct moment *moment) {
    if (step + 1 == block->axis.count)
        step--;
    if (block->slab[step] < 0)
        return COVERAGE_HOLE;
    moment->slab[0] = moment->slab[1] = (size_t)block->slab[step];
    moment->part = 0.0;
    moment->coarse = block->coarse[step];
    return COVERAGE_INSIDE;
}

/* A gap too long has no value inside, but at its ends it has. */
static bool is_in_gap(const struct axis *axis, size_t step, double unix_s,
                      double gap_limit_s, double *part) {
    double before_s = unix_s - axis->unix_s[step];
    double after_s = axis->unix_s[step + 1] - unix_s;
    if (before_s + after_s <= gap_limit_s)
        return false;
    if (before_s > AXIS_SLACK_S && after_s > AXIS_SLACK_S)
        return true;
    *part = before_s > AXIS_SLACK_S ? 1.0 : 0.0;
    return false;
}

static enum coverage find_moment(const struct block *block, double unix_s,
                                 double gap_limit_s, struct moment *moment) {
    size_t step;
    *moment = (struct moment){0};
    switch (axis_find(&block->axis, unix_s, &step, &moment->part)) {
    case AXIS_BEFORE:
        return COVERAGE_BEFORE;
    case AXIS_AFTER:
        return COVERAGE_AFTER;
    case AXIS_BETWEEN:
        break;
    }
    if (block->holds)
        return hold(block, step, moment);
    moment->slab[0] = moment->slab[1] = step;
    if (moment->part > 0.0) {
        moment->slab[1] = step + 1;
        if (is_in_gap(&block->axis, step, unix_s, gap_limit_s, &moment->part))
            return COVERAGE_HOLE;
    }
    return COVERAGE_INSIDE;
}

static void find_neighbours(const struct block *block,
                            const struct grid_cell *cell,
                            const struct moment *moment,
                            struct neighbours *neighbours) {
    static const size_t corner_at[CORNERS] = {0, 1, TILE_SIDE, TILE_SIDE + 1};
    unsigned column = (unsigned)cell->column, row = (unsigned)cell->row;
    size_t tile = (size_t)(row / TILE_CELLS) * (size_t)block->tiles->columns +
                  column / TILE_CELLS;
    size_t inside = row % TILE_CELLS * TILE_SIDE + column % TILE_CELLS;
    size_t stride = block->tiles->stride;
    double share[2] = {1.0 - moment->part, moment->part};
    neighbours->part = moment->part;
    neighbours->whole = true;
    for (int time = 0; time < 2; time++) {
        struct tile at = tile_at(block, moment->slab[time], tile);
        neighbours->whole &= at.whole;
        for (int i = 0; i < CORNERS; i++) {
            int k = time * CORNERS + i;
            size_t point = inside + corner_at[i];
            neighbours->values[k] = at.values + point * stride;
            neighbours->known[k] = at.known + point;
            neighbours->weight[k] = cell->weight[i] * share[time];
        }
    }
}

/* --- everything is known: the common case ---------------------------------*/

static bool all_known(const struct neighbours *neighbours, uint32_t channels) {
    uint32_t known = channels;
    if (neighbours->whole)
        return true;
    for (int i = 0; i < 2 * CORNERS; i++)
        known &= *neighbours->known[i];
    return known == channels;
}

/* So many channels at a time that compilers keep the sums in registers. */
static void blend_all(const struct neighbours *neighbours, int channels,
                      double *values) {
    for (int channel = 0; channel < channels; channel += TILE_CHANNELS) {
        double sum[TILE_CHANNELS] = {0.0, 0.0, 0.0, 0.0};
        for (int i = 0; i < 2 * CORNERS; i++) {
            const float *value = neighbours->values[i] + channel;
            for (int k = 0; k < TILE_CHANNELS; k++)
                sum[k] += neighbours->weight[i] * (double)value[k];
        }
        for (int k = 0; k < TILE_CHANNELS; k++)
            values[channel + k] = sum[k];
    }
}

/* --- corners are masked ---------------------------------------------------*/

struct mean {
    double value;
    int corners;
};

/* Mean of the corners that are known at one step, weights renormalised. */
static struct mean mean_at(const struct neighbours *neighbours, int time,
                           int channel) {
    double sum = 0.0, weights = 0.0;
    int corners = 0;
    for (int corner = 0; corner < CORNERS; corner++) {
        int k = time * CORNERS + corner;
        /* of the place alone: the part in time is the same for all four */
        double weight =
            neighbours->weight[corner] + neighbours->weight[corner + CORNERS];
        if (!(*neighbours->known[k] >> channel & 1))
            continue;
        sum += weight * (double)neighbours->values[k][channel];
        weights += weight;
        corners++;
    }
    if (weights < WEIGHT_LEAST)
        return (struct mean){0};
    return (struct mean){.value = sum / weights, .corners = corners};
}

/* Known at both steps: between them. Known at one: that one, if it is the
 * nearer. */
static struct mean blend_known(const struct neighbours *neighbours,
                               int channel) {
    struct mean before = mean_at(neighbours, 0, channel);
    struct mean after = mean_at(neighbours, 1, channel);
    if (before.corners > 0 && after.corners > 0)
        return (struct mean){
            .value =
                before.value + neighbours->part * (after.value - before.value),
            .corners = before.corners < after.corners ? before.corners
                                                      : after.corners};
    return neighbours->part < 0.5 ? before : after;
}

static void blend_some(const struct neighbours *neighbours, int channels,
                       struct answer *answer) {
    answer->known = 0;
    for (int channel = 0; channel < channels; channel++) {
        struct mean mean = blend_known(neighbours, channel);
        answer->values[channel] = mean.value;
        if (mean.corners > 0)
            answer->known |= 1U << channel;
        if (mean.corners == 1)
            answer->single |= 1U << channel;
    }
}

/* --- directions that cancel out ------------------------------------------ */

/* Where the corners' directions are opposed, their mean points nowhere: the
 * nearest corner in space and time decides. `channel` is the east one. */
static void settle_direction(const struct neighbours *neighbours, int channel,
                             double *values) {
    double east = values[channel], north = values[channel + 1];
    double length2 = east * east + north * north;
    double lengths = 0.0, greatest = -1.0;
    if (length2 > 1e-3)
        return;
    for (int i = 0; i < 2 * CORNERS; i++) {
        const float *value = neighbours->values[i] + channel;
        double weight = neighbours->weight[i];
        if (!(*neighbours->known[i] >> channel & 1))
            continue;
        double x = (double)value[0], y = (double)value[1];
        lengths += weight * sqrt(x * x + y * y);
        if (weight > greatest) {
            greatest = weight;
            east = x;
            north = y;
        }
    }
    if (length2 > OPPOSED_FRAC * OPPOSED_FRAC * lengths * lengths)
        return;
    values[channel] = east;
    values[channel + 1] = north;
}

/* --- all together ---------------------------------------------------------*/

/* Hands over what is not yet known. */
static void hand_over(const struct block *block, const struct answer *answer,
                      struct sample *sample) {
    for (int i = 0; i < block->channel_count; i++) {
        uint32_t bit = 1U << block->channel[i];
        if (!(answer->known >> i & 1) || (sample->known & bit))
            continue;
        sample->known |= bit;
        if (answer->single >> i & 1)
            sample->single |= bit;
        sample->value[block->channel[i]] = answer->values[i];
    }
}

enum coverage block_sample(const struct block *block, struct position position,
                           double unix_s, double gap_limit_s,
                           struct sample *sample) {
    struct grid_cell cell;
    struct moment moment;
    struct neighbours neighbours;
    struct answer answer;
    uint32_t before = sample->known;
    answer.known = block_all(block);
    answer.single = 0;
    if (!grid_find(&block->grid, position, &cell))
        return COVERAGE_OUTSIDE_AREA;
    enum coverage coverage = find_moment(block, unix_s, gap_limit_s, &moment);
    if (coverage != COVERAGE_INSIDE)
        return coverage;
    find_neighbours(block, &cell, &moment, &neighbours);
    if (all_known(&neighbours, answer.known))
        blend_all(&neighbours, block->channel_count, answer.values);
    else
        blend_some(&neighbours, block->channel_count, &answer);
    for (int i = 0; i < block->stream_count; i++) {
        const struct stream *stream = &block->streams[i];
        if (stream->is_direction && (answer.known >> stream->channel & 1))
            settle_direction(&neighbours, stream->channel, answer.values);
    }
    hand_over(block, &answer, sample);
    if (block->holds && sample->known != before)
        sample->coarse = moment.coarse;
    return answer.known ? COVERAGE_INSIDE : COVERAGE_OUTSIDE_AREA;
}

/* --- one point alone ------------------------------------------------------*/

static const struct stream *stream_of(const struct block *block,
                                      enum channel channel) {
    for (int i = 0; i < block->stream_count; i++)
        if (block->channel[block->streams[i].channel] == channel)
            return &block->streams[i];
    return NULL;
}

static struct run nearest_point(const struct block *block,
                                const struct grid_cell *cell) {
    int nearest = 0;
    for (int i = 1; i < CORNERS; i++)
        if (cell->weight[i] > cell->weight[nearest])
            nearest = i;
    size_t point = grid_corner(&block->grid, cell, nearest);
    size_t columns = (size_t)block->grid.ni;
    return (struct run){(int)(point / columns), (int)(point % columns), 1};
}

static bool value_between(const struct block *block,
                          const struct stream *stream, struct run point,
                          const struct moment *moment, double *value) {
    float at[2];
    uint8_t known[2];
    feed_row(&stream->feeds[moment->slab[0]], &block->grid, point, &at[0],
             &known[0]);
    *value = (double)at[0];
    if (moment->part <= 0.0)
        return known[0];
    feed_row(&stream->feeds[moment->slab[1]], &block->grid, point, &at[1],
             &known[1]);
    *value += moment->part * ((double)at[1] - (double)at[0]);
    return known[0] && known[1];
}

bool block_point_wind(const struct block *block, struct position position,
                      double unix_s, double gap_limit_s,
                      struct vector_mps *wind) {
    const struct stream *east = stream_of(block, CHANNEL_WIND_EAST);
    const struct stream *north = stream_of(block, CHANNEL_WIND_NORTH);
    struct grid_cell cell;
    struct moment moment;
    if (!east || !north || !grid_find(&block->grid, position, &cell) ||
        find_moment(block, unix_s, gap_limit_s, &moment) != COVERAGE_INSIDE)
        return false;
    struct run point = nearest_point(block, &cell);
    return value_between(block, east, point, &moment, &wind->east) &&
           value_between(block, north, point, &moment, &wind->north);
}
