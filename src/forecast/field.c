#include "forecast/field.h"

#include "forecast/tile.h"
#include <math.h>
#include <stdlib.h>

enum { TRACKS_LIMIT = CHANNEL_COUNT };

/* Layers of one quantity, part and grid, in order of time. */
struct track {
    const struct layer *layers;
    size_t count;
    struct axis axis; /* not of intervals */
};

struct tracks {
    struct track *items;
    size_t count, capacity;
};

/* Tracks that share grid and times: one block to be. */
struct bundle {
    const struct track *tracks[TRACKS_LIMIT];
    int count;
};

/* --- tracks ---------------------------------------------------------------*/

static bool is_same_track(const struct layer *a, const struct layer *b) {
    return a->quantity == b->quantity && a->part == b->part &&
           a->grid == b->grid && a->validity.interval == b->validity.interval;
}

static struct axis track_axis(const struct layer *layers, size_t count,
                              struct arena *arena) {
    double *unix_s = arena_alloc(arena, count, sizeof *unix_s);
    for (size_t i = 0; i < count; i++)
        unix_s[i] = (double)layers[i].validity.end.unix_s;
    return axis_make(unix_s, count, arena);
}

static struct tracks find_tracks(const struct layers *layers,
                                 struct arena *arena) {
    struct tracks tracks = {0};
    for (size_t first = 0, next; first < layers->count; first = next) {
        const struct layer *layer = &layers->items[first];
        next = first + 1;
        while (next < layers->count &&
               is_same_track(layer, &layers->items[next]))
            next++;
        struct track track = {.layers = layer, .count = next - first};
        if (!layer->validity.interval)
            track.axis = track_axis(layer, track.count, arena);
        tracks.items = arena_room(arena, tracks.items, tracks.count,
                                  &tracks.capacity, sizeof *tracks.items);
        tracks.items[tracks.count++] = track;
    }
    return tracks;
}

/* --- channels -------------------------------------------------------------*/

/* First channel of a track, and how many it fills. */
static int track_channel(const struct layer *layer, int *count) {
    bool north = layer->part == PART_NORTH;
    *count = 1;
    switch (layer->quantity) {
    case QUANTITY_WIND:
        return north ? CHANNEL_WIND_NORTH : CHANNEL_WIND_EAST;
    case QUANTITY_GUST:
        return CHANNEL_GUST;
    case QUANTITY_PRESSURE:
        return CHANNEL_PRESSURE;
    case QUANTITY_CURRENT:
        return north ? CHANNEL_CURRENT_NORTH : CHANNEL_CURRENT_EAST;
    case QUANTITY_SEA:
    case QUANTITY_WIND_SEA:
    case QUANTITY_SWELL_1:
    case QUANTITY_SWELL_2:
    case QUANTITY_SWELL_3:
    case QUANTITY_COUNT:
        break;
    }
    if (layer->part == PART_DIRECTION) {
        *count = 2;
        return wave_channel(layer->quantity) + (int)WAVE_EAST;
    }
    return wave_channel(layer->quantity) +
           (int)(layer->part == PART_PERIOD ? WAVE_PERIOD : WAVE_HEIGHT);
}

/* --- streams --------------------------------------------------------------*/

static const struct layer *layer_at(const struct track *track,
                                    struct instant instant) {
    for (size_t i = 0; i < track->count; i++) {
        if (track->layers[i].validity.end.unix_s == instant.unix_s)
            return &track->layers[i];
    }
    return NULL;
}

/* Heights of the same waves on the same grid, or NULL. */
static const struct track *find_heights(const struct tracks *tracks,
                                        const struct track *directions) {
    const struct layer *wanted = directions->layers;
    for (size_t i = 0; i < tracks->count; i++) {
        const struct track *track = &tracks->items[i];
        const struct layer *layer = track->layers;
        if (layer->quantity == wanted->quantity && layer->part == PART_HEIGHT &&
            layer->grid == wanted->grid)
            return track;
    }
    return NULL;
}

struct feed feed_of(const struct layer *layer) {
    return (struct feed){layer->values, layer->known, layer->packed};
}

void feed_row(const struct feed *feed, const struct grid *grid, struct run run,
              float *values, uint8_t *known) {
    if (!feed->values) {
        packed_row(feed->packed, run.row, run.column, run.count, values, known);
        return;
    }
    size_t at = (size_t)run.row * (size_t)grid->ni + (size_t)run.column;
    for (size_t i = 0; i < (size_t)run.count; i++) {
        values[i] = feed->values[at + i];
        known[i] = !feed->known || feed->known[at + i];
    }
}

static const struct feed *feeds_of(const struct track *track,
                                   struct arena *arena) {
    struct feed *feeds = arena_alloc(arena, track->count, sizeof *feeds);
    for (size_t i = 0; i < track->count; i++)
        feeds[i] = feed_of(&track->layers[i]);
    return feeds;
}

/* The heights that belong to the steps of a direction; NULL where one is not
 * there. */
static const struct feed *weights_of(const struct track *directions,
                                     const struct tracks *tracks,
                                     struct arena *arena) {
    const struct track *heights = find_heights(tracks, directions);
    if (!heights)
        return NULL;
    struct feed *feeds = arena_alloc(arena, directions->count, sizeof *feeds);
    for (size_t i = 0; i < directions->count; i++) {
        const struct layer *layer =
            layer_at(heights, directions->layers[i].validity.end);
        if (!layer)
            return NULL;
        feeds[i] = feed_of(layer);
    }
    return feeds;
}

/* --- blocks ---------------------------------------------------------------*/

static void note_run(struct block *block, const struct track *track,
                     bool first) {
    for (size_t i = 0; i < track->count; i++) {
        struct instant run = track->layers[i].run;
        if (first || run.unix_s > block->newest_run.unix_s)
            block->newest_run = run;
        if (first || run.unix_s < block->oldest_run.unix_s)
            block->oldest_run = run;
        first = false;
    }
}

static void add_stream(struct block *block, const struct track *track,
                       const struct tracks *tracks, double turn_deg,
                       struct arena *arena) {
    int count;
    int channel = track_channel(track->layers, &count);
    struct stream *stream = &block->streams[block->stream_count++];
    *stream = (struct stream){.channel = block->channel_count,
                              .is_direction = count == 2,
                              .turn_deg = turn_deg,
                              .feeds = feeds_of(track, arena)};
    if (stream->is_direction)
        stream->weight = weights_of(track, tracks, arena);
    for (int i = 0; i < count; i++) {
        block->channel[block->channel_count++] = (uint8_t)(channel + i);
        block->channels |= 1U << (channel + i);
    }
}

static struct block bundle_block(const struct bundle *bundle,
                                 const struct layers *layers,
                                 const struct tracks *tracks, double turn_deg,
                                 struct arena *arena) {
    const struct track *lead = bundle->tracks[0];
    struct block block = {.grid = layers->grids[lead->layers->grid],
                          .axis = lead->axis};
    for (int i = 0; i < bundle->count; i++) {
        add_stream(&block, bundle->tracks[i], tracks, turn_deg, arena);
        note_run(&block, bundle->tracks[i], i == 0);
    }
    block.tiles =
        tiles_make(&block.grid, lead->count, block.channel_count, arena);
    return block;
}

static void add_block(struct blocks *blocks, struct block block,
                      struct arena *arena) {
    blocks->items = arena_room(arena, blocks->items, blocks->count,
                               &blocks->capacity, sizeof *blocks->items);
    blocks->items[blocks->count++] = block;
}

static bool belongs(const struct bundle *bundle, const struct track *track) {
    const struct track *lead = bundle->tracks[0];
    return lead->layers->grid == track->layers->grid &&
           axis_same(&lead->axis, &track->axis);
}

/* Every track of instants goes into the block of its grid and times. */
static void add_instants(struct blocks *blocks, const struct layers *layers,
                         const struct tracks *tracks, double turn_deg,
                         struct arena *arena) {
    bool *done = arena_alloc(arena, tracks->count + 1, sizeof *done);
    for (size_t i = 0; i < tracks->count; i++) {
        struct bundle bundle = {0};
        for (size_t k = i; k < tracks->count; k++) {
            const struct track *track = &tracks->items[k];
            if (done[k] || track->layers->validity.interval ||
                (bundle.count > 0 && !belongs(&bundle, track)))
                continue;
            bundle.tracks[bundle.count++] = track;
            done[k] = true;
        }
        if (bundle.count > 0)
            add_block(blocks,
                      bundle_block(&bundle, layers, tracks, turn_deg, arena),
                      arena);
    }
}

/* --- intervals ------------------------------------------------------------*/

static int by_number(const void *left, const void *right) {
    double a = *(const double *)left, b = *(const double *)right;
    return (a > b) - (a < b);
}

/* Starts and ends of all intervals, each once. */
static struct axis breakpoints(const struct track *track, struct arena *arena) {
    double *unix_s = arena_alloc(arena, 2 * track->count, sizeof *unix_s);
    size_t count = 0;
    for (size_t i = 0; i < track->count; i++) {
        unix_s[2 * i] = (double)track->layers[i].validity.start.unix_s;
        unix_s[2 * i + 1] = (double)track->layers[i].validity.end.unix_s;
    }
    qsort(unix_s, 2 * track->count, sizeof *unix_s, by_number);
    for (size_t i = 0; i < 2 * track->count; i++) {
        if (count == 0 || unix_s[i] > unix_s[count - 1])
            unix_s[count++] = unix_s[i];
    }
    return axis_make(unix_s, count, arena);
}

static double interval_s(const struct layer *layer) {
    return instant_minus(layer->validity.end, layer->validity.start);
}

static bool is_covered(const struct layer *layer, double from_s, double to_s) {
    return (double)layer->validity.start.unix_s <= from_s &&
           (double)layer->validity.end.unix_s >= to_s;
}

/* Shorter, or as short and of a newer run. */
static bool is_sharper(const struct layer *a, const struct layer *b) {
    double longer = interval_s(a) - interval_s(b);
    return longer < 0.0 || (longer <= 0.0 && a->run.unix_s > b->run.unix_s);
}

/* The sharpest interval that covers all between two breakpoints; -1 where
 * there is none. */
static int32_t sharpest_cover(const struct track *track, double from_s,
                              double to_s) {
    int32_t best = -1;
    for (size_t i = 0; i < track->count; i++) {
        const struct layer *layer = &track->layers[i];
        if (is_covered(layer, from_s, to_s) &&
            (best < 0 || is_sharper(layer, &track->layers[best])))
            best = (int32_t)i;
    }
    return best;
}

static void cover_intervals(struct block *block, const struct track *track,
                            struct arena *arena) {
    size_t count = block->axis.count - 1;
    int32_t *slab = arena_alloc(arena, count, sizeof *slab);
    uint8_t *coarse = arena_alloc(arena, count, sizeof *coarse);
    double shortest_s = interval_s(track->layers);
    for (size_t i = 1; i < track->count; i++)
        shortest_s = fmin(shortest_s, interval_s(&track->layers[i]));
    for (size_t i = 0; i < count; i++) {
        slab[i] = sharpest_cover(track, block->axis.unix_s[i],
                                 block->axis.unix_s[i + 1]);
        coarse[i] =
            slab[i] >= 0 && interval_s(&track->layers[slab[i]]) > shortest_s;
    }
    block->slab = slab;
    block->coarse = coarse;
}

static void add_intervals(struct blocks *blocks, const struct layers *layers,
                          const struct tracks *tracks, struct arena *arena) {
    for (size_t i = 0; i < tracks->count; i++) {
        const struct track *track = &tracks->items[i];
        if (!track->layers->validity.interval)
            continue;
        struct bundle bundle = {.tracks = {track}, .count = 1};
        struct block block = bundle_block(&bundle, layers, tracks, 0.0, arena);
        block.holds = true;
        block.axis = breakpoints(track, arena);
        cover_intervals(&block, track, arena);
        add_block(blocks, block, arena);
    }
}

/* --- order ---------------------------------------------------------------- */

/* Spacings within 5 % of one another count as the same product: areas of one
 * model that were cut out differently. */
static int spacing_class(const struct grid *grid) {
    return (int)lround(log(grid->lat_step_deg * grid->lon_step_deg) / log(1.1));
}

/* Intervals before instants, fine before coarse, new before old. */
static int by_worth(const void *left, const void *right) {
    const struct block *a = left, *b = right;
    int fine_a = spacing_class(&a->grid), fine_b = spacing_class(&b->grid);
    if (a->holds != b->holds)
        return a->holds ? -1 : 1;
    if (fine_a != fine_b)
        return fine_a - fine_b;
    if (a->newest_run.unix_s != b->newest_run.unix_s)
        return a->newest_run.unix_s > b->newest_run.unix_s ? -1 : 1;
    if (a->channels != b->channels)
        return a->channels < b->channels ? -1 : 1;
    /* cut-outs of one model side by side */
    int south = (a->grid.south_deg > b->grid.south_deg) -
                (a->grid.south_deg < b->grid.south_deg);
    int west = (a->grid.west_deg > b->grid.west_deg) -
               (a->grid.west_deg < b->grid.west_deg);
    return south ? south : west;
}

struct blocks blocks_make(const struct layers *layers, bool waves_towards,
                          struct arena *arena) {
    struct blocks blocks = {0};
    struct tracks tracks = find_tracks(layers, arena);
    add_intervals(&blocks, layers, &tracks, arena);
    add_instants(&blocks, layers, &tracks, waves_towards ? 180.0 : 0.0, arena);
    if (blocks.count > 0)
        qsort(blocks.items, blocks.count, sizeof *blocks.items, by_worth);
    return blocks;
}
