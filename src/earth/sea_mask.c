#include "earth/sea_mask.h"

#include "earth/angle.h"
#include "earth/mercator.h"

#include <math.h>
#include <stdint.h>

/* Size of the cells; doubled until there are no more than so many. */
static const double CELL_DEG = 0.025;
static const double CELLS_MOST = 6e5;

/* A degree of latitude is nowhere longer. */
static const double DEGREE_MOST_M = 111700.0;

struct cell {
    bool sea;   /* its middle is */
    bool mixed; /* a shore may pass through it */
};

struct sea_mask {
    const struct coast *coast;
    struct coast_box box;
    double cell_deg;
    size_t rows, columns;
    struct cell *cells; /* row by row from the south */
};

static double width_deg(const struct coast_box *box) {
    return box->east_deg - box->west_deg;
}

static void lay_cells(struct sea_mask *mask, struct arena *arena) {
    const struct coast_box *box = &mask->box;
    double rows, columns;
    mask->cell_deg = CELL_DEG / 2.0;
    do {
        mask->cell_deg *= 2.0;
        rows = floor((box->north_deg - box->south_deg) / mask->cell_deg) + 1.0;
        columns = floor(width_deg(box) / mask->cell_deg) + 1.0;
    } while (rows * columns > CELLS_MOST);
    mask->rows = (size_t)rows;
    mask->columns = (size_t)columns;
    mask->cells =
        arena_alloc(arena, mask->rows * mask->columns, sizeof *mask->cells);
}

/* The last row and column may reach beyond the box: there its edge stands in
 * for the middle. */
static struct position middle_of(const struct sea_mask *mask, size_t row,
                                 size_t column) {
    const struct coast_box *box = &mask->box;
    double north_deg = ((double)row + 0.5) * mask->cell_deg;
    double east_deg = ((double)column + 0.5) * mask->cell_deg;
    double lat_deg = fmin(box->south_deg + north_deg, box->north_deg);
    double lon_deg = fmin(box->west_deg + east_deg, box->east_deg);
    return (struct position){lat_deg, angle_wrap_longitude(lon_deg)};
}

/* From its middle no place of a cell is further than that: half its diagonal,
 * but where an edge of the box stands in for the middle. */
static double reach_m(const struct sea_mask *mask, size_t row, size_t column,
                      struct position middle) {
    bool last = row + 1 == mask->rows || column + 1 == mask->columns;
    double side_m = mask->cell_deg * DEGREE_MOST_M * (last ? 1.0 : 0.5);
    double nearest_deg = fabs(middle.lat_deg) - mask->cell_deg;
    double s, c;
    sincos_deg(fmax(nearest_deg, 0.0), &s, &c);
    return hypot(side_m, side_m * c);
}

static void fill_row(struct sea_mask *mask, size_t row) {
    struct position before = {0};
    for (size_t i = 0; i < mask->columns; i++) {
        struct cell *cell = &mask->cells[row * mask->columns + i];
        struct position middle = middle_of(mask, row, i);
        if (i > 0 && !coast_meets(mask->coast, before, middle))
            cell->sea = cell[-1].sea;
        else
            cell->sea = coast_level_at(mask->coast, middle) == COAST_SEA;
        cell->mixed = coast_nearer(mask->coast, middle, middle,
                                   reach_m(mask, row, i, middle));
        before = middle;
    }
}

const struct sea_mask *sea_mask_make(const struct coast *coast,
                                     const struct coast_box *box,
                                     struct arena *arena) {
    struct sea_mask *mask = arena_alloc(arena, 1, sizeof *mask);
    *mask = (struct sea_mask){.coast = coast, .box = *box};
    if (width_deg(box) > 180.0) /* as the coast does */
        mask->box.east_deg = box->west_deg + 360.0;
    lay_cells(mask, arena);
    for (size_t row = 0; row < mask->rows; row++)
        fill_row(mask, row);
    return mask;
}

/* Row and column of a place. */
struct place {
    size_t row, column;
};

static struct place place_of(const struct sea_mask *mask, struct position at) {
    const struct coast_box *box = &mask->box;
    double lon_deg =
        at.lon_deg < box->west_deg ? at.lon_deg + 360.0 : at.lon_deg;
    return (struct place){
        (size_t)((at.lat_deg - box->south_deg) / mask->cell_deg),
        (size_t)((lon_deg - box->west_deg) / mask->cell_deg)};
}

bool sea_mask_is_sea(const struct sea_mask *mask, struct position at) {
    struct place place = place_of(mask, at);
    const struct cell *cell =
        &mask->cells[place.row * mask->columns + place.column];
    if (!cell->mixed ||
        !coast_meets(mask->coast, middle_of(mask, place.row, place.column), at))
        return cell->sea;
    return coast_level_at(mask->coast, at) == COAST_SEA;
}

bool sea_mask_is_about_sea(const struct sea_mask *mask, struct position at) {
    struct place place = place_of(mask, at);
    return mask->cells[place.row * mask->columns + place.column].sea;
}
