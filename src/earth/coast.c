#include "earth/coast.h"

#include "base/apart.h"
#include "base/file.h"
#include "earth/bin.h"
#include "earth/shore_meet.h"
#include "earth/shore_near.h"

#include <errno.h>
#include <inttypes.h>
#include <math.h>
#include <netcdf.h>
#include <stdint.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* The full set of version 2.3.7 has 64,800 bins, 214,376 segments, at most
 * 4,718 of them and 46,043 points in a bin, 10,995,687 points in all. */
enum {
    BIN_LIMIT = 64800,
    SEGMENT_LIMIT = 4000000,
    BIN_SEGMENT_LIMIT = 65535,
    BIN_POINT_LIMIT = 1000000,
    POINT_LIMIT = 100000000,
    MINUTES_PER_DEGREE = 60,
    VERSION_SIZE = 32
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

static const struct resolution *resolution_of(int bin_minutes) {
    for (size_t i = 0; i < RESOLUTIONS; i++) {
        if (resolutions[i].bin_minutes == bin_minutes)
            return &resolutions[i];
    }
    return NULL;
}

/* The netCDF library, or HDF5 below it, may crash on damaged bytes. So a child
 * reads the file and sends what it finds: words, and what belongs to them. */
enum word {
    WORD_HEAD, /* struct head, first of all */
    WORD_BIN,  /* struct bin_head, then packed, first, x and y of a struct bin;
                  one for each tile of the shore, in order */
    WORD_END,  /* all was read */
    WORD_ERROR /* struct error, and no more */
};

struct head {
    int bin_minutes;
    size_t polygon_count;
    char version[VERSION_SIZE];
};

struct bin_head {
    uint32_t number; /* of the bin in the file */
    int32_t corners;
    uint32_t segment_count, point_count;
};

static bool is_no_source(const char *path, const char *why,
                         struct error *error) {
    return error_set(error, STATUS_INPUT,
                     "'%s' is no GSHHG shoreline file: %s; name a "
                     "binned_GSHHS_?.nc of the package gmt-gshhg-high",
                     path, why);
}

static bool is_damaged(const char *path, const char *what,
                       struct error *error) {
    return error_set(error, STATUS_INPUT, "'%s' is damaged: %s; get it anew",
                     path, what);
}

/* --- in the child: the file ------------------------------------------------*/

struct reader {
    const char *path;
    const struct coast_box *box;
    FILE *out;
    struct arena scratch;
    struct error error;
    int id; /* of netCDF */
    struct head head;
    size_t bin_columns, bin_rows, segment_count, point_count;
    /* of each bin */
    int *first_segment, *segments, *corners;
    /* of each segment */
    int *packed, *first_point;
    /* variables of the points */
    int x_id, y_id;
};

static bool cannot_read(struct reader *reader, const char *name, int status) {
    const char *what = arena_print(&reader->scratch, "%s can't be read (%s)",
                                   name, nc_strerror(status));
    return is_damaged(reader->path, what, &reader->error);
}

static bool is_bad_bin(struct reader *reader, const char *what, size_t bin) {
    what = arena_print(&reader->scratch, "%s in bin %zu", what, bin);
    return is_damaged(reader->path, what, &reader->error);
}

/* The variable of that name, which must be a row of so many numbers. */
static bool find_row(struct reader *reader, const char *name, size_t count,
                     int *id) {
    int dimensions = 0, dimension = 0;
    size_t length = 0;
    if (nc_inq_varid(reader->id, name, id) != NC_NOERR ||
        nc_inq_varndims(reader->id, *id, &dimensions) != NC_NOERR ||
        dimensions != 1 ||
        nc_inq_vardimid(reader->id, *id, &dimension) != NC_NOERR ||
        nc_inq_dimlen(reader->id, dimension, &length) != NC_NOERR) {
        const char *why =
            arena_print(&reader->scratch, "it has no row of %s", name);
        return is_no_source(reader->path, why, &reader->error);
    }
    if (length != count)
        return is_no_source(reader->path, "its tables do not fit together",
                            &reader->error);
    return true;
}

/* A row of numbers, all of it, in `scratch`. */
static bool read_row(struct reader *reader, const char *name, size_t count,
                     int **row) {
    int id = 0;
    if (!find_row(reader, name, count, &id))
        return false;
    *row = arena_alloc(&reader->scratch, count + 1, sizeof **row);
    int status = nc_get_var_int(reader->id, id, *row);
    return status == NC_NOERR || cannot_read(reader, name, status);
}

/* One number, [0, limit]. */
static bool read_count(struct reader *reader, const char *name, size_t limit,
                       size_t *count) {
    int *row = NULL;
    if (!read_row(reader, name, 1, &row))
        return false;
    if (*row < 0 || (size_t)*row > limit)
        return is_no_source(reader->path, "its counts are out of range",
                            &reader->error);
    *count = (size_t)*row;
    return true;
}

static void read_version(struct reader *reader) {
    size_t length = 0;
    int status = nc_inq_attlen(reader->id, NC_GLOBAL, "version", &length);
    if (status == NC_NOERR && length < VERSION_SIZE)
        nc_get_att_text(reader->id, NC_GLOBAL, "version", reader->head.version);
}

static bool read_head(struct reader *reader) {
    size_t minutes = 0, bins = 0;
    if (!read_count(reader, "Bin_size_in_minutes", BIN_LIMIT, &minutes) ||
        !read_count(reader, "N_bins_in_360_longitude_range", BIN_LIMIT,
                    &reader->bin_columns) ||
        !read_count(reader, "N_bins_in_180_degree_latitude_range", BIN_LIMIT,
                    &reader->bin_rows) ||
        !read_count(reader, "N_bins_in_file", BIN_LIMIT, &bins) ||
        !read_count(reader, "N_segments_in_file", SEGMENT_LIMIT,
                    &reader->segment_count) ||
        !read_count(reader, "N_points_in_file", POINT_LIMIT,
                    &reader->point_count) ||
        !read_count(reader, "N_polygons_in_file", SEGMENT_LIMIT,
                    &reader->head.polygon_count))
        return false;
    if (!resolution_of((int)minutes) ||
        reader->bin_columns * minutes != (size_t)360 * MINUTES_PER_DEGREE ||
        reader->bin_rows * minutes != (size_t)180 * MINUTES_PER_DEGREE ||
        reader->bin_columns * reader->bin_rows != bins)
        return is_no_source(reader->path, "its bins do not cover the earth",
                            &reader->error);
    reader->head.bin_minutes = (int)minutes;
    read_version(reader);
    return true;
}

static bool read_tables(struct reader *reader) {
    size_t bins = reader->bin_columns * reader->bin_rows;
    size_t segments = reader->segment_count;
    return read_row(reader, "Id_of_first_segment_in_a_bin", bins,
                    &reader->first_segment) &&
           read_row(reader, "N_segments_in_a_bin", bins, &reader->segments) &&
           read_row(reader, "Embedded_node_levels_in_a_bin", bins,
                    &reader->corners) &&
           read_row(reader, "Embedded_npts_levels_exit_entry_for_a_segment",
                    segments, &reader->packed) &&
           read_row(reader, "Id_of_first_point_in_a_segment", segments,
                    &reader->first_point) &&
           find_row(reader, "Relative_longitude_from_SW_corner_of_bin",
                    reader->point_count, &reader->x_id) &&
           find_row(reader, "Relative_latitude_from_SW_corner_of_bin",
                    reader->point_count, &reader->y_id);
}

/* Points of the file, from `first` to before `end`. */
struct stretch {
    size_t first, end;
};

/* That of all segments of a bin; they follow each other. */
static bool find_stretch(struct reader *reader, size_t bin,
                         struct stretch *stretch) {
    int first = reader->first_segment[bin], count = reader->segments[bin];
    if (first < 0 || count < 0 || count > BIN_SEGMENT_LIMIT ||
        (size_t)first + (size_t)count > reader->segment_count)
        return is_bad_bin(reader, "a number of segments", bin);
    *stretch = (struct stretch){reader->point_count, 0};
    for (int i = 0; i < count; i++) {
        int start = reader->first_point[first + i];
        size_t end = (size_t)start + bin_points(reader->packed[first + i]);
        if (start < 0 || end > reader->point_count)
            return is_bad_bin(reader, "a segment", bin);
        if ((size_t)start < stretch->first)
            stretch->first = (size_t)start;
        if (end > stretch->end)
            stretch->end = end;
    }
    if (stretch->end < stretch->first)
        stretch->end = stretch->first;
    return stretch->end - stretch->first <= BIN_POINT_LIMIT ||
           is_bad_bin(reader, "too many points", bin);
}

static void say(struct reader *reader, enum word word, const void *bytes,
                size_t size) {
    fwrite(&word, sizeof word, 1, reader->out);
    fwrite(bytes, 1, size, reader->out);
}

/* In `scratch`; NULL where the library can't. Shorts in the file stand for
 * numbers of 0 to 65535. */
static short *read_points(struct reader *reader, const struct stretch *stretch,
                          int id, struct arena *scratch) {
    size_t count = stretch->end - stretch->first;
    short *parts = arena_alloc(scratch, count + 1, sizeof *parts);
    if (count == 0)
        return parts;
    int status =
        nc_get_vara_short(reader->id, id, &stretch->first, &count, parts);
    if (status == NC_NOERR)
        return parts;
    cannot_read(reader, "points", status);
    return NULL;
}

static bool send_bin(struct reader *reader, size_t bin, struct arena *scratch) {
    struct stretch stretch = {0, 0};
    if (!find_stretch(reader, bin, &stretch))
        return false;
    const short *x = read_points(reader, &stretch, reader->x_id, scratch);
    const short *y =
        x ? read_points(reader, &stretch, reader->y_id, scratch) : NULL;
    if (!y)
        return false;
    size_t first = (size_t)reader->first_segment[bin];
    size_t count = (size_t)reader->segments[bin];
    size_t points = stretch.end - stretch.first;
    struct bin_head head = {.number = (uint32_t)bin,
                            .corners = reader->corners[bin],
                            .segment_count = (uint32_t)count,
                            .point_count = (uint32_t)points};
    say(reader, WORD_BIN, &head, sizeof head);
    fwrite(reader->packed + first, sizeof *reader->packed, count, reader->out);
    for (size_t i = first; i < first + count; i++) {
        size_t start = (size_t)reader->first_point[i] - stretch.first;
        fwrite(&(uint32_t){(uint32_t)start}, sizeof(uint32_t), 1, reader->out);
    }
    fwrite(x, sizeof *x, points, reader->out);
    fwrite(y, sizeof *y, points, reader->out);
    return true;
}

/* Bins go from 90 N eastwards from Greenwich, tiles from the south-west. */
static bool send_bins(struct reader *reader) {
    struct shore shore;
    double tile_deg = (double)reader->head.bin_minutes / MINUTES_PER_DEGREE;
    shore_begin(&shore, reader->box, tile_deg, &reader->scratch);
    size_t from_south = (size_t)lround((shore.south_deg + 90.0) / tile_deg);
    long from_zero = lround(shore.west_deg / tile_deg);
    long round = (long)reader->bin_columns;
    for (size_t tile = 0; tile < shore.tile_rows * shore.tile_columns; tile++) {
        size_t up = from_south + tile / shore.tile_columns;
        long column = from_zero + (long)(tile % shore.tile_columns);
        size_t bin = (reader->bin_rows - 1 - up) * reader->bin_columns +
                     (size_t)((column % round + round) % round);
        struct arena scratch;
        arena_init(&scratch);
        bool good = send_bin(reader, bin, &scratch);
        arena_free(&scratch);
        if (!good)
            return false;
    }
    return true;
}

static bool send_all(struct reader *reader) {
    int status = nc_open(reader->path, NC_NOWRITE, &reader->id);
    if (status != NC_NOERR)
        return is_no_source(reader->path, nc_strerror(status), &reader->error);
    if (!read_head(reader) || !read_tables(reader))
        return false;
    say(reader, WORD_HEAD, &reader->head, sizeof reader->head);
    return send_bins(reader);
}

/* What is open and allocated goes with the process. */
static void read_file(void *context, FILE *out) {
    struct reader *reader = context;
    reader->out = out;
    if (send_all(reader))
        say(reader, WORD_END, "", 0);
    else
        say(reader, WORD_ERROR, &reader->error, sizeof reader->error);
}

/* --- in the parent: what it was told ---------------------------------------*/

struct receiver {
    struct apart apart;
    const char *path;
    const struct coast_box *box;
    struct coast *coast;
    struct arena *arena;
    struct error *error;
    size_t tile, tiles; /* next to come, and all */
    size_t points;      /* so far */
};

static bool broke_down(const struct receiver *receiver) {
    return is_damaged(receiver->path, "the netCDF library broke down on it",
                      receiver->error);
}

static bool take_head(struct receiver *receiver) {
    struct coast *coast = receiver->coast;
    struct head head;
    if (receiver->tiles > 0 ||
        !apart_read(&receiver->apart, &head, sizeof head))
        return broke_down(receiver);
    const struct resolution *resolution = resolution_of(head.bin_minutes);
    if (!resolution)
        return broke_down(receiver);
    head.version[VERSION_SIZE - 1] = '\0';
    coast->resolution = resolution->letter;
    coast->polygon_count = head.polygon_count;
    coast->name =
        arena_print(receiver->arena, "GSHHG %s%s%s resolution", head.version,
                    head.version[0] ? ", " : "", resolution->name);
    shore_begin(&coast->shore, receiver->box,
                (double)head.bin_minutes / MINUTES_PER_DEGREE, receiver->arena);
    receiver->tiles = coast->shore.tile_rows * coast->shore.tile_columns;
    return true;
}

/* `count` items in `scratch`, or NULL if they did not come. */
static void *take_items(struct receiver *receiver, size_t count, size_t size,
                        struct arena *scratch) {
    void *items = arena_alloc(scratch, count + 1, size);
    return apart_read(&receiver->apart, items, count * size) ? items : NULL;
}

static bool take_bin_into(struct receiver *receiver, struct arena *scratch) {
    struct bin_head head;
    if (receiver->tile >= receiver->tiles ||
        !apart_read(&receiver->apart, &head, sizeof head) ||
        head.segment_count > BIN_SEGMENT_LIMIT ||
        head.point_count > BIN_POINT_LIMIT)
        return broke_down(receiver);
    size_t segments = head.segment_count, points = head.point_count;
    struct bin bin = {.corners = head.corners,
                      .segment_count = segments,
                      .point_count = points};
    receiver->points += points;
    if (receiver->points > POINT_LIMIT ||
        !(bin.packed =
              take_items(receiver, segments, sizeof *bin.packed, scratch)) ||
        !(bin.first =
              take_items(receiver, segments, sizeof *bin.first, scratch)) ||
        !(bin.x = take_items(receiver, points, sizeof *bin.x, scratch)) ||
        !(bin.y = take_items(receiver, points, sizeof *bin.y, scratch)))
        return broke_down(receiver);
    const char *wrong = bin_fill(&bin, &receiver->coast->shore,
                                 receiver->tile++, receiver->arena);
    if (!wrong)
        return true;
    wrong = arena_print(scratch, "%s in bin %" PRIu32, wrong, head.number);
    return is_damaged(receiver->path, wrong, receiver->error);
}

static bool take_bin(struct receiver *receiver) {
    struct arena scratch;
    arena_init(&scratch);
    bool good = take_bin_into(receiver, &scratch);
    arena_free(&scratch);
    return good;
}

static bool take_error(struct receiver *receiver) {
    if (!apart_read(&receiver->apart, receiver->error, sizeof(struct error)) ||
        receiver->error->status != STATUS_INPUT)
        return broke_down(receiver);
    receiver->error->text[ERROR_TEXT_SIZE - 1] = '\0';
    return false;
}

/* Up to the end, or to an error. */
static bool take_all(struct receiver *receiver) {
    enum word word;
    for (;;) {
        bool good = false;
        if (!apart_read(&receiver->apart, &word, sizeof word))
            return broke_down(receiver);
        if (word == WORD_HEAD)
            good = take_head(receiver);
        else if (word == WORD_BIN)
            good = take_bin(receiver);
        else if (word == WORD_ERROR)
            good = take_error(receiver);
        else
            return (word == WORD_END && receiver->tiles > 0 &&
                    receiver->tile == receiver->tiles) ||
                   broke_down(receiver);
        if (!good)
            return false;
    }
}

/* A pipe, a device or a folder might never come to an end. */
static bool is_readable(const char *path, struct error *error) {
    struct stat about;
    bool there = stat(path, &about) == 0;
    if (there && !S_ISREG(about.st_mode))
        return is_no_source(path, "it is no plain file", error);
    return (there && access(path, R_OK) == 0) ||
           error_set(error, error_status_now(STATUS_INPUT),
                     "'%s' can't be read: %s", path, strerror(errno));
}

bool coast_load(struct coast **coast, const char *path,
                const struct coast_box *box, struct arena *arena,
                struct error *error) {
    if (!is_readable(path, error))
        return false;
    struct reader reader = {.path = path, .box = box};
    struct receiver receiver = {.path = path,
                                .box = box,
                                .coast = arena_alloc(arena, 1, sizeof **coast),
                                .arena = arena,
                                .error = error};
    if (!apart_begin(&receiver.apart, read_file, &reader, error))
        return false;
    bool good = take_all(&receiver);
    apart_end(&receiver.apart);
    if (!good)
        return false;
    shore_finish(&receiver.coast->shore, arena);
    *coast = receiver.coast;
    return true;
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

const struct shore *coast_shore(const struct coast *coast) {
    return &coast->shore;
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
