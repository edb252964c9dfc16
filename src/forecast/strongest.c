/* The strongest current of a forecast. */
#include "forecast/forecast.h"

#include "earth/angle.h"
#include "forecast/grid.h"
#include "forecast/state.h"
#include <assert.h>
#include <math.h>

/* One row of a component. */
struct component {
    struct feed feed;
    float *values;
    uint8_t *known;
};

static struct component component_of(const struct layer *layer,
                                     const struct grid *grid,
                                     struct arena *arena) {
    size_t ni = (size_t)grid->ni;
    return (struct component){.feed = feed_of(layer),
                              .values = arena_alloc(arena, ni, sizeof(float)),
                              .known = arena_alloc(arena, ni, 1)};
}

/* 1 for each column beside which a cell may reach in there. */
static const uint8_t *columns_in(const struct grid *grid,
                                 const struct grid_bounds *within,
                                 struct arena *arena) {
    uint8_t *in = arena_alloc(arena, (size_t)grid->ni, 1);
    double half_deg = 0.5 * (within->east_deg - within->west_deg);
    for (int i = 0; i < grid->ni; i++) {
        double lon_deg = grid->west_deg + grid->lon_step_deg * i;
        double off_deg = angle_turn(within->west_deg + half_deg, lon_deg);
        in[i] = fabs(off_deg) <= half_deg + grid->lon_step_deg;
    }
    return in;
}

/* Likewise. */
static bool is_row_in(const struct grid *grid, const struct grid_bounds *within,
                      int row) {
    double lat_deg = grid->south_deg + grid->lat_step_deg * row;
    return lat_deg >= within->south_deg - grid->lat_step_deg &&
           lat_deg <= within->north_deg + grid->lat_step_deg;
}

/* Squared, of one step. */
static double strongest2_at(const struct layer *east, const struct layer *north,
                            const struct grid *grid,
                            const struct grid_bounds *within,
                            struct arena *scratch) {
    struct component u = component_of(east, grid, scratch);
    struct component v = component_of(north, grid, scratch);
    const uint8_t *in = columns_in(grid, within, scratch);
    double strongest2 = 0.0;
    for (int row = 0; row < grid->nj; row++) {
        struct run run = {row, 0, grid->ni};
        if (!is_row_in(grid, within, row))
            continue;
        feed_row(&u.feed, grid, run, u.values, u.known);
        feed_row(&v.feed, grid, run, v.values, v.known);
        for (int i = 0; i < grid->ni; i++) {
            double x = (double)u.values[i], y = (double)v.values[i];
            bool there = in[i] && u.known[i] && v.known[i];
            if (there && x * x + y * y > strongest2)
                strongest2 = x * x + y * y;
        }
    }
    return strongest2;
}

/* Layers lie in order of part, then of grid and time: v as far behind u as
 * there are pairs. */
double forecast_strongest_current_mps(const struct forecast *forecast,
                                      const struct grid_bounds *within) {
    const struct layers *layers = &forecast->layers;
    double strongest2 = 0.0;
    size_t first = 0, pairs = 0;
    struct arena scratch;
    arena_init(&scratch);
    while (first < layers->count &&
           layers->items[first].quantity != QUANTITY_CURRENT)
        first++;
    while (first + pairs < layers->count &&
           layers->items[first + pairs].quantity == QUANTITY_CURRENT &&
           layers->items[first + pairs].part == PART_EAST)
        pairs++;
    for (size_t i = first; i < first + pairs; i++) {
        const struct layer *east = &layers->items[i], *north = east + pairs;
        assert(north->part == PART_NORTH && north->grid == east->grid);
        const struct grid *grid = &layers->grids[east->grid];
        strongest2 = fmax(strongest2,
                          strongest2_at(east, north, grid, within, &scratch));
    }
    arena_free(&scratch);
    return sqrt(strongest2);
}
