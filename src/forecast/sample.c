#include "forecast/sample.h"

#include "forecast/tile.h"
#include <math.h>

enum { CORNERS = 4 };

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

/* Cells of the eight points round a place and instant. */
struct neighbours {
    const union cell *at[2 * CORNERS]; /* of the flags; first step first */
    double weight[2 * CORNERS];        /* in space and time, sum is 1 */
    double part;
    bool whole; /* in tiles where all is known */
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
    size_t column = (size_t)cell->column, row = (size_t)cell->row;
    size_t tile =
        row / TILE_CELLS * (size_t)block->tiles->columns + column / TILE_CELLS;
    size_t stride = block->tiles->stride;
    size_t inside =
        (row % TILE_CELLS * TILE_SIDE + column % TILE_CELLS) * stride;
    double share[2] = {1.0 - moment->part, moment->part};
    neighbours->part = moment->part;
    neighbours->whole = true;
    for (int time = 0; time < 2; time++) {
        bool whole;
        const union cell *at =
            tile_at(block, moment->slab[time], tile, &whole) + inside;
        size_t first = (size_t)time * CORNERS;
        const union cell **corner = neighbours->at + first;
        double *weight = neighbours->weight + first;
        neighbours->whole &= whole;
        corner[0] = at;
        corner[1] = at + stride;
        corner[2] = at + TILE_SIDE * stride;
        corner[3] = corner[2] + stride;
        for (int i = 0; i < CORNERS; i++)
            weight[i] = cell->weight[i] * share[time];
    }
}

/* --- everything is known: the common case ---------------------------------*/

static bool all_known(const struct neighbours *neighbours, uint32_t channels) {
    uint32_t known = channels;
    if (neighbours->whole)
        return true;
    for (int i = 0; i < 2 * CORNERS; i++)
        known &= neighbours->at[i]->known;
    return known == channels;
}

/* Two channels at a time: two doubles fill a register. */
static void blend_all(const struct neighbours *neighbours, int channels,
                      double *values) {
    int channel = 0;
    for (; channel + 1 < channels; channel += 2) {
        double sum[2] = {0.0, 0.0};
        for (int i = 0; i < 2 * CORNERS; i++) {
            const union cell *cell = neighbours->at[i] + 1 + channel;
            for (int k = 0; k < 2; k++)
                sum[k] += neighbours->weight[i] * (double)cell[k].value;
        }
        for (int k = 0; k < 2; k++)
            values[channel + k] = sum[k];
    }
    if (channel == channels)
        return;
    double sum = 0.0;
    for (int i = 0; i < 2 * CORNERS; i++)
        sum += neighbours->weight[i] *
               (double)neighbours->at[i][1 + channel].value;
    values[channel] = sum;
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
        const union cell *cell = neighbours->at[time * CORNERS + corner];
        /* of the place alone: the part in time is the same for all four */
        double weight =
            neighbours->weight[corner] + neighbours->weight[corner + CORNERS];
        if (!(cell->known >> channel & 1))
            continue;
        sum += weight * (double)cell[channel + 1].value;
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

static uint32_t blend_some(const struct neighbours *neighbours, int channels,
                           double *values, uint32_t *single) {
    uint32_t known = 0;
    for (int channel = 0; channel < channels; channel++) {
        struct mean mean = blend_known(neighbours, channel);
        values[channel] = mean.value;
        if (mean.corners > 0)
            known |= 1U << channel;
        if (mean.corners == 1)
            *single |= 1U << channel;
    }
    return known;
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
        const union cell *cell = neighbours->at[i];
        double weight = neighbours->weight[i];
        if (!(cell->known >> channel & 1))
            continue;
        double x = (double)cell[channel + 1].value;
        double y = (double)cell[channel + 2].value;
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

static bool is_wave_east(int channel) {
    return channel >= CHANNEL_WAVES &&
           (channel - CHANNEL_WAVES) % WAVE_CHANNELS == WAVE_EAST;
}

/* --- all together ---------------------------------------------------------*/

/* Hands over what is not yet known. */
static void hand_over(const struct block *block, uint32_t known,
                      uint32_t single, const struct moment *moment,
                      const double *values, struct sample *sample) {
    for (int i = 0; i < block->channel_count; i++) {
        uint32_t bit = 1U << block->channel[i];
        if (!(known >> i & 1) || (sample->known & bit))
            continue;
        sample->known |= bit;
        if (single >> i & 1)
            sample->single |= bit;
        if (block->holds)
            sample->coarse = moment->coarse;
        sample->value[block->channel[i]] = values[i];
    }
}

enum coverage block_sample(const struct block *block, struct position position,
                           double unix_s, double gap_limit_s,
                           struct sample *sample) {
    struct grid_cell cell;
    struct moment moment;
    struct neighbours neighbours;
    double values[CHANNEL_COUNT];
    uint32_t all = block_all(block);
    uint32_t known = all, single = 0;
    if (!grid_find(&block->grid, position, &cell))
        return COVERAGE_OUTSIDE_AREA;
    enum coverage coverage = find_moment(block, unix_s, gap_limit_s, &moment);
    if (coverage != COVERAGE_INSIDE)
        return coverage;
    find_neighbours(block, &cell, &moment, &neighbours);
    if (all_known(&neighbours, all))
        blend_all(&neighbours, block->channel_count, values);
    else
        known = blend_some(&neighbours, block->channel_count, values, &single);
    for (int i = 0; i < block->channel_count; i++) {
        if (is_wave_east(block->channel[i]) && (known >> i & 1))
            settle_direction(&neighbours, i, values);
    }
    hand_over(block, known, single, &moment, values, sample);
    return known ? COVERAGE_INSIDE : COVERAGE_OUTSIDE_AREA;
}
