#include "earth/shore_raster.h"

#include "earth/angle.h"
#include "earth/ellipsoid.h"
#include "earth/sphere.h"

#include <assert.h>
#include <math.h>
#include <string.h>

enum { CELL_LIMIT = 1000000, RUN_EDGES = 16 };

static const double CELL_DEG = 0.1;

/* A degree of latitude is nowhere shorter. */
static const double DEGREE_LEAST_M = 110570.0;

/* Boxes on the chart are widened by this before cells are taken, 6 mm: more
 * than rounding can be wrong by. */
static const double SLACK_RAD = 1e-9;

/* For what a float rounds off. */
static const double FLOAT_SAFE_FRAC = 1.0 - 1e-6;

static double ordinate(double lat_deg) {
    return mercator_of((struct position){.lat_deg = lat_deg, .lon_deg = 0.0}).y;
}

/* Least and greatest distance from the equator in a belt, degrees. */
static double belt_near(double south_deg, double north_deg) {
    return fmax(0.0, fmax(south_deg, -north_deg));
}

static double belt_far(double south_deg, double north_deg) {
    return fmin(fmax(-south_deg, north_deg), RASTER_STOP_DEG);
}

static struct raster_row row_of(double south_deg, double north_deg) {
    double reach_deg = SHORE_REACH_M / DEGREE_LEAST_M + north_deg - south_deg;
    double low_deg = south_deg - reach_deg, high_deg = north_deg + reach_deg;
    double sine, cosine;
    sincos_deg(south_deg, &sine, &cosine);
    return (struct raster_row){
        .sine = sine,
        .scale_m = mercator_scale_m(south_deg),
        .degree_m = mercator_scale_m(belt_near(south_deg, north_deg)) *
                    RADIANS_PER_DEGREE,
        .wide_scale_m = mercator_scale_m(belt_near(low_deg, high_deg)),
        .narrow_scale_m = mercator_scale_m(belt_far(low_deg, high_deg))};
}

static double row_side_deg(const struct shore_raster *raster, size_t side) {
    double lat_deg = raster->south_deg + (double)side / raster->cells_per_deg;
    return fmin(lat_deg, RASTER_STOP_DEG);
}

/* What rounding has added makes no cell of its own. */
static size_t cells_in(double length_deg, double cell_deg) {
    return (size_t)ceil(length_deg / cell_deg - 1e-6);
}

void raster_begin(struct shore_raster *raster, const struct raster_frame *frame,
                  struct arena *arena) {
    double south_deg = fmax(frame->south_deg, -RASTER_STOP_DEG);
    double high_deg = fmin(frame->north_deg, RASTER_STOP_DEG) - south_deg;
    double wide_deg = frame->east_deg - frame->west_deg;
    assert(high_deg > 0.0 && wide_deg > 0.0);
    double cell_deg = fmax(CELL_DEG, sqrt(high_deg * wide_deg / CELL_LIMIT));
    *raster = (struct shore_raster){.south_deg = south_deg,
                                    .west_deg = frame->west_deg,
                                    .cells_per_deg = 1.0 / cell_deg,
                                    .rows = cells_in(high_deg, cell_deg),
                                    .columns = cells_in(wide_deg, cell_deg)};
    raster->y = arena_alloc(arena, raster->rows + 1, sizeof *raster->y);
    raster->row = arena_alloc(arena, raster->rows, sizeof *raster->row);
    for (size_t i = 0; i <= raster->rows; i++)
        raster->y[i] = ordinate(row_side_deg(raster, i));
    for (size_t i = 0; i < raster->rows; i++)
        raster->row[i] =
            row_of(row_side_deg(raster, i), row_side_deg(raster, i + 1));
}

/* The run that begins there: some edges, not reaching wider than half a cell
 * unless it is a single one. */
static struct shore_run run_from(const struct mercator *points, size_t count,
                                 double wide_rad) {
    struct shore_run run = {.points = points, .box = {points[0], points[0]}};
    while (run.edges + 1 < count && run.edges < RUN_EDGES) {
        struct chart_box box = chart_box_with(run.box, points[run.edges + 1]);
        bool is_wide = box.high.x - box.low.x > wide_rad ||
                       box.high.y - box.low.y > wide_rad;
        if (is_wide && run.edges > 0)
            break;
        run.box = box;
        run.edges++;
    }
    return run;
}

void raster_add_line(struct shore_raster *raster, const struct mercator *points,
                     size_t count, struct arena *scratch) {
    double wide_rad = 0.5 * RADIANS_PER_DEGREE / raster->cells_per_deg;
    while (count > 1) {
        struct shore_run run = run_from(points, count, wide_rad);
        raster->runs = arena_room(scratch, raster->runs, raster->run_count,
                                  &raster->run_capacity, sizeof run);
        raster->runs[raster->run_count++] = run;
        points += run.edges;
        count -= run.edges;
    }
}

size_t raster_row(const struct shore_raster *raster, double y, size_t guess) {
    size_t row = guess < raster->rows ? guess : raster->rows - 1;
    while (row + 1 < raster->rows && y >= raster->y[row + 1])
        row++;
    while (row > 0 && y < raster->y[row])
        row--;
    return row;
}

static double column_real(const struct shore_raster *raster, double x) {
    double lon_deg = x / RADIANS_PER_DEGREE;
    return floor((lon_deg - raster->west_deg) * raster->cells_per_deg);
}

size_t raster_column(const struct shore_raster *raster, double x) {
    double last = (double)(raster->columns - 1);
    return (size_t)fmin(fmax(column_real(raster, x), 0.0), last);
}

bool raster_window(const struct shore_raster *raster,
                   const struct chart_box *box, size_t guess,
                   struct raster_window *window) {
    struct mercator low = {box->low.x - SLACK_RAD, box->low.y - SLACK_RAD};
    struct mercator high = {box->high.x + SLACK_RAD, box->high.y + SLACK_RAD};
    if (high.y < raster->y[0] || low.y > raster->y[raster->rows] ||
        column_real(raster, high.x) < 0.0 ||
        column_real(raster, low.x) >= (double)raster->columns)
        return false;
    window->south = raster_row(raster, low.y, guess);
    window->north = raster_row(raster, high.y, window->south);
    window->west = raster_column(raster, low.x);
    window->east = raster_column(raster, high.x);
    return true;
}

/* --- runs into cells -------------------------------------------------------*/

/* Counts at first, then fills: the same walk over the cells both times. */
struct filling {
    struct shore_raster *raster;
    size_t run;
    size_t row;      /* near it: where the run before was */
    uint32_t *last;  /* for each cell, 1 + the run that came last */
    uint32_t *count; /* for each cell */
    bool is_counting;
};

static void put_into_cell(struct filling *filling, size_t cell) {
    if (filling->last[cell] == filling->run + 1)
        return;
    filling->last[cell] = (uint32_t)(filling->run + 1);
    if (!filling->is_counting) {
        struct shore_raster *raster = filling->raster;
        raster->touching[raster->first[cell] + filling->count[cell]] =
            (uint32_t)filling->run;
    }
    filling->count[cell]++;
}

/* The box about the part of an edge that is in a row. */
static struct chart_box part_in_row(const struct shore_raster *raster,
                                    size_t row, const struct mercator *edge) {
    bool is_up = edge[0].y <= edge[1].y;
    struct mercator low = is_up ? edge[0] : edge[1];
    struct mercator high = is_up ? edge[1] : edge[0];
    double slope = high.y > low.y ? (high.x - low.x) / (high.y - low.y) : 0.0;
    double south = fmax(raster->y[row] - SLACK_RAD, low.y);
    double north = fmin(raster->y[row + 1] + SLACK_RAD, high.y);
    struct mercator from = low, to = high;
    if (south > low.y)
        from = (struct mercator){low.x + slope * (south - low.y), south};
    if (north < high.y)
        to = (struct mercator){low.x + slope * (north - low.y), north};
    return chart_box_about(from, to, 0.0);
}

/* Only the cells that the edge itself goes through, row by row. */
static void put_edge(struct filling *filling, const struct mercator *edge) {
    const struct shore_raster *raster = filling->raster;
    struct chart_box box = chart_box_about(edge[0], edge[1], 0.0);
    struct raster_window all;
    if (!raster_window(raster, &box, filling->row, &all))
        return;
    for (size_t row = all.south; row <= all.north; row++) {
        struct raster_window part;
        box = part_in_row(raster, row, edge);
        if (!raster_window(raster, &box, row, &part))
            continue;
        for (size_t column = part.west; column <= part.east; column++)
            put_into_cell(filling, row * raster->columns + column);
    }
}

static void put_run(struct filling *filling, const struct shore_run *run) {
    const struct shore_raster *raster = filling->raster;
    struct raster_window all;
    if (!raster_window(raster, &run->box, filling->row, &all))
        return;
    filling->row = all.south;
    if (all.south == all.north && all.west == all.east) {
        put_into_cell(filling, all.south * raster->columns + all.west);
        return;
    }
    for (size_t i = 0; i < run->edges; i++)
        put_edge(filling, &run->points[i]);
}

static void put_all(struct filling *filling, size_t cells) {
    const struct shore_raster *raster = filling->raster;
    memset(filling->last, 0, cells * sizeof *filling->last);
    memset(filling->count, 0, cells * sizeof *filling->count);
    for (filling->run = 0; filling->run < raster->run_count; filling->run++)
        put_run(filling, &raster->runs[filling->run]);
}

static void fill_cells(struct shore_raster *raster, struct arena *scratch,
                       struct arena *arena) {
    size_t cells = raster->rows * raster->columns;
    struct filling filling = {
        .raster = raster,
        .last = arena_alloc(scratch, cells, sizeof *filling.last),
        .count = arena_alloc(scratch, cells, sizeof *filling.count),
        .is_counting = true};
    put_all(&filling, cells);
    raster->first = arena_alloc(arena, cells + 1, sizeof *raster->first);
    for (size_t i = 0; i < cells; i++)
        raster->first[i + 1] = raster->first[i] + filling.count[i];
    raster->touching =
        arena_alloc(arena, raster->first[cells] + 1, sizeof *raster->touching);
    filling.is_counting = false;
    put_all(&filling, cells);
}

/* --- how far away the shore is at least ------------------------------------*/

/* haversine: of an angle between places, from those of its parts */
static double haversine(double angle_deg) {
    double half = sin(0.5 * angle_deg * RADIANS_PER_DEGREE);
    return half * half;
}

/* For each cell the haversine of the longitude that certainly lies between
 * anywhere in it and the next cell of its row with a shore; 1 where there is
 * none. Neighbours may touch, so one cell less than they are apart. */
static void sideways(const struct shore_raster *raster, float *sideways) {
    size_t columns = raster->columns;
    for (size_t row = 0; row < raster->rows; row++) {
        const uint32_t *first = raster->first + row * columns;
        float *to = sideways + row * columns;
        size_t apart = 2 * columns;
        for (size_t c = 0; c < columns; c++, apart++) {
            if (first[c + 1] > first[c])
                apart = 0;
            to[c] = (float)apart;
        }
        apart = 2 * columns;
        for (size_t c = columns; c-- > 0; apart++) {
            if (first[c + 1] > first[c])
                apart = 0;
            to[c] = fminf(to[c], (float)apart);
        }
    }
}

static void to_haversines(const struct shore_raster *raster, float *apart) {
    size_t columns = raster->columns, cells = raster->rows * columns;
    struct arena scratch;
    arena_init(&scratch);
    float *table = arena_alloc(&scratch, 2 * columns, sizeof *table);
    for (size_t i = 1; i < 2 * columns; i++) {
        double apart_deg = (double)(i - 1) / raster->cells_per_deg;
        bool is_far = i >= columns || apart_deg > 180.0;
        table[i] = is_far ? 1.0F : (float)haversine(apart_deg);
    }
    for (size_t i = 0; i < cells; i++)
        apart[i] = table[(size_t)fminf(apart[i], (float)(2 * columns - 1))];
    arena_free(&scratch);
}

static double cosine_least(const struct shore_raster *raster, size_t row) {
    double sine, cosine;
    sincos_deg(
        belt_far(row_side_deg(raster, row), row_side_deg(raster, row + 1)),
        &sine, &cosine);
    return cosine;
}

/* The haversine formula with the least that each part can be: haversine of
 * the angle = that of the latitudes + product of cosines * that of the
 * longitudes. Takes the nearest of one row of shores into account. */
static void add_row(const struct shore_raster *raster, const float *sideways,
                    const size_t rows[2], float *least) {
    size_t columns = raster->columns;
    size_t apart = rows[0] > rows[1] ? rows[0] - rows[1] : rows[1] - rows[0];
    double up_deg = apart > 0 ? (double)(apart - 1) / raster->cells_per_deg : 0;
    float up = (float)haversine(up_deg);
    float cosines =
        (float)(cosine_least(raster, rows[0]) * cosine_least(raster, rows[1]));
    const float *from = sideways + rows[1] * columns;
    for (size_t c = 0; c < columns; c++) {
        float all = up + cosines * from[c];
        least[c] = all < least[c] ? all : least[c];
    }
}

/* A chord is shorter than its arc. */
static float clear_of(float haversines) {
    double sphere_m = 2.0 * SPHERE_RADIUS_M * sqrt((double)haversines);
    double least_m = SPHERE_SAFE_FRAC * FLOAT_SAFE_FRAC * sphere_m;
    return (float)fmin(least_m, SHORE_REACH_M * FLOAT_SAFE_FRAC);
}

static void work_out_clear(struct shore_raster *raster, struct arena *scratch) {
    size_t columns = raster->columns;
    size_t reach =
        (size_t)(SHORE_REACH_M / DEGREE_LEAST_M * raster->cells_per_deg) + 2;
    float *apart = arena_alloc(scratch, raster->rows * columns, sizeof *apart);
    sideways(raster, apart);
    to_haversines(raster, apart);
    for (size_t row = 0; row < raster->rows; row++) {
        float *least = raster->clear_m + row * columns;
        for (size_t c = 0; c < columns; c++)
            least[c] = 1.0F;
        size_t from = row > reach ? row - reach : 0;
        for (size_t other = from; other <= row + reach && other < raster->rows;
             other++)
            add_row(raster, apart, (size_t[2]){row, other}, least);
        for (size_t c = 0; c < columns; c++)
            least[c] = clear_of(least[c]);
    }
}

void raster_finish(struct shore_raster *raster, struct arena *arena) {
    size_t count = raster->run_count;
    struct shore_run *runs = arena_alloc(arena, count + 1, sizeof *runs);
    if (count > 0)
        memcpy(runs, raster->runs, count * sizeof *runs);
    raster->runs = runs;
    raster->run_capacity = count;
    struct arena scratch;
    arena_init(&scratch);
    fill_cells(raster, &scratch, arena);
    raster->clear_m = arena_alloc(arena, raster->rows * raster->columns,
                                  sizeof *raster->clear_m);
    work_out_clear(raster, &scratch);
    arena_free(&scratch);
}
