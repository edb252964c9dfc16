/* Invented shores, with no file. */
#ifndef TESTS_SHORE_MAKER_H
#define TESTS_SHORE_MAKER_H

#include "earth/shore.h"

/* One shoreline; all of it lies in one tile and its last point is its first.*/
struct made_line {
    enum coast_level level;
    const struct mercator *points;
    size_t count;
};

/* A shore of closed lines in tiles of 10 degrees, sea between them. A line that
 * is in a box that goes round or over a seam is put wherever its tile is. */
void shore_make(struct shore *shore, const struct coast_box *box,
                const struct made_line *lines, size_t count,
                struct arena *arena);

/* Places on the chart. */
struct mercator *chart_points(const struct position *corners, size_t count,
                              struct arena *arena);

#endif
