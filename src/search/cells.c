#include "search/cells.h"

#include "earth/angle.h"

#include <math.h>

static const double METRES_PER_DEGREE = 111195.0;
enum { FIRST_CAPACITY = 1 << 12, COLUMN_BIAS = 1 << 24, ROW_BIAS = 1 << 24 };

void cells_init(struct cells *cells, struct arena *arena, double cell_m,
                struct position origin) {
    *cells = (struct cells){.arena = arena,
                            .capacity = FIRST_CAPACITY,
                            .cell_m = cell_m,
                            .origin_lon_deg = origin.lon_deg};
    cells->slots = arena_alloc(arena, cells->capacity, sizeof *cells->slots);
}

uint64_t cells_key(const struct cells *cells, struct position position,
                   int state) {
    double size_deg = cells->cell_m / METRES_PER_DEGREE;
    double row = floor(position.lat_deg / size_deg);
    double level = cos((row + 0.5) * size_deg * RADIANS_PER_DEGREE);
    double lon = angle_turn(cells->origin_lon_deg, position.lon_deg);
    double column = floor(lon * fmax(level, 0.01) / size_deg);
    uint64_t r = (uint64_t)((int64_t)row + ROW_BIAS);
    uint64_t c = (uint64_t)((int64_t)column + COLUMN_BIAS);
    return (r << 32 | c << 6 | (uint64_t)state) + 1;
}

static size_t slot_of(const struct cells *cells, uint64_t key) {
    uint64_t hash = key * 0x9e3779b97f4a7c15u; /* Fibonacci hashing */
    size_t slot = (size_t)(hash >> 32) & (cells->capacity - 1);
    while (cells->slots[slot].key != 0 && cells->slots[slot].key != key)
        slot = (slot + 1) & (cells->capacity - 1);
    return slot;
}

const struct cell *cells_find(const struct cells *cells, uint64_t key) {
    const struct cell *cell = &cells->slots[slot_of(cells, key)];
    return cell->key == key ? cell : NULL;
}

static void grow(struct cells *cells) {
    struct cell *old = cells->slots;
    size_t old_capacity = cells->capacity;
    cells->capacity *= 2;
    cells->slots =
        arena_alloc(cells->arena, cells->capacity, sizeof *cells->slots);
    for (size_t i = 0; i < old_capacity; i++) {
        if (old[i].key != 0)
            cells->slots[slot_of(cells, old[i].key)] = old[i];
    }
}

struct cell *cells_make(struct cells *cells, uint64_t key, bool *made) {
    if (2 * (cells->count + 1) > cells->capacity)
        grow(cells);
    struct cell *cell = &cells->slots[slot_of(cells, key)];
    *made = cell->key == 0;
    if (*made) {
        cell->key = key;
        cells->count++;
    }
    return cell;
}
