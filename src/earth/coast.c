#include "earth/coast.h"

#include "base/file.h"
#include "earth/shore_meet.h"
#include "earth/shore_near.h"

#include <errno.h>
#include <math.h>
#include <netcdf.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

/* The full set of version 2.3.7 has 64,800 bins, 214,376 segments, at most
 * 46,043 points in a bin, 10,995,687 in all. */
enum {
    BIN_LIMIT = 64800,
    SEGMENT_LIMIT = 4000000,
    BIN_POINT_LIMIT = 1000000,
    POINT_LIMIT = 100000000,
    NAME_SIZE = 64,
    PART_LAST = 65535, /* parts of a bin's side */
    MINUTES_PER_DEGREE = 60,
    CORNERS = 4,
    LEVELS = COAST_POND
};

struct coast {
    struct shore shore;
    const char *name;
    char resolution;
    size_t polygon_count;
};

static const struct resolution {
    char letter;
    int bin_minutes;
    const char *name;
} resolutions[] = {{'f', 60, "full"},
                   {'h', 120, "high"},
                   {'i', 300, "intermediate"},
                   {'l', 600, "low"},
                   {'c', 1200, "crude"}};

enum { RESOLUTIONS = sizeof resolutions / sizeof resolutions[0] };

const char *coast_installed(struct arena *arena) {
    static const char *const starts[] = {"/usr/share/gmt-gshhg/binned_GSHHS_",
                                         "/usr/share/gmt-gshhg/binned_GSHHG_"};
    for (size_t i = 0; i < RESOLUTIONS; i++) {
        for (size_t k = 0; k < sizeof starts / sizeof starts[0]; k++) {
            const char *path =
                arena_print(arena, "%s%c.nc", starts[k], resolutions[i].letter);
            if (file_exists(path))
                return path;
        }
    }
    return NULL;
}

/* --- the file --------------------------------------------------------------*/

/* A stretch of shoreline in a bin, as it stands in the file. */
struct segment {
    size_t first, count; /* points */
    enum coast_level level;
    enum shore_side entry, exit;
    bool is_left_out; /* the line where Antarctica's ice begins to float */
};

struct source {
    int id; /* of netCDF */
    const char *path;
    struct error *error;
    struct arena scratch;
    const struct resolution *resolution;
    size_t bin_columns, bin_rows;
    size_t segment_count, point_count, polygon_count;
    /* of each bin */
    int *first_segment, *segments, *corners;
    /* of each segment */
    int *packed, *first_point;
    int x_id, y_id; /* variables of the points */
};

static bool is_no_source(const struct source *source, const char *why) {
    return error_set(source->error, STATUS_INPUT,
                     "'%s' is no GSHHG shoreline file: %s; name a "
                     "binned_GSHHS_?.nc of the package gmt-gshhg-high",
                     source->path, why);
}

static bool is_damaged(const struct source *source, const char *what,
                       size_t bin) {
    return error_set(source->error, STATUS_INPUT,
                     "'%s' is damaged: %s in bin %zu; get the file anew",
                     source->path, what, bin);
}

static bool is_unreadable(const struct source *source, const char *name,
                          int status) {
    return error_set(source->error, STATUS_INPUT,
                     "'%s' is damaged: %s can't be read (%s); get the file "
                     "anew",
                     source->path, name, nc_strerror(status));
}

/* The variable and how long its only dimension is. */
static bool find(const struct source *source, const char *name, int *id,
                 size_t *length) {
    int dimensions = 0, dimension = 0;
    char why[NAME_SIZE + 32];
    snprintf(why, sizeof why, "it has no row of %s", name);
    if (nc_inq_varid(source->id, name, id) != NC_NOERR ||
        nc_inq_varndims(source->id, *id, &dimensions) != NC_NOERR ||
        dimensions != 1 ||
        nc_inq_vardimid(source->id, *id, &dimension) != NC_NOERR ||
        nc_inq_dimlen(source->id, dimension, length) != NC_NOERR)
        return is_no_source(source, why);
    return true;
}

/* A row of `count` numbers, all of it. */
static int *read_row(struct source *source, const char *name, size_t count) {
    int id = 0;
    size_t length = 0;
    if (!find(source, name, &id, &length))
        return NULL;
    if (length != count) {
        is_no_source(source, "its tables do not fit together");
        return NULL;
    }
    int *row = arena_alloc(&source->scratch, count + 1, sizeof *row);
    int status = nc_get_var_int(source->id, id, row);
    if (status == NC_NOERR)
        return row;
    is_unreadable(source, name, status);
    return NULL;
}

/* A number of things, [0, limit]. */
static bool read_count(struct source *source, const char *name, size_t limit,
                       size_t *count) {
    const int *row = read_row(source, name, 1);
    if (!row)
        return false;
    if (*row < 0 || (size_t)*row > limit)
        return is_no_source(source, "its counts are out of range");
    *count = (size_t)*row;
    return true;
}

static bool read_layout(struct source *source) {
    size_t minutes = 0, bins = 0;
    if (!read_count(source, "Bin_size_in_minutes", BIN_LIMIT, &minutes) ||
        !read_count(source, "N_bins_in_360_longitude_range", BIN_LIMIT,
                    &source->bin_columns) ||
        !read_count(source, "N_bins_in_180_degree_latitude_range", BIN_LIMIT,
                    &source->bin_rows) ||
        !read_count(source, "N_bins_in_file", BIN_LIMIT, &bins) ||
        !read_count(source, "N_segments_in_file", SEGMENT_LIMIT,
                    &source->segment_count) ||
        !read_count(source, "N_points_in_file", POINT_LIMIT,
                    &source->point_count) ||
        !read_count(source, "N_polygons_in_file", SEGMENT_LIMIT,
                    &source->polygon_count))
        return false;
    for (size_t i = 0; i < RESOLUTIONS; i++) {
        if (resolutions[i].bin_minutes == (int)minutes)
            source->resolution = &resolutions[i];
    }
    if (!source->resolution ||
        source->bin_columns * minutes != (size_t)360 * MINUTES_PER_DEGREE ||
        source->bin_rows * minutes != (size_t)180 * MINUTES_PER_DEGREE ||
        source->bin_columns * source->bin_rows != bins)
        return is_no_source(source, "its bins do not cover the earth");
    return true;
}

static bool read_tables(struct source *source) {
    size_t bins = source->bin_columns * source->bin_rows, points[2] = {0};
    size_t segments = source->segment_count;
    source->first_segment =
        read_row(source, "Id_of_first_segment_in_a_bin", bins);
    source->segments = source->first_segment
                           ? read_row(source, "N_segments_in_a_bin", bins)
                           : NULL;
    source->corners =
        source->segments
            ? read_row(source, "Embedded_node_levels_in_a_bin", bins)
            : NULL;
    source->packed =
        source->corners
            ? read_row(source, "Embedded_npts_levels_exit_entry_for_a_segment",
                       segments)
            : NULL;
    source->first_point =
        source->packed
            ? read_row(source, "Id_of_first_point_in_a_segment", segments)
            : NULL;
    if (!source->first_point ||
        !find(source, "Relative_longitude_from_SW_corner_of_bin", &source->x_id,
              &points[0]) ||
        !find(source, "Relative_latitude_from_SW_corner_of_bin", &source->y_id,
              &points[1]))
        return false;
    if (points[0] != source->point_count || points[1] != source->point_count)
        return is_no_source(source, "its tables do not fit together");
    return true;
}

/* --- one bin ---------------------------------------------------------------*/

/* Three bits each from the south-west corner against the clock, the first
 * highest. */
static int corner_level(const struct source *source, size_t bin, int corner) {
    int shift = 3 * (CORNERS - 1 - corner);
    return (int)((unsigned)source->corners[bin] >> shift & 7U);
}

/* Bits 0-2 hold the side of the last point, 3-5 that of the first, 6-8 the
 * level, all above the number of points. Level 5 and 6 are Antarctica's two
 * lines: the front of its ice, which the files give as level 1, and the line
 * where the ice begins to float, which has a 6 and nodes of its own. */
static bool unpack(const struct source *source, size_t number,
                   struct segment *segment) {
    enum { GROUNDING_LINE = 6 };
    unsigned packed = (unsigned)source->packed[number];
    unsigned level = packed >> 6 & 7U, entry = packed >> 3 & 7U;
    unsigned exit = packed & 7U;
    int first = source->first_point[number];
    segment->count = packed >> 9;
    segment->is_left_out = level == GROUNDING_LINE;
    if (segment->is_left_out)
        level = COAST_LAND;
    if (level < COAST_LAND || level > COAST_POND || entry > SHORE_CLOSED ||
        exit > SHORE_CLOSED ||
        (entry == SHORE_CLOSED) != (exit == SHORE_CLOSED) || first < 0 ||
        segment->count < 1 || segment->count > source->point_count ||
        (size_t)first > source->point_count - segment->count)
        return false;
    segment->first = (size_t)first;
    segment->level = (enum coast_level)level;
    segment->entry = (enum shore_side)entry;
    segment->exit = (enum shore_side)exit;
    return true;
}

/* The points of a bin, one after the other in the file. */
struct stretch {
    size_t first, count;
    uint16_t *x, *y; /* parts of PART_LAST from the south-west corner */
};

static bool read_stretch(const struct source *source, struct stretch *stretch,
                         struct arena *arena) {
    stretch->x = arena_alloc(arena, stretch->count, sizeof *stretch->x);
    stretch->y = arena_alloc(arena, stretch->count, sizeof *stretch->y);
    short *x = (short *)stretch->x, *y = (short *)stretch->y;
    int status = nc_get_vara_short(source->id, source->x_id, &stretch->first,
                                   &stretch->count, x);
    if (status == NC_NOERR)
        status = nc_get_vara_short(source->id, source->y_id, &stretch->first,
                                   &stretch->count, y);
    if (status != NC_NOERR)
        return is_unreadable(source, "points", status);
    return true;
}

static bool is_on_side(const struct stretch *stretch, size_t point,
                       enum shore_side side) {
    switch (side) {
    case SHORE_SOUTH:
        return stretch->y[point] == 0;
    case SHORE_EAST:
        return stretch->x[point] == PART_LAST;
    case SHORE_NORTH:
        return stretch->y[point] == PART_LAST;
    case SHORE_WEST:
        return stretch->x[point] == 0;
    case SHORE_CLOSED:
        return true;
    }
    return false;
}

static bool ends_fit(const struct stretch *stretch,
                     const struct segment *segment) {
    size_t first = segment->first - stretch->first;
    size_t last = first + segment->count - 1;
    if (segment->entry == SHORE_CLOSED)
        return stretch->x[first] == stretch->x[last] &&
               stretch->y[first] == stretch->y[last];
    return is_on_side(stretch, first, segment->entry) &&
           is_on_side(stretch, last, segment->exit);
}

/* Round the bin the levels of its corners change where shorelines leave it,
 * and nowhere else. */
static bool corners_fit(const struct source *source, size_t bin,
                        const struct segment *segments, size_t count) {
    bool odd[CORNERS][LEVELS + 1] = {{false}};
    for (size_t i = 0; i < count; i++) {
        const struct segment *segment = &segments[i];
        if (segment->is_left_out || segment->entry == SHORE_CLOSED)
            continue;
        odd[segment->entry][segment->level] ^= true;
        odd[segment->exit][segment->level] ^= true;
    }
    for (int side = 0; side < CORNERS; side++) {
        int from = corner_level(source, bin, side);
        int to = corner_level(source, bin, (side + 1) % CORNERS);
        for (int level = COAST_LAND; level <= LEVELS; level++) {
            if (((from >= level) != (to >= level)) != odd[side][level])
                return false;
        }
    }
    return true;
}

/* The segments of a bin, and the stretch of points that they take. */
static struct segment *bin_segments(const struct source *source, size_t bin,
                                    struct stretch *stretch,
                                    struct arena *scratch) {
    int first = source->first_segment[bin], count = source->segments[bin];
    if (count < 0 || first < 0 ||
        (size_t)first + (size_t)count > source->segment_count) {
        is_damaged(source, "a number of segments", bin);
        return NULL;
    }
    struct segment *segments =
        arena_alloc(scratch, (size_t)count + 1, sizeof *segments);
    size_t low = source->point_count, high = 0;
    for (int i = 0; i < count; i++) {
        size_t number = (size_t)first + (size_t)i;
        if (!unpack(source, number, &segments[i])) {
            is_damaged(source, "a segment", bin);
            return NULL;
        }
        size_t end = segments[i].first + segments[i].count;
        low = segments[i].first < low ? segments[i].first : low;
        high = end > high ? end : high;
    }
    stretch->first = low;
    stretch->count = high > low ? high - low : 0;
    if (stretch->count > BIN_POINT_LIMIT) {
        is_damaged(source, "too many points", bin);
        return NULL;
    }
    return segments;
}

/* On the chart, in `arena`. */
static struct shore_line line_of(const struct shore *shore, size_t tile,
                                 const struct segment *segment,
                                 const struct stretch *stretch,
                                 struct arena *arena) {
    struct mercator *points =
        arena_alloc(arena, segment->count, sizeof *points);
    size_t first = segment->first - stretch->first;
    for (size_t i = 0; i < segment->count; i++)
        points[i] =
            shore_place(shore, tile, (double)stretch->x[first + i] / PART_LAST,
                        (double)stretch->y[first + i] / PART_LAST);
    return (struct shore_line){.points = points,
                               .count = segment->count,
                               .level = segment->level,
                               .entry = segment->entry,
                               .exit = segment->exit};
}

static bool fill_tile(const struct source *source, size_t bin,
                      struct shore *shore, size_t tile, struct arena *arena,
                      struct arena *scratch) {
    struct stretch stretch;
    const struct segment *segments =
        bin_segments(source, bin, &stretch, scratch);
    if (!segments)
        return false;
    size_t count = (size_t)source->segments[bin];
    if (!corners_fit(source, bin, segments, count))
        return is_damaged(source, "levels that do not fit", bin);
    shore->tiles[tile].corner = (enum coast_level)corner_level(source, bin, 0);
    if (stretch.count == 0)
        return true;
    if (!read_stretch(source, &stretch, scratch))
        return false;
    struct shore_line *lines = arena_alloc(arena, count, sizeof *lines);
    size_t used = 0;
    for (size_t i = 0; i < count; i++) {
        if (!ends_fit(&stretch, &segments[i]))
            return is_damaged(source, "a loose end", bin);
        if (!segments[i].is_left_out)
            lines[used++] = line_of(shore, tile, &segments[i], &stretch, arena);
    }
    shore->tiles[tile].lines = lines;
    shore->tiles[tile].line_count = used;
    return true;
}

/* Bins go from the north-west, tiles from the south-west. */
static bool fill_tiles(struct source *source, struct shore *shore,
                       struct arena *arena) {
    double tile_deg = shore->tile_deg;
    size_t from_south = (size_t)lround((shore->south_deg + 90.0) / tile_deg);
    long from_zero = lround(shore->west_deg / tile_deg);
    long round = (long)source->bin_columns;
    size_t tiles = shore->tile_rows * shore->tile_columns;
    for (size_t tile = 0; tile < tiles; tile++) {
        size_t up = from_south + tile / shore->tile_columns;
        long column = from_zero + (long)(tile % shore->tile_columns);
        size_t bin = (source->bin_rows - 1 - up) * source->bin_columns +
                     (size_t)((column % round + round) % round);
        struct arena scratch;
        arena_init(&scratch);
        bool good = fill_tile(source, bin, shore, tile, arena, &scratch);
        arena_free(&scratch);
        if (!good)
            return false;
    }
    return true;
}

/* --- all of it -------------------------------------------------------------*/

static const char *describe(const struct source *source, struct arena *arena) {
    char version[NAME_SIZE] = "";
    size_t length = 0;
    int status = nc_inq_attlen(source->id, NC_GLOBAL, "version", &length);
    if (status == NC_NOERR && length < sizeof version)
        nc_get_att_text(source->id, NC_GLOBAL, "version", version);
    return arena_print(arena, "GSHHG %s%s%s resolution", version,
                       version[0] ? ", " : "", source->resolution->name);
}

static bool load_source(struct source *source, const struct coast_box *box,
                        struct coast *coast, struct arena *arena) {
    if (!read_layout(source) || !read_tables(source))
        return false;
    double tile_deg =
        (double)source->resolution->bin_minutes / MINUTES_PER_DEGREE;
    shore_begin(&coast->shore, box, tile_deg, arena);
    if (!fill_tiles(source, &coast->shore, arena))
        return false;
    shore_finish(&coast->shore, arena);
    coast->name = describe(source, arena);
    coast->resolution = source->resolution->letter;
    coast->polygon_count = source->polygon_count;
    return true;
}

bool coast_load(struct coast **coast, const char *path,
                const struct coast_box *box, struct arena *arena,
                struct error *error) {
    struct source source = {.path = path, .error = error};
    FILE *stream = fopen(path, "rb");
    if (!stream)
        return error_set(error, STATUS_INPUT, "'%s' can't be read: %s", path,
                         strerror(errno));
    fclose(stream);
    int status = nc_open(path, NC_NOWRITE, &source.id);
    if (status != NC_NOERR)
        return is_no_source(&source, nc_strerror(status));
    *coast = arena_alloc(arena, 1, sizeof **coast);
    arena_init(&source.scratch);
    bool good = load_source(&source, box, *coast, arena);
    arena_free(&source.scratch);
    nc_close(source.id);
    return good;
}

/* --- questions -------------------------------------------------------------*/

const char *coast_name(const struct coast *coast) {
    return coast->name;
}

char coast_resolution(const struct coast *coast) {
    return coast->resolution;
}

size_t coast_polygon_count(const struct coast *coast) {
    return coast->polygon_count;
}

bool coast_covers(const struct coast *coast, struct position position) {
    return shore_covers(&coast->shore, position);
}

enum coast_level coast_level_at(const struct coast *coast,
                                struct position position) {
    return shore_level(&coast->shore, shore_chart(&coast->shore, position));
}

bool coast_meets(const struct coast *coast, struct position from,
                 struct position to) {
    return shore_meets(&coast->shore, from, to);
}

bool coast_meets_geodesic(const struct coast *coast, struct position from,
                          struct position to) {
    return shore_meets_geodesic(&coast->shore, from, to);
}

bool coast_first_crossing(const struct coast *coast, struct position from,
                          struct position to, struct position *at) {
    return shore_first_crossing(&coast->shore, from, to, at);
}

double coast_segment_distance_m(const struct coast *coast, struct position from,
                                struct position to, double most_m) {
    return shore_segment_distance_m(&coast->shore, from, to, most_m);
}

bool coast_nearer(const struct coast *coast, struct position from,
                  struct position to, double distance_m) {
    return shore_nearer(&coast->shore, from, to, distance_m);
}

double coast_distance_m(const struct coast *coast, struct position at,
                        double most_m, struct position *nearest) {
    return shore_distance_m(&coast->shore, at, most_m, nearest);
}
