#include "forecast/tile.h"

#include "earth/angle.h"
#include <math.h>
#include <sched.h>
#include <stdatomic.h>

/* A flat sea still has a direction: heights below this weigh as this one. */
static const float HEIGHT_LEAST_M = 0.01F;

/* A line of the processor's cache, in cells: a point of seven channels fills
 * half of one. */
enum { LINE_CELLS = 16 };

enum state { TILE_EMPTY, TILE_BUSY, TILE_MASKED, TILE_WHOLE };

static size_t tiles_along(int cells) {
    return ((size_t)cells + TILE_CELLS - 1) / TILE_CELLS;
}

static union cell *on_line(union cell *cells) {
    uintptr_t line = LINE_CELLS * sizeof *cells;
    return cells + (line - (uintptr_t)cells % line) % line / sizeof *cells;
}

/* Only those tiles that are filled take memory: until then it is no more than
 * asked for. */
struct tiles *tiles_make(const struct grid *grid, size_t slabs, int channels,
                         struct arena *arena) {
    struct tiles *tiles = arena_alloc(arena, 1, sizeof *tiles);
    int cells = grid->wraps ? grid->ni : grid->ni - 1;
    tiles->columns = (int)tiles_along(cells);
    tiles->per_slab = (size_t)tiles->columns * tiles_along(grid->nj - 1);
    tiles->stride = ((size_t)channels + 2) / 2 * 2;
    tiles->tile_stride = (TILE_POINTS * tiles->stride + LINE_CELLS - 1) /
                         LINE_CELLS * LINE_CELLS;
    size_t count = slabs * tiles->per_slab;
    tiles->states = arena_alloc(arena, count, sizeof *tiles->states);
    tiles->cells = on_line(arena_alloc(
        arena, count * tiles->tile_stride + LINE_CELLS, sizeof *tiles->cells));
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

static void read_part(const struct feed *feed, const struct grid *grid, int row,
                      int column, int count, float *values, uint8_t *known) {
    if (!feed->values) {
        packed_row(feed->packed, row, column, count, values, known);
        return;
    }
    size_t at = (size_t)row * (size_t)grid->ni + (size_t)column;
    for (int i = 0; i < count; i++) {
        values[i] = feed->values[at + (size_t)i];
        known[i] = !feed->known || feed->known[at + (size_t)i];
    }
}

static void read_strip(const struct feed *feed, const struct patch *patch,
                       int row, struct strip *strip) {
    int before = patch->grid->ni - patch->column;
    int count = patch->columns < before ? patch->columns : before;
    read_part(feed, patch->grid, patch->row + row, patch->column, count,
              strip->values, strip->known);
    if (count < patch->columns)
        read_part(feed, patch->grid, patch->row + row, 0,
                  patch->columns - count, strip->values + count,
                  strip->known + count);
}

static void put(union cell *cell, int channel, float value) {
    cell[1 + channel].value = value;
    cell->known |= 1U << channel;
}

static void put_plain(const struct strip *strip, int count, int channel,
                      size_t stride, union cell *cell) {
    for (int i = 0; i < count; i++, cell += stride) {
        if (strip->known[i])
            put(cell, channel, strip->values[i]);
    }
}

/* As a vector that points where the waves come from; `heights` may be NULL:
 * then all directions weigh the same. */
static void put_direction(const struct stream *stream,
                          const struct strip *strip,
                          const struct strip *heights, int count, size_t stride,
                          union cell *cell) {
    for (int i = 0; i < count; i++, cell += stride) {
        double sine, cosine;
        float weight = 1.0F;
        if (!strip->known[i] || (heights && !heights->known[i]))
            continue;
        if (heights) {
            weight = fmaxf(heights->values[i], HEIGHT_LEAST_M);
            weight *= weight;
        }
        sincos_deg((double)strip->values[i] + stream->turn_deg, &sine, &cosine);
        put(cell, stream->channel, weight * (float)sine);
        put(cell, stream->channel + 1, weight * (float)cosine);
    }
}

static void fill_stream(const struct block *block, const struct stream *stream,
                        const struct patch *patch, size_t slab,
                        union cell *cells) {
    size_t stride = block->tiles->stride;
    for (int row = 0; row < patch->rows; row++, cells += TILE_SIDE * stride) {
        struct strip strip, heights;
        read_strip(&stream->feeds[slab], patch, row, &strip);
        if (!stream->is_direction) {
            put_plain(&strip, patch->columns, stream->channel, stride, cells);
            continue;
        }
        if (stream->weight)
            read_strip(&stream->weight[slab], patch, row, &heights);
        put_direction(stream, &strip, stream->weight ? &heights : NULL,
                      patch->columns, stride, cells);
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
static bool settle(const struct block *block, const struct patch *patch,
                   union cell *cells) {
    uint32_t vectors[2];
    int count = vectors_of(block, vectors);
    uint32_t all = block_all(block);
    bool whole = true;
    for (int point = 0; point < TILE_POINTS; point++) {
        union cell *cell = cells + (size_t)point * block->tiles->stride;
        if (point / TILE_SIDE >= patch->rows ||
            point % TILE_SIDE >= patch->columns || cell->known == all)
            continue;
        for (int i = 0; i < count; i++) {
            if ((cell->known & vectors[i]) != vectors[i])
                cell->known &= ~vectors[i];
        }
        whole = false;
    }
    return whole;
}

static enum state fill(const struct block *block, size_t slab, size_t tile,
                       union cell *cells) {
    struct patch patch = patch_of(block, tile);
    for (int i = 0; i < block->stream_count; i++)
        fill_stream(block, &block->streams[i], &patch, slab, cells);
    return settle(block, &patch, cells) ? TILE_WHOLE : TILE_MASKED;
}

/* --- asking ---------------------------------------------------------------*/

/* The first one to come fills the tile, others wait for it. */
static enum state make_ready(const struct block *block, size_t slab,
                             size_t tile) {
    const struct tiles *tiles = block->tiles;
    size_t index = slab * tiles->per_slab + tile;
    _Atomic uint8_t *state = &tiles->states[index];
    uint8_t now = TILE_EMPTY;
    if (atomic_compare_exchange_strong(state, &now, TILE_BUSY)) {
        now = (uint8_t)fill(block, slab, tile,
                            tiles->cells + index * tiles->tile_stride);
        atomic_store_explicit(state, now, memory_order_release);
    }
    while (now == TILE_BUSY) {
        sched_yield();
        now = atomic_load_explicit(state, memory_order_acquire);
    }
    return (enum state)now;
}

const union cell *tile_at(const struct block *block, size_t slab, size_t tile,
                          bool *whole) {
    const struct tiles *tiles = block->tiles;
    size_t index = slab * tiles->per_slab + tile;
    enum state state = (enum state)atomic_load_explicit(&tiles->states[index],
                                                        memory_order_acquire);
    if (state < TILE_MASKED)
        state = make_ready(block, slab, tile);
    *whole = state == TILE_WHOLE;
    return tiles->cells + index * tiles->tile_stride;
}
