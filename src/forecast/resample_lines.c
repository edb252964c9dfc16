#include "forecast/resample_parts.h"

#include "earth/angle.h"
#include "earth/sphere.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>

/* Places this near to the edge of a cell, in parts of it, are in it. */
static const double EDGE_FRAC = 1e-6;
/* Corners further than this from the middle of their cell (cosine of 60
 * degrees) make no cell: it would be larger than weather is. */
static const double CORNER_COSINE = 0.5;
/* A ring of points whose ends are no further apart than so many mean spacings
 * is closed; a longitude without points for so many, a border. */
static const double CLOSED_SPACINGS = 1.5, BORDER_SPACINGS = 3.0;
static const double POLE_DEG = 89.0; /* no cosine beyond it */

enum { BINS = 720, NEWTON_STEPS = 12 };

/* A unit vector from the middle of the earth. */
struct site {
    double x, y, z;
};

struct lines {
    const struct outlay *outlay;
    size_t inner, count; /* points of a line, lines */
    bool closes;         /* the last point of a line is beside the first */
    double spacing_rad;
};

/* --- vectors --------------------------------------------------------------*/

static struct site site_at(struct position position) {
    double slat, clat, slon, clon;
    sincos_deg(position.lat_deg, &slat, &clat);
    sincos_deg(position.lon_deg, &slon, &clon);
    return (struct site){clat * clon, clat * slon, slat};
}

static double dot(struct site a, struct site b) {
    return a.x * b.x + a.y * b.y + a.z * b.z;
}

static struct site cross(struct site a, struct site b) {
    return (struct site){a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z,
                         a.x * b.y - a.y * b.x};
}

static struct site unit(struct site a) {
    double length = sqrt(dot(a, a));
    if (!(length > 0.0))
        return (struct site){1.0, 0.0, 0.0};
    return (struct site){a.x / length, a.y / length, a.z / length};
}

static double apart_rad(struct site a, struct site b) {
    struct site across = cross(a, b);
    return atan2(sqrt(dot(across, across)), dot(a, b));
}

/* --- how the points lie ---------------------------------------------------*/

static struct site site_of(const struct lines *lines, size_t i, size_t j) {
    return site_at(lines->outlay->sites[j * lines->inner + i % lines->inner]);
}

/* On average, along the lines and across them. Some of the points are enough.
 */
static double spacing_rad(const struct lines *lines) {
    enum { SAMPLES = 64 };
    size_t step_i = lines->inner / SAMPLES + 1, step_j = lines->count / SAMPLES;
    double along = 0.0, across = 0.0, samples = 0.0;
    for (size_t j = 0; j + 1 < lines->count; j += step_j + 1) {
        for (size_t i = 0; i + 1 < lines->inner; i += step_i) {
            struct site here = site_of(lines, i, j);
            along += apart_rad(here, site_of(lines, i + 1, j));
            across += apart_rad(here, site_of(lines, i, j + 1));
            samples += 1.0;
        }
    }
    return sqrt(along * across) / samples;
}

/* Lines that go round the globe: so do those half-way up. */
static bool is_closed(const struct lines *lines) {
    size_t middle = lines->count / 2;
    double gap = apart_rad(site_of(lines, lines->inner - 1, middle),
                           site_of(lines, 0, middle));
    double step =
        apart_rad(site_of(lines, 0, middle), site_of(lines, 1, middle));
    return lines->inner > 3 && gap > 0.0 && gap < CLOSED_SPACINGS * step;
}

/* --- the grid made --------------------------------------------------------*/

/* The box round all points: longitudes from `west_deg` on. */
struct box {
    double south_deg, north_deg, west_deg, width_deg;
    bool round;
};

static void note_latitudes(const struct outlay *outlay, struct box *box) {
    box->south_deg = 90.0;
    box->north_deg = -90.0;
    for (size_t i = 0; i < outlay->count; i++) {
        box->south_deg = fmin(box->south_deg, outlay->sites[i].lat_deg);
        box->north_deg = fmax(box->north_deg, outlay->sites[i].lat_deg);
    }
}

/* The first bin behind the widest stretch without points; its length in bins
 * goes into `*empty`. */
static int behind_gap(const bool filled[BINS], int *empty) {
    int best = 0, run = 0;
    *empty = 0;
    for (int i = 0; i < 2 * BINS; i++) {
        run = filled[i % BINS] ? 0 : run + 1;
        if (run > *empty && run < BINS) {
            *empty = run;
            best = (i + 1) % BINS;
        }
    }
    return best;
}

static void note_longitudes(const struct outlay *outlay, double least_gap_deg,
                            struct box *box) {
    bool filled[BINS] = {false};
    double bin_deg = 360.0 / BINS;
    int empty;
    for (size_t i = 0; i < outlay->count; i++) {
        double lon = angle_wrap_360(outlay->sites[i].lon_deg);
        filled[(int)(lon / bin_deg) % BINS] = true;
    }
    double start = bin_deg * behind_gap(filled, &empty);
    double least = 360.0, most = 0.0;
    for (size_t i = 0; i < outlay->count; i++) {
        /* a point on the edge of the bin may be rounded to just before it */
        double east =
            angle_wrap_360(outlay->sites[i].lon_deg - start + bin_deg / 2.0);
        least = fmin(least, east);
        most = fmax(most, east);
    }
    box->round = bin_deg * empty < fmax(least_gap_deg, 2.0 * bin_deg);
    box->west_deg = box->round ? -180.0 : start - bin_deg / 2.0 + least;
    box->width_deg = box->round ? 360.0 : most - least;
}

/* Two digits, never up; then a whole part of a quarter or of the whole circle:
 * so the pole is on a row, and the same places come out of grids of one product
 * that are cut differently. */
static double round_down(double spacing_deg, double circle_deg) {
    double digit = pow(10.0, floor(log10(spacing_deg)) - 1.0);
    double rounded = floor(spacing_deg / digit + 1e-9) * digit;
    return circle_deg / ceil(circle_deg / rounded - 1e-9);
}

static double nearest_equator_deg(const struct box *box) {
    if (box->south_deg <= 0.0 && box->north_deg >= 0.0)
        return 0.0;
    return fmin(fabs(box->south_deg), fabs(box->north_deg));
}

/* A pole in a cell is nearer to some of its corners than two spacings. */
static void reach_poles(struct box *box, double near_deg) {
    if (box->round && box->north_deg > 90.0 - near_deg)
        box->north_deg = 90.0;
    if (box->round && box->south_deg < near_deg - 90.0)
        box->south_deg = -90.0;
}

static const char *plan_grid(const struct lines *lines,
                             struct resampling *resampling) {
    struct grid *grid = &resampling->grid;
    struct box box;
    note_latitudes(lines->outlay, &box);
    double lat_step = lines->spacing_rad / RADIANS_PER_DEGREE;
    double nearest = fmin(nearest_equator_deg(&box), POLE_DEG);
    double lon_step = lat_step / cos(nearest * RADIANS_PER_DEGREE);
    double furthest =
        fmin(fmax(fabs(box.south_deg), fabs(box.north_deg)), POLE_DEG);
    note_longitudes(
        lines->outlay,
        BORDER_SPACINGS * lat_step / cos(furthest * RADIANS_PER_DEGREE), &box);
    grid->lat_step_deg = round_down(lat_step, 90.0);
    grid->lon_step_deg = round_down(lon_step, 360.0);
    grid->wraps = box.round;
    reach_poles(&box, 2.0 * lat_step);
    double south = ceil(box.south_deg / grid->lat_step_deg - EDGE_FRAC) *
                   grid->lat_step_deg;
    double west = ceil(box.west_deg / grid->lon_step_deg - EDGE_FRAC) *
                  grid->lon_step_deg;
    if (box.round)
        west = -180.0;
    grid->south_deg = fmax(south, -90.0);
    grid->west_deg = angle_wrap_longitude(west);
    return resample_room(
        resampling, box.north_deg - grid->south_deg,
        box.width_deg - (box.round ? 0.0 : west - box.west_deg), NULL);
}

/* --- cells ----------------------------------------------------------------*/

/* A cell and the plane that touches the globe in its middle. */
struct cell {
    struct site middle, right, up; /* at right angles to one another */
    double x[4], y[4];             /* corners 0 to 3 on the plane */
    struct position corner[4];
    uint32_t point[4];
};

/* False on the other side of the globe. */
static bool project(const struct cell *cell, struct site site, double *x,
                    double *y) {
    double height = dot(site, cell->middle);
    if (!(height > CORNER_COSINE))
        return false;
    *x = dot(site, cell->right) / height;
    *y = dot(site, cell->up) / height;
    return true;
}

/* False where its corners lie too far apart. */
static bool cell_at(const struct lines *lines, size_t i, size_t j,
                    struct cell *cell) {
    const struct outlay *outlay = lines->outlay;
    struct site corner[4], sum = {0.0, 0.0, 0.0};
    for (size_t k = 0; k < 4; k++) {
        size_t line = j + k / 2, along = (i + k % 2) % lines->inner;
        size_t start = line * lines->inner;
        cell->corner[k] = outlay->sites[start + along];
        cell->point[k] = resample_index(start, lines->inner, along,
                                        outlay->alternating && line % 2 == 1);
        corner[k] = site_at(cell->corner[k]);
        sum.x += corner[k].x;
        sum.y += corner[k].y;
        sum.z += corner[k].z;
    }
    struct site axis = {0.0, 0.0, 1.0}, other = {1.0, 0.0, 0.0};
    cell->middle = unit(sum);
    cell->right =
        unit(cross(fabs(cell->middle.z) < 0.9 ? axis : other, cell->middle));
    cell->up = cross(cell->middle, cell->right);
    for (int k = 0; k < 4; k++) {
        if (!project(cell, corner[k], &cell->x[k], &cell->y[k]))
            return false;
    }
    return true;
}

/* Where in the cell a place is: parts of the way from corner 0 to 1 and from
 * corner 0 to 2, by Newton's method. False outside. */
static bool find_in_cell(const struct cell *cell, struct site site, double *u,
                         double *v) {
    const double *x = cell->x, *y = cell->y;
    double px, py;
    if (!project(cell, site, &px, &py))
        return false;
    double twist_x = x[0] - x[1] - x[2] + x[3];
    double twist_y = y[0] - y[1] - y[2] + y[3];
    *u = *v = 0.5;
    for (int step = 0; step < NEWTON_STEPS; step++) {
        double off_x = x[0] + *u * (x[1] - x[0]) + *v * (x[2] - x[0]) +
                       *u * *v * twist_x - px;
        double off_y = y[0] + *u * (y[1] - y[0]) + *v * (y[2] - y[0]) +
                       *u * *v * twist_y - py;
        double ux = x[1] - x[0] + *v * twist_x, vx = x[2] - x[0] + *u * twist_x;
        double uy = y[1] - y[0] + *v * twist_y, vy = y[2] - y[0] + *u * twist_y;
        double area = ux * vy - uy * vx;
        if (!(fabs(area) > 0.0))
            return false;
        double du = (off_x * vy - off_y * vx) / area;
        double dv = (off_y * ux - off_x * uy) / area;
        *u -= du;
        *v -= dv;
        if (fabs(du) + fabs(dv) < EDGE_FRAC * EDGE_FRAC)
            break;
    }
    return *u >= -EDGE_FRAC && *u <= 1.0 + EDGE_FRAC && *v >= -EDGE_FRAC &&
           *v <= 1.0 + EDGE_FRAC;
}

static double held(double part) {
    return fmin(fmax(part, 0.0), 1.0);
}

static void blend_cell(const struct cell *cell, double u, double v,
                       struct blend *blend) {
    u = held(u);
    v = held(v);
    const double weight[4] = {(1.0 - u) * (1.0 - v), u * (1.0 - v),
                              (1.0 - u) * v, u * v};
    for (int k = 0; k < 4; k++) {
        blend->weight[k] = (float)weight[k];
        blend->point[k] = cell->point[k];
    }
}

static bool is_filled(const struct blend *blend) {
    return blend->weight[0] + blend->weight[1] + blend->weight[2] +
               blend->weight[3] >
           0.0F;
}

/* Rows and columns of the grid that may lie in a cell; columns count from the
 * west edge and may go beyond the last one where the grid wraps. */
struct window {
    int south, north, west, east;
};

static int bounded(double index, int count) {
    return (int)fmin(fmax(index, 0.0), (double)count - 1.0);
}

static struct window window_of(const struct cell *cell,
                               const struct grid *grid) {
    double south = 90.0, north = -90.0, west = 0.0, east = 0.0, size = 0.0;
    for (int k = 0; k < 4; k++) {
        struct position corner = cell->corner[k];
        double turn = angle_wrap_180(corner.lon_deg - cell->corner[0].lon_deg);
        south = fmin(south, corner.lat_deg);
        north = fmax(north, corner.lat_deg);
        west = fmin(west, turn);
        east = fmax(east, turn);
        size = fmax(size, hypot(cell->x[k], cell->y[k]));
    }
    /* edges are great circles: they bulge beyond their ends, towards a pole by
     * less than the size of the cell */
    double bulge = size / RADIANS_PER_DEGREE;
    struct window window = {
        .south = bounded(
            ceil((south - bulge - grid->south_deg) / grid->lat_step_deg),
            grid->nj),
        .north = bounded(
            floor((north + bulge - grid->south_deg) / grid->lat_step_deg),
            grid->nj),
        .west = 0,
        .east = grid->ni - 1};
    if (north + bulge > 90.0 || south - bulge < -90.0 || east - west > 90.0)
        return window;
    double first =
        angle_wrap_360(cell->corner[0].lon_deg + west - grid->west_deg);
    if (first > 360.0 - grid->lon_step_deg)
        first -= 360.0;
    window.west = (int)floor(first / grid->lon_step_deg);
    window.east =
        window.west + (int)ceil((east - west) / grid->lon_step_deg) + 1;
    return window;
}

static void fill_place(const struct cell *cell, struct resampling *resampling,
                       int column, int row) {
    const struct grid *grid = &resampling->grid;
    double u, v;
    if (grid->wraps)
        column = (column + grid->ni) % grid->ni;
    if (column < 0 || column >= grid->ni)
        return;
    size_t place = (size_t)row * (size_t)grid->ni + (size_t)column;
    struct blend *blend = &resampling->blends[place];
    if (!is_filled(blend) &&
        find_in_cell(cell, site_at(grid_position(grid, place)), &u, &v))
        blend_cell(cell, u, v, blend);
}

static void fill_cell(const struct cell *cell, struct resampling *resampling) {
    struct window window = window_of(cell, &resampling->grid);
    for (int row = window.south; row <= window.north; row++) {
        for (int column = window.west; column <= window.east; column++)
            fill_place(cell, resampling, column, row);
    }
}

const char *resample_lines(const struct outlay *outlay,
                           struct resampling *resampling) {
    struct lines lines = {.outlay = outlay,
                          .inner = outlay->inner,
                          .count = outlay->count / outlay->inner};
    struct cell cell;
    assert(lines.inner * lines.count == outlay->count);
    if (lines.inner < 2 || lines.count < 2)
        return "fewer than 2 x 2 points";
    lines.spacing_rad = spacing_rad(&lines);
    if (!(lines.spacing_rad > 0.0))
        return "points that are all at one place";
    lines.closes = is_closed(&lines);
    resampling->spacing_m = lines.spacing_rad * SPHERE_RADIUS_M;
    const char *fault = plan_grid(&lines, resampling);
    if (fault)
        return fault;
    size_t cells = lines.closes ? lines.inner : lines.inner - 1;
    for (size_t j = 0; j + 1 < lines.count; j++) {
        for (size_t i = 0; i < cells; i++) {
            if (cell_at(&lines, i, j, &cell))
                fill_cell(&cell, resampling);
        }
    }
    return NULL;
}
