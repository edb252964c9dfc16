#include "gshhg_maker.h"

#include "check.h"

#include <math.h>
#include <netcdf.h>
#include <stdio.h>
#include <string.h>

enum { CLOSED = 4, EAST = 1, WEST = 3, EQUATOR_ROW = 4, LAST_ROW = 8 };

static const double BIN_DEG = 20.0;

/* A stretch of shoreline: corners in degrees from the bin's south-west. */
struct stretch {
    int level, entry, exit, count;
    double corners[5][2];
};

static const struct stretch greenwich_east = {
    1, WEST, WEST, 3, {{0, 9}, {3, 10}, {0, 11}}};
static const struct stretch island = {
    1, CLOSED, CLOSED, 5, {{4, 4}, {16, 4}, {16, 16}, {4, 16}, {4, 4}}};
static const struct stretch lake = {
    2, CLOSED, CLOSED, 5, {{8, 8}, {12, 8}, {12, 12}, {8, 12}, {8, 8}}};
static const struct stretch west_half = {
    1, EAST, EAST, 3, {{20, 11}, {17, 10}, {20, 9}}};
static const struct stretch ice_front = {
    1, WEST, EAST, 2, {{0, 15.26}, {20, 15.26}}};
static const struct stretch grounding_line = {
    6, WEST, EAST, 2, {{0, 9.16}, {20, 9.16}}};

static void add(struct gshhg *gshhg, int bin, const struct stretch *stretch) {
    int number = gshhg->segments++;
    if (gshhg->segments_of_bin[bin]++ == 0)
        gshhg->first_segment[bin] = number;
    gshhg->packed[number] = stretch->count << 9 | stretch->level << 6 |
                            stretch->entry << 3 | stretch->exit;
    gshhg->first_point[number] = gshhg->points;
    for (int i = 0; i < stretch->count; i++, gshhg->points++) {
        const double *corner = stretch->corners[i];
        gshhg->x[gshhg->points] =
            (unsigned short)lround(corner[0] / BIN_DEG * 65535.0);
        gshhg->y[gshhg->points] =
            (unsigned short)lround(corner[1] / BIN_DEG * 65535.0);
    }
}

struct gshhg gshhg_make(void) {
    struct gshhg gshhg = {.bin_minutes = 1200,
                          .columns = GSHHG_COLUMNS,
                          .rows = GSHHG_BINS / GSHHG_COLUMNS,
                          .bins = GSHHG_BINS,
                          .polygons = 5};
    int equator = EQUATOR_ROW * GSHHG_COLUMNS;
    add(&gshhg, equator, &greenwich_east);
    add(&gshhg, equator + 1, &island);
    add(&gshhg, equator + 1, &lake);
    add(&gshhg, equator + 8, &west_half);
    add(&gshhg, equator + 9, &greenwich_east);
    add(&gshhg, equator + 17, &west_half);
    for (int bin = LAST_ROW * GSHHG_COLUMNS; bin < GSHHG_BINS; bin++) {
        add(&gshhg, bin, &ice_front);
        add(&gshhg, bin, &grounding_line);
        gshhg.corners[bin] = 1 << 9 | 1 << 6; /* both on the south side */
    }
    assert_int_equal(gshhg.segments, GSHHG_SEGMENTS);
    assert_int_equal(gshhg.points, GSHHG_POINTS);
    return gshhg;
}

struct variable {
    const char *name;
    nc_type type;
    int length;
    const void *values;
};

/* Shorts stand for unsigned ones, as in the real files. */
static void put(int file, const struct variable *variables, int count) {
    int ids[32];
    assert_in_range(count, 1, 32);
    for (int i = 0; i < count; i++) {
        int dimension;
        char name[64];
        snprintf(name, sizeof name, "Dimension_%d", i);
        assert_int_equal(
            nc_def_dim(file, name, (size_t)variables[i].length, &dimension),
            NC_NOERR);
        assert_int_equal(nc_def_var(file, variables[i].name, variables[i].type,
                                    1, &dimension, &ids[i]),
                         NC_NOERR);
    }
    assert_int_equal(nc_enddef(file), NC_NOERR);
    for (int i = 0; i < count; i++)
        assert_int_equal(nc_put_var(file, ids[i], variables[i].values),
                         NC_NOERR);
}

const char *gshhg_write(const struct gshhg *g, const char *name) {
    const struct variable all[] = {
        {"Bin_size_in_minutes", NC_INT, 1, &g->bin_minutes},
        {"N_bins_in_360_longitude_range", NC_INT, 1, &g->columns},
        {"N_bins_in_180_degree_latitude_range", NC_INT, 1, &g->rows},
        {"N_bins_in_file", NC_INT, 1, &g->bins},
        {"N_polygons_in_file", NC_INT, 1, &g->polygons},
        {"N_segments_in_file", NC_INT, 1, &g->segments},
        {"N_points_in_file", NC_INT, 1, &g->points},
        {"Id_of_first_segment_in_a_bin", NC_INT, GSHHG_BINS, g->first_segment},
        {"N_segments_in_a_bin", NC_SHORT, GSHHG_BINS, g->segments_of_bin},
        {"Embedded_node_levels_in_a_bin", NC_SHORT, GSHHG_BINS, g->corners},
        {"Embedded_npts_levels_exit_entry_for_a_segment", NC_INT,
         GSHHG_SEGMENTS, g->packed},
        {"Id_of_first_point_in_a_segment", NC_INT, GSHHG_SEGMENTS,
         g->first_point},
        {"Relative_longitude_from_SW_corner_of_bin", NC_SHORT, GSHHG_POINTS,
         g->x},
        {"Relative_latitude_from_SW_corner_of_bin", NC_SHORT, GSHHG_POINTS,
         g->y}};
    struct variable kept[32];
    int count = 0, file;
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++) {
        if (!g->without || strcmp(all[i].name, g->without) != 0)
            kept[count++] = all[i];
    }
    const char *path = check_write(name, "");
    assert_int_equal(nc_create(path, NC_NETCDF4 | NC_CLOBBER, &file), NC_NOERR);
    assert_int_equal(nc_put_att_text(file, NC_GLOBAL, "version", 3, "0.1"),
                     NC_NOERR);
    put(file, kept, count);
    assert_int_equal(nc_close(file), NC_NOERR);
    return path;
}
