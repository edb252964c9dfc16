#include "forecast/resample_parts.h"

#include "earth/angle.h"
#include "earth/sphere.h"
#include <math.h>
#include <stdlib.h>

/* Points whose latitudes differ by less are of one row; places this near to the
 * end of a row are on it. */
static const double EDGE_DEG = 1e-6;
/* Part of a step that a point may lie off its place along a row: the rounding
 * of edition 1, on rows of 0.1 degree. */
static const double OFF_FRAC = 0.02;
/* A span within this part of a step of 360 degrees goes round the globe. */
static const double WRAP_FRAC = 0.1;
/* Rows further apart than so many mean spacings have a hole between them. */
static const double HOLE_SPACINGS = 2.0;
/* Of rows that lie closer and closer (Mercator), so much finer than on average
 * is the grid made at most. */
static const double FINER_LIMIT = 2.0;
/* Rows no closer than this part of the mean spacing are even (Gaussian ones):
 * then each has one of the grid beside it, and little is smoothed away. */
static const double EVEN_FRAC = 0.9;

struct row {
    double lat_deg, west_deg, step_deg; /* step > 0, or 0 of one point */
    size_t start, count;                /* in the message */
    size_t used; /* without a last point that repeats the first */
    bool west_going, backwards, wraps;
};

struct rows {
    struct row *items; /* from south to north */
    size_t count;
    double mean_deg, least_deg; /* from row to row */
    size_t widest;              /* index of the one with most points */
};

/* --- finding them ---------------------------------------------------------*/

static const char *measure_row(const struct position *sites, struct row *row) {
    double step = 0.0, first = sites[row->start].lon_deg;
    if (row->count > 1)
        step = angle_wrap_180(sites[row->start + 1].lon_deg - first);
    for (size_t i = 1; i < row->count; i++) {
        double off = sites[row->start + i].lon_deg - first - step * (double)i;
        if (!(fabs(angle_wrap_180(off)) <= OFF_FRAC * fabs(step)))
            return "rows that are not evenly spaced";
    }
    row->west_going = step < 0.0;
    row->step_deg = fabs(step);
    row->west_deg =
        row->west_going ? sites[row->start + row->count - 1].lon_deg : first;
    row->used = row->count;
    double span = row->step_deg * (double)(row->count - 1);
    if (row->count > 2 && fabs(span - 360.0) < WRAP_FRAC * row->step_deg)
        row->used--;
    double round = row->step_deg * (double)row->used;
    row->wraps =
        row->used > 1 && fabs(round - 360.0) < WRAP_FRAC * row->step_deg;
    return NULL;
}

static bool starts_row(const struct position *sites, size_t i) {
    return i == 0 || fabs(sites[i].lat_deg - sites[i - 1].lat_deg) >= EDGE_DEG;
}

static const char *find_rows(const struct outlay *outlay, struct rows *rows) {
    const struct position *sites = outlay->sites;
    for (size_t i = 0; i < outlay->count;) {
        struct row row = {.lat_deg = sites[i].lat_deg, .start = i};
        do
            i++;
        while (i < outlay->count && !starts_row(sites, i));
        row.count = i - row.start;
        row.backwards = outlay->alternating && rows->count % 2 == 1;
        const char *fault = measure_row(sites, &row);
        if (fault)
            return fault;
        rows->items[rows->count++] = row;
    }
    return rows->count < 2 ? "fewer than 2 x 2 points" : NULL;
}

static size_t count_rows(const struct outlay *outlay) {
    size_t count = 0;
    for (size_t i = 0; i < outlay->count; i++)
        count += starts_row(outlay->sites, i);
    return count;
}

static void turn_round(struct rows *rows) {
    for (size_t i = 0; i < rows->count / 2; i++) {
        struct row row = rows->items[i];
        rows->items[i] = rows->items[rows->count - 1 - i];
        rows->items[rows->count - 1 - i] = row;
    }
}

static const char *order_rows(struct rows *rows) {
    const struct row *items = rows->items;
    size_t last = rows->count - 1;
    if (items[0].lat_deg > items[last].lat_deg)
        turn_round(rows);
    rows->least_deg = HUGE_VAL;
    rows->mean_deg = (items[last].lat_deg - items[0].lat_deg) / (double)last;
    for (size_t i = 0; i < rows->count; i++) {
        if (items[i].used > items[rows->widest].used)
            rows->widest = i;
        if (i > 0)
            rows->least_deg =
                fmin(rows->least_deg, items[i].lat_deg - items[i - 1].lat_deg);
    }
    if (rows->least_deg < EDGE_DEG)
        return "rows that are in no order";
    return items[rows->widest].used < 2 ? "fewer than 2 x 2 points" : NULL;
}

/* --- the grid made --------------------------------------------------------*/

static const char *plan_grid(const struct rows *rows,
                             const struct grid_bounds *wanted,
                             struct resampling *resampling) {
    const struct row *widest = &rows->items[rows->widest];
    struct grid *grid = &resampling->grid;
    double west = 0.0, east = 0.0, step = widest->step_deg;
    for (size_t i = 0; i < rows->count; i++) {
        const struct row *row = &rows->items[i];
        double start = angle_wrap_180(row->west_deg - widest->west_deg);
        west = fmin(west, start);
        east = fmax(east, start + row->step_deg * (double)(row->used - 1));
        if (row->step_deg > 0.0)
            step = fmin(step, row->step_deg);
    }
    double south = rows->items[0].lat_deg, mean = rows->mean_deg;
    bool even = rows->least_deg >= EVEN_FRAC * mean;
    *grid = (struct grid){
        .south_deg = south,
        .west_deg = angle_wrap_longitude(widest->west_deg +
                                         (widest->wraps ? 0.0 : west)),
        .lat_step_deg = even ? mean : fmax(rows->least_deg, mean / FINER_LIMIT),
        .lon_step_deg = step,
        .wraps = widest->wraps};
    resampling->spacing_m =
        rows->mean_deg * RADIANS_PER_DEGREE * SPHERE_RADIUS_M;
    double span = rows->items[rows->count - 1].lat_deg - south;
    /* the last row is to be a row of the grid, too */
    grid->lat_step_deg = span / ceil(span / grid->lat_step_deg - 1e-6);
    return resample_room(resampling, span, fmin(east - west, 360.0), wanted);
}

/* --- blends ---------------------------------------------------------------*/

/* Two points of a row and what a place between takes of each; false outside. */
static bool find_in_row(const struct row *row, double lon_deg,
                        uint32_t point[2], double weight[2]) {
    double east = angle_wrap_360(lon_deg - row->west_deg);
    if (east > 360.0 - EDGE_DEG)
        east = 0.0;
    double along = row->step_deg > 0.0 ? east / row->step_deg : 0.0;
    double last = row->wraps ? (double)row->used : (double)(row->used - 1);
    if (east > row->step_deg * last + EDGE_DEG)
        return false;
    size_t cell = (size_t)fmin(fmax(along, 0.0), fmax(last - 1.0, 0.0));
    weight[1] = fmin(along - (double)cell, 1.0);
    weight[0] = 1.0 - weight[1];
    for (size_t i = 0; i < 2; i++) {
        size_t at = (cell + i) % row->used;
        if (row->west_going)
            at = row->count - 1 - at;
        point[i] = resample_index(row->start, row->count, at, row->backwards);
    }
    return true;
}

/* Between two rows, `part` of the way from the first to the second. */
static void blend_rows(const struct row *south, const struct row *north,
                       double part, double lon_deg, struct blend *blend) {
    uint32_t point[4] = {0};
    double weight[4] = {0};
    bool good = true;
    if (part < 1.0)
        good = find_in_row(south, lon_deg, point, weight);
    if (good && part > 0.0)
        good = find_in_row(north, lon_deg, point + 2, weight + 2);
    for (int i = 0; good && i < 4; i++) {
        double of_row = i < 2 ? 1.0 - part : part;
        blend->weight[i] = (float)(of_row * weight[i]);
        blend->point[i] = weight[i] > 0.0 ? point[i] : 0;
    }
}

static void fill_row(const struct rows *rows, const struct grid *grid, int j,
                     size_t below, struct blend *blends) {
    const struct row *south = &rows->items[below], *north = south + 1;
    double lat = grid->south_deg + grid->lat_step_deg * j;
    double apart = north->lat_deg - south->lat_deg;
    double part = (lat - south->lat_deg) / apart;
    double edge = EDGE_DEG / apart;
    if (part < edge)
        part = 0.0;
    if (part > 1.0 - edge)
        part = 1.0;
    if (part > 0.0 && part < 1.0 && apart > HOLE_SPACINGS * rows->mean_deg)
        return;
    for (int i = 0; i < grid->ni; i++)
        blend_rows(south, north, part, grid->west_deg + grid->lon_step_deg * i,
                   &blends[i]);
}

static void fill_rows(const struct rows *rows, struct resampling *resampling) {
    const struct grid *grid = &resampling->grid;
    size_t below = 0;
    for (int j = 0; j < grid->nj; j++) {
        double lat = grid->south_deg + grid->lat_step_deg * j;
        while (below + 2 < rows->count && lat >= rows->items[below + 1].lat_deg)
            below++;
        fill_row(rows, grid, j, below,
                 resampling->blends + (size_t)j * (size_t)grid->ni);
    }
}

const char *resample_rows(const struct outlay *outlay,
                          struct resampling *resampling) {
    struct rows rows = {0};
    if (outlay->count < 4)
        return "fewer than 2 x 2 points";
    rows.items = calloc(count_rows(outlay), sizeof *rows.items);
    if (!rows.items)
        return "more points than memory holds";
    const char *fault = find_rows(outlay, &rows);
    if (!fault)
        fault = order_rows(&rows);
    if (!fault)
        fault = plan_grid(&rows, outlay->wanted, resampling);
    if (!fault)
        fill_rows(&rows, resampling);
    free(rows.items);
    return fault;
}
