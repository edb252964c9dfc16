#include "forecast/grid.h"

#include "earth/angle.h"
#include <math.h>

/* Places this near to the edge of a grid are on it: 0.1 m. */
static const double EDGE_DEG = 1e-6;
/* Corners may differ by the rounding of edition 1, once up and once down. */
static const double SAME_DEG = 0.0015;
/* A span within this part of a step of 360 degrees goes round the globe. */
static const double WRAP_FRAC = 0.1;

static bool is_sane_corner(double lat_deg, double lon_deg) {
    return fabs(lat_deg) <= 90.0 + EDGE_DEG && fabs(lon_deg) <= 720.0;
}

static double lat_step(const struct grid_corners *corners) {
    return fabs(corners->last_lat_deg - corners->first_lat_deg) /
           (double)(corners->nj - 1);
}

/* Degrees from the west column to the east column, (0, 360] and a little. A
 * globe whose last column lies a rounding error beyond its first looks like a
 * sliver: the step tells them apart. */
static double longitude_span(const struct grid_corners *corners) {
    double step =
        corners->lon_step_deg > 0.0 ? corners->lon_step_deg : lat_step(corners);
    double columns = (double)(corners->ni - 1);
    double span = corners->west_going
                      ? corners->first_lon_deg - corners->last_lon_deg
                      : corners->last_lon_deg - corners->first_lon_deg;
    while (span <= 0.0)
        span += 360.0;
    while (span > 360.0 + fmax(step, 0.5))
        span -= 360.0;
    if (span < WRAP_FRAC * step * columns &&
        fabs(span + 360.0 - step * columns) < WRAP_FRAC * step * columns)
        span += 360.0;
    return span;
}

static const char *check_sizes(const struct grid_corners *corners) {
    if (corners->ni < 2 || corners->nj < 2)
        return "fewer than 2 x 2 points";
    if (corners->ni > GRID_POINTS_LIMIT ||
        corners->nj > GRID_POINTS_LIMIT / corners->ni)
        return "more points than the limit of 20 million";
    return NULL;
}

static const char *check_corners(const struct grid_corners *corners) {
    if (!is_sane_corner(corners->first_lat_deg, corners->first_lon_deg) ||
        !is_sane_corner(corners->last_lat_deg, corners->last_lon_deg))
        return "corners that are not on the earth";
    double rise = corners->last_lat_deg - corners->first_lat_deg;
    if (fabs(rise) < EDGE_DEG)
        return "no height between its first and last row";
    if ((rise > 0.0) != corners->north_going)
        return "corners that disagree with its scanning mode";
    return NULL;
}

/* Whole circles: the step becomes exact, a doubled column goes. */
static void close_circle(struct grid *grid, double span_deg) {
    double slack_deg = WRAP_FRAC * grid->lon_step_deg;
    if (fabs(span_deg - 360.0) < slack_deg)
        grid->ni--;
    else if (fabs(span_deg + grid->lon_step_deg - 360.0) >= slack_deg)
        return;
    grid->wraps = true;
    grid->lon_step_deg = 360.0 / grid->ni;
}

const char *grid_make(const struct grid_corners *corners, struct grid *grid) {
    const char *fault = check_sizes(corners);
    if (!fault)
        fault = check_corners(corners);
    if (fault)
        return fault;
    double span = longitude_span(corners);
    *grid = (struct grid){
        .ni = (int)corners->ni,
        .nj = (int)corners->nj,
        .south_deg = fmin(corners->first_lat_deg, corners->last_lat_deg),
        .west_deg =
            angle_wrap_longitude(corners->west_going ? corners->last_lon_deg
                                                     : corners->first_lon_deg),
        .lat_step_deg = lat_step(corners),
        .lon_step_deg = span / (double)(corners->ni - 1)};
    close_circle(grid, span);
    if (grid->ni < 2)
        return "fewer than 2 x 2 points";
    return NULL;
}

/* Our row and column of the message's point number `index`. */
static void place_of(const struct grid_corners *corners, size_t index, long *i,
                     long *j) {
    size_t inner = (size_t)(corners->by_columns ? corners->nj : corners->ni);
    long line = (long)(index / inner), along = (long)(index % inner);
    if (corners->alternating && line % 2 == 1)
        along = (long)inner - 1 - along;
    *i = corners->by_columns ? line : along;
    *j = corners->by_columns ? along : line;
    if (corners->west_going)
        *i = corners->ni - 1 - *i;
    if (!corners->north_going)
        *j = corners->nj - 1 - *j;
}

/* A row or column as the message runs along it. */
struct course {
    const double *values;
    size_t count;
    long i, j, step_i, step_j; /* ours: of the first point, and to the next */
};

static struct course course_of(const struct grid_corners *corners,
                               const double *values, size_t line) {
    size_t count = (size_t)(corners->by_columns ? corners->nj : corners->ni);
    struct course course = {.values = values + line * count, .count = count};
    long next_i, next_j;
    place_of(corners, line * count, &course.i, &course.j);
    place_of(corners, line * count + 1, &next_i, &next_j);
    course.step_i = next_i - course.i;
    course.step_j = next_j - course.j;
    return course;
}

/* Where arranged values go. */
struct arranged {
    const struct grid *grid;
    double missing;
    float *values;
    uint8_t *known;
    size_t gone;
};

static void arrange_course(const struct course *course,
                           struct arranged *arranged) {
    long ni = arranged->grid->ni, i = course->i, j = course->j;
    double missing = arranged->missing;
    for (size_t k = 0; k < course->count; k++) {
        double value = course->values[k];
        /* a NaN is not known either */
        bool there = value > missing || value < missing;
        if (i < ni) {
            arranged->known[j * ni + i] = there;
            arranged->values[j * ni + i] = there ? (float)value : 0.0F;
            arranged->gone += !there;
        }
        i += course->step_i;
        j += course->step_j;
    }
}

size_t grid_arrange(const struct grid_corners *corners, const struct grid *grid,
                    const double *values, double missing, float *arranged,
                    uint8_t *known) {
    size_t lines = (size_t)(corners->by_columns ? corners->ni : corners->nj);
    struct arranged all = {grid, missing, arranged, known, 0};
    for (size_t line = 0; line < lines; line++) {
        struct course course = course_of(corners, values, line);
        arrange_course(&course, &all);
    }
    return all.gone;
}

/* Are all rows there that are wanted? Next to a pole a grid may end. */
static bool has_rows(const struct grid *grid,
                     const struct grid_bounds *wanted) {
    double pole_deg = 90.0 - grid->lat_step_deg;
    double north_deg = grid->south_deg + grid->lat_step_deg * (grid->nj - 1);
    return fmax(wanted->south_deg, -pole_deg) >= grid->south_deg - SAME_DEG &&
           fmin(wanted->north_deg, pole_deg) <= north_deg + SAME_DEG;
}

/* Of the rows those that are wanted, and one beyond on each side; false where
 * they are not all there. */
static bool cut_rows(struct grid *grid, const struct grid_bounds *wanted,
                     struct grid_part *part) {
    const struct grid *whole = &part->whole;
    if (!has_rows(whole, wanted))
        return false;
    double south = (wanted->south_deg - whole->south_deg) / whole->lat_step_deg;
    double north = (wanted->north_deg - whole->south_deg) / whole->lat_step_deg;
    int first = (int)fmin(fmax(floor(south), 0.0), whole->nj - 2.0);
    int last = (int)fmin(fmax(ceil(north), first + 1.0), whole->nj - 1.0);
    part->row = first;
    grid->nj = last - first + 1;
    grid->south_deg = whole->south_deg + whole->lat_step_deg * first;
    return true;
}

/* Likewise. */
static bool cut_columns(struct grid *grid, const struct grid_bounds *wanted,
                        struct grid_part *part) {
    const struct grid *whole = &part->whole;
    double west = angle_wrap_360(wanted->west_deg - whole->west_deg) /
                  whole->lon_step_deg;
    double width = (wanted->east_deg - wanted->west_deg) / whole->lon_step_deg;
    double first = floor(west), last = ceil(west + width);
    if (whole->wraps && last - first + 1.0 >= whole->ni)
        return true;
    if (!whole->wraps && last > whole->ni - 1.0)
        return false;
    part->column = (int)first;
    grid->ni = (int)(last - first) + 1;
    grid->west_deg =
        angle_wrap_longitude(whole->west_deg + whole->lon_step_deg * first);
    grid->wraps = false;
    return true;
}

bool grid_cut(struct grid *grid, const struct grid_bounds *wanted,
              struct grid_part *part) {
    *part = (struct grid_part){.whole = *grid};
    if (grid_points(grid) <= GRID_CUT_POINTS)
        return false;
    if (cut_rows(grid, wanted, part) && cut_columns(grid, wanted, part) &&
        2 * grid_points(grid) <= grid_points(&part->whole))
        return true;
    *grid = part->whole;
    part->column = part->row = 0;
    return false;
}

size_t grid_take(const struct grid_part *part, const struct grid *grid,
                 const struct grid_values *all,
                 const struct grid_values *kept) {
    size_t gone = 0, to = 0;
    for (int j = 0; j < grid->nj; j++) {
        size_t row = (size_t)(part->row + j) * (size_t)part->whole.ni;
        for (int i = 0; i < grid->ni; i++, to++) {
            size_t from = row + (size_t)((part->column + i) % part->whole.ni);
            kept->values[to] = all->values[from];
            kept->known[to] = all->known[from];
            gone += !all->known[from];
        }
    }
    return gone;
}

bool grid_same(const struct grid *a, const struct grid *b) {
    double turn = angle_wrap_180(a->west_deg - b->west_deg);
    return a->ni == b->ni && a->nj == b->nj && a->wraps == b->wraps &&
           fabs(a->south_deg - b->south_deg) < SAME_DEG &&
           fabs(turn) < SAME_DEG &&
           fabs(a->lat_step_deg - b->lat_step_deg) * a->nj < SAME_DEG &&
           fabs(a->lon_step_deg - b->lon_step_deg) * a->ni < SAME_DEG;
}

struct position grid_position(const struct grid *grid, size_t point) {
    size_t row = point / (size_t)grid->ni, column = point % (size_t)grid->ni;
    return (struct position){
        .lat_deg = grid->south_deg + grid->lat_step_deg * (double)row,
        .lon_deg = angle_wrap_longitude(grid->west_deg +
                                        grid->lon_step_deg * (double)column)};
}

/* Splits a coordinate into a cell and the part of the way through it. */
static bool find_along(double along_deg, double step_deg, int count, int *cell,
                       double *part) {
    double steps = along_deg / step_deg, last = count - 1;
    if (!(steps >= 0.0 && steps <= last)) {
        double slack = EDGE_DEG / step_deg;
        if (!(steps >= -slack && steps <= last + slack))
            return false;
        if (steps < 0.0)
            steps = 0.0;
    }
    *cell = (int)steps;
    if (*cell > count - 2)
        *cell = count - 2;
    *part = steps - *cell;
    if (*part > 1.0)
        *part = 1.0;
    return true;
}

bool grid_find(const struct grid *grid, struct position position,
               struct grid_cell *cell) {
    double east_deg = position.lon_deg - grid->west_deg;
    if (east_deg < 0.0)
        east_deg += 360.0;
    if (!grid->wraps && east_deg > 360.0 - EDGE_DEG)
        east_deg = 0.0;
    int columns = grid->wraps ? grid->ni + 1 : grid->ni;
    int i, j;
    double x, y;
    if (!find_along(east_deg, grid->lon_step_deg, columns, &i, &x) ||
        !find_along(position.lat_deg - grid->south_deg, grid->lat_step_deg,
                    grid->nj, &j, &y))
        return false;
    cell->column = i;
    cell->row = j;
    cell->weight[0] = (1.0 - x) * (1.0 - y);
    cell->weight[1] = x * (1.0 - y);
    cell->weight[2] = (1.0 - x) * y;
    cell->weight[3] = x * y;
    return true;
}
