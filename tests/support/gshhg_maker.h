/* Invented shorelines in a file of GSHHG's binned form, crude set: bins of 20
 * degrees. Land:
 *
 *   a square island 24 to 36 E, 6 S to 6 N; a lake in it 28 to 32 E, 2 S to
 *   2 N
 *   a diamond over 180 and one over Greenwich, from 3 degrees west of the
 *   meridian to 3 degrees east, from 1 S to 1 N
 *   all that is south of 74.74 S; its ice floats north of 80.84 S
 */
#ifndef TESTS_GSHHG_MAKER_H
#define TESTS_GSHHG_MAKER_H

#include <stddef.h>

enum {
    GSHHG_BINS = 162,
    GSHHG_COLUMNS = 18,
    GSHHG_SEGMENTS = 42,
    GSHHG_POINTS = 94
};

/* The tables of the file, to be damaged one by one. */
struct gshhg {
    int bin_minutes, columns, rows, bins, polygons, segments, points;
    int first_segment[GSHHG_BINS];
    short segments_of_bin[GSHHG_BINS], corners[GSHHG_BINS];
    int packed[GSHHG_SEGMENTS], first_point[GSHHG_SEGMENTS];
    unsigned short x[GSHHG_POINTS], y[GSHHG_POINTS];
    const char *without; /* a variable to leave out, or NULL */
};

struct gshhg gshhg_make(void);

/* Numbers of segments: the diamond over Greenwich east of it, the island, the
 * lake, the diamond over 180 west of it; the first of Antarctica's, its ice
 * front. */
enum {
    GSHHG_GREENWICH_EAST = 0,
    GSHHG_ISLAND = 1,
    GSHHG_LAKE = 2,
    GSHHG_WEST_OF_180 = 3,
    GSHHG_ICE_FRONT = 6,
    GSHHG_ISLAND_BIN = 73
};

/* Writes it into a file of check_folder(); its path, valid to the end. */
const char *gshhg_write(const struct gshhg *gshhg, const char *name);

#endif
