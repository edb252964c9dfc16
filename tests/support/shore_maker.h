/* Invented shores, with no file. */
#ifndef TESTS_SHORE_MAKER_H
#define TESTS_SHORE_MAKER_H

#include "check.h"
#include "earth/shore.h"

/* One shoreline; all of it lies in one tile and its last point is its first.*/
struct made_line {
    enum coast_level level;
    const struct mercator *points;
    size_t count;
};

/* A shore of closed lines in tiles of 10 degrees, sea between them. A line
 * belongs to the tile of its first point, at each of its turns that the shore
 * holds; levels are right only if all of it lies in there. */
void shore_make(struct shore *shore, const struct coast_box *box,
                const struct made_line *lines, size_t count,
                struct arena *arena);

/* A ragged island: its corners lie between half of the radius and all of it
 * from the middle. */
struct made_line island_make(struct position middle, double radius_m,
                             size_t corners, struct seed *seed,
                             struct arena *arena);

/* Islands of 1 to 30 nmi anywhere in a box. */
struct made_line *islands_make(const struct coast_box *box, size_t count,
                               struct seed *seed, struct arena *arena);

struct position place_in(const struct coast_box *box, struct seed *seed);

#endif
