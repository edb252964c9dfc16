/* A bin of GSHHG's files: square, of whole degrees, with the pieces of
 * shoreline inside it. Nothing in it is trusted: it comes from a file.
 *
 * Points are parts of 65535 of the bin's side, from its south-west corner. A
 * segment's numbers are packed: bits 0-2 the side of its last point, 3-5 that
 * of its first (south, east, north, west; 4 for one that is closed), 6-8 the
 * level, above that the number of points. The levels of the corners take three
 * bits each, from the south-west against the clock, the first highest. Seen in
 * the files of version 2.3.7; GMT agrees (tests/interop/shoreline_gmt_test.c).
 *
 * Antarctica has two lines: the front of its ice, given as level 1, and the
 * line where the ice begins to float, level 6, which has corners of its own.
 * The front is taken: the ice is no water for a boat.
 */
#ifndef EARTH_BIN_H
#define EARTH_BIN_H

#include "base/arena.h"
#include "earth/shore.h"
#include <stddef.h>
#include <stdint.h>

struct bin {
    int32_t corners;
    size_t segment_count, point_count;
    const int32_t *packed; /* of each segment */
    const uint32_t *first; /* of each segment: its first point */
    const uint16_t *x, *y; /* of each point */
};

/* Number of points of a segment. */
static inline uint32_t bin_points(int32_t packed) {
    return (uint32_t)packed >> 9;
}

/* Fills a tile of the shore. Returns NULL, or what is wrong with the bin: "a
 * loose end". */
const char *bin_fill(const struct bin *bin, struct shore *shore, size_t tile,
                     struct arena *arena);

#endif
