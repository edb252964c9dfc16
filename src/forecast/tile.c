#include "forecast/tile.h"

#include "earth/angle.h"
#include <math.h>
#include <sched.h>
#include <stdatomic.h>

/* A flat sea still has a direction: heights below this weigh as this one. */
static const float HEIGHT_LEAST_M = 0.01F;

/* A line of the processor's cache: seven channels fill half of one. */
enum { LINE_BYTES = 64, LINE_VALUES = LINE_BYTES / sizeof(float) };

enum state { TILE_EMPTY, TILE_BUSY, TILE_MASKED, TILE_WHOLE };

static size_t round_up(size_t count, size_t unit) {
    return (count + unit - 1) / unit * unit;
}

static size_t tiles_along(int cells) {
    return ((size_t)cells + TILE_CELLS - 1) / TILE_CELLS;
}

static float *on_line(float *values) {
    size_t beyond = (uintptr_t)values % LINE_BYTES;
    return beyond ? values + (LINE_BYTES - beyond) / sizeof *values : values;
}

/* Only those tiles that are filled take memory: until then it is no more than
 * asked for. */
struct tiles *tiles_make(const struct grid *grid, size_t slabs, int channels,
                         struct arena *arena) {
    struct tiles *tiles = arena_alloc(arena, 1, sizeof *tiles);
    int cells = grid->wraps ? grid->ni : grid->ni - 1;
    tiles->columns = (int)tiles_along(cells);
    tiles->per_slab = (size_t)tiles->columns * tiles_along(grid->nj - 1);
    tiles->stride = round_up((size_t)channels, TILE_CHANNELS);
    tiles->tile_stride = round_up(TILE_POINTS * tiles->stride, LINE_VALUES);
    size_t count = slabs * tiles->per_slab;
    tiles->state = arena_alloc(arena, count, sizeof *tiles->state);
    tiles->known =
        arena_alloc(arena, count * TILE_POINTS, sizeof *tiles->known);
    tiles->values =
        on_line(arena_alloc(arena, count * tiles->tile_stride + LINE_VALUES,
                            sizeof *tiles->values));
    return tiles;
}

/* --- filling ---------------------------------------------------------------*/

/* The points of a tile on the grid. */
struct patch {
    const struct grid *grid;
    int row, column;   /* of the south-west corner */
    int rows, columns; /* there are; the last column may be the first again */
};

static struct patch patch_of(const struct block *block, size_t tile) {
    const struct grid *grid = &block->grid;
    size_t columns = (size_t)block->tiles->columns;
    struct patch patch = {.grid = grid,
                          .row = (int)(tile / columns) * TILE_CELLS,
                          .column = (int)(tile % columns) * TILE_CELLS};
    int rows = grid->nj - patch.row;
    int across = grid->ni + (grid->wraps ? 1 : 0) - patch.column;
    patch.rows = rows < TILE_SIDE ? rows : TILE_SIDE;
    patch.columns = across < TILE_SIDE ? across : TILE_SIDE;
    return patch;
}

/* Values of one layer along one row of a tile. */
struct strip {
    float values[TILE_SIDE];
    uint8_t known[TILE_SIDE];
};

static void read_strip(const struct feed *feed, const struct patch *patch,
                       int row, struct strip *strip) {
    int before = patch->grid->ni - patch->column;
    int count = patch->columns < before ? patch->columns : before;
    feed_row(feed, patch->grid,
             (struct run){patch->row + row, patch->column, count},
             strip->values, strip->known);
    if (count < patch->columns)
        feed_row(feed, patch->grid,
                 (struct run){patch->row + row, 0, patch->columns - count},
                 strip->values + count, strip->known + count);
}

/* A row of a tile that is being filled. */
struct row {
    float *values;
    uint32_t *known;
    int count;
    size_t stride;
};

static void put(const struct row *row, int point, int channel, float value) {
    row->values[(size_t)point * row->stride + (size_t)channel] = value;
    row->known[point] |= 1U << channel;
}

static void put_plain(const struct row *row, int channel,
                      const struct strip *strip) {
    for (int i = 0; i < row->count; i++) {
        if (strip->known[i])
            put(row, i, channel, strip->values[i]);
    }
}

/* As a vector that points where the waves come from; `heights` may be NULL:
 * then all directions weigh the same. */
static void put_direction(const struct row *row, const struct stream *stream,
                          const struct strip *strip,
                          const struct strip *heights) {
    for (int i = 0; i < row->count; i++) {
        double sine, cosine;
        float weight = 1.0F;
        if (!strip->known[i] || (heights && !heights->known[i]))
            continue;
        if (heights) {
            weight = fmaxf(heights->values[i], HEIGHT_LEAST_M);
            weight *= weight;
        }
        sincos_deg((double)strip->values[i] + stream->turn_deg, &sine, &cosine);
        put(row, i, stream->channel, weight * (float)sine);
        put(row, i, stream->channel + 1, weight * (float)cosine);
    }
}

/* What is written while a tile is filled. */
struct draft {
    const struct block *block;
    size_t slab;
    struct patch patch;
    float *values;
    uint32_t *known;
};

static void fill_stream(const struct draft *draft,
                        const struct stream *stream) {
    const struct patch *patch = &draft->patch;
    size_t slab = draft->slab;
    struct row row = {.values = draft->values,
                      .known = draft->known,
                      .count = patch->columns,
                      .stride = draft->block->tiles->stride};
    for (int i = 0; i < patch->rows; i++) {
        struct strip strip, heights;
        read_strip(&stream->feeds[slab], patch, i, &strip);
        if (stream->weight)
            read_strip(&stream->weight[slab], patch, i, &heights);
        if (stream->is_direction)
            put_direction(&row, stream, &strip,
                          stream->weight ? &heights : NULL);
        else
            put_plain(&row, stream->channel, &strip);
        row.values += TILE_SIDE * row.stride;
        row.known += TILE_SIDE;
    }
}

/* Flags of both parts of each vector that the block has: u comes before v. */
static int vectors_of(const struct block *block, uint32_t flags[2]) {
    int count = 0;
    for (int i = 0; i + 1 < block->channel_count; i++) {
        if (block->channel[i] == CHANNEL_WIND_EAST ||
            block->channel[i] == CHANNEL_CURRENT_EAST)
            flags[count++] = 3U << i;
    }
    return count;
}

/* Is all known? Of a vector half known, nothing is. */
static bool settle(const struct draft *draft) {
    uint32_t vectors[2];
    int count = vectors_of(draft->block, vectors);
    uint32_t all = block_all(draft->block);
    bool whole = true;
    for (int point = 0; point < TILE_POINTS; point++) {
        uint32_t *known = &draft->known[point];
        if (point / TILE_SIDE >= draft->patch.rows ||
            point % TILE_SIDE >= draft->patch.columns || *known == all)
            continue;
        for (int i = 0; i < count; i++) {
            if ((*known & vectors[i]) != vectors[i])
                *known &= ~vectors[i];
        }
        whole = false;
    }
    return whole;
}

static enum state fill(const struct block *block, size_t slab, size_t tile) {
    const struct tiles *tiles = block->tiles;
    size_t index = slab * tiles->per_slab + tile;
    struct draft draft = {.block = block,
                          .slab = slab,
                          .patch = patch_of(block, tile),
                          .values = tiles->values + index * tiles->tile_stride,
                          .known = tiles->known + index * TILE_POINTS};
    for (int i = 0; i < block->stream_count; i++)
        fill_stream(&draft, &block->streams[i]);
    return settle(&draft) ? TILE_WHOLE : TILE_MASKED;
}

/* --- asking ---------------------------------------------------------------*/

/* The first one to come fills the tile, others wait for it. */
static enum state make_ready(const struct block *block, size_t slab,
                             size_t tile) {
    size_t index = slab * block->tiles->per_slab + tile;
    _Atomic uint8_t *state = &block->tiles->state[index];
    uint8_t now = TILE_EMPTY;
    if (atomic_compare_exchange_strong(state, &now, TILE_BUSY)) {
        now = (uint8_t)fill(block, slab, tile);
        atomic_store_explicit(state, now, memory_order_release);
    }
    while (now == TILE_BUSY) {
        sched_yield();
        now = atomic_load_explicit(state, memory_order_acquire);
    }
    return (enum state)now;
}

struct tile tile_at(const struct block *block, size_t slab, size_t tile) {
    const struct tiles *tiles = block->tiles;
    size_t index = slab * tiles->per_slab + tile;
    enum state state = (enum state)atomic_load_explicit(&tiles->state[index],
                                                        memory_order_acquire);
    if (state < TILE_MASKED)
        state = make_ready(block, slab, tile);
    return (struct tile){.values = tiles->values + index * tiles->tile_stride,
                         .known = tiles->known + index * TILE_POINTS,
                         .whole = state == TILE_WHOLE};
}
