#include "search/cells.h"

#include "earth/angle.h"

#include <math.h>

static const double METRES_PER_DEGREE = 111195.0;
enum { FIRST_CAPACITY = 1 << 12 };
static const double COLUMN_BIAS = 16777216.0;

void cells_init(struct cells *cells, struct arena *arena, double cell_m,
                struct position origin) {
    *cells = (struct cells){.arena = arena,
                            .capacity = FIRST_CAPACITY,
                            .cell_m = cell_m,
                            .origin_lon_deg = origin.lon_deg};
    cells->slots = arena_alloc(arena, cells->capacity, sizeof *cells->slots);
    double size_deg = cell_m / METRES_PER_DEGREE;
    cells->per_deg = 1.0 / size_deg;
    cells->rows = (int)ceil(180.0 * cells->per_deg) + 1;
    cells->columns =
        arena_alloc(arena, (size_t)cells->rows, sizeof *cells->columns);
    for (int row = 0; row < cells->rows; row++) {
        double middle_deg = (row + 0.5) * size_deg - 90.0;
        double level = cos(middle_deg * RADIANS_PER_DEGREE);
        cells->columns[row] = fmax(level, 0.01) * cells->per_deg;
    }
}

uint64_t cells_key(const struct cells *cells, struct position position,
                   int state) {
    int row = (int)((position.lat_deg + 90.0) * cells->per_deg);
    row = row < 0 ? 0 : row >= cells->rows ? cells->rows - 1 : row;
    double east_deg = position.lon_deg - cells->origin_lon_deg;
    if (east_deg > 180.0 || east_deg <= -180.0)
        east_deg = angle_wrap_180(east_deg);
    uint64_t r = (uint64_t)row;
    /* the bias makes it positive: then to cut off is to round down */
    uint64_t c = (uint64_t)(east_deg * cells->columns[row] + COLUMN_BIAS);
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
    arena_drop(cells->arena, old);
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
