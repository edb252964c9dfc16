/* Shorelines on the Mercator chart, in tiles; what is land.
 *
 * The sphere is cut into square tiles of longitude and latitude. A tile holds
 * the stretches of shoreline inside it and the level at its south-west corner.
 * Where a shoreline leaves the tile, the stretch ends on its side and goes on
 * in the next one; the side itself is no shore. A shoreline of level n parts
 * level n - 1 from level n.
 *
 * Points are kept on the chart (earth/mercator.h) and the edges between them
 * are straight there, for land and for crossing alike: no way leads from sea
 * to land without meeting an edge. x has no seam from the west of the box to
 * its east.
 *
 * Made in three steps: shore_begin(), the tiles filled by the maker,
 * shore_finish(). From then on it is only read. What lies in the way, and how
 * near: earth/shore_meet.h, shore_near.h.
 */
#ifndef EARTH_SHORE_H
#define EARTH_SHORE_H

#include "base/arena.h"
#include "earth/mercator.h"
#include "earth/shore_raster.h"
#include <stdbool.h>
#include <stddef.h>

/* Where questions may be asked. */
struct coast_box {
    double south_deg, north_deg; /* -90 <= south <= north <= 90 */
    double west_deg;             /* [-180, 180) */
    double east_deg;             /* [west, west + 360] */
};

enum coast_level {
    COAST_SEA,
    COAST_LAND,
    COAST_LAKE,
    COAST_LAKE_ISLAND,
    COAST_POND
};

enum shore_side {
    SHORE_SOUTH,
    SHORE_EAST,
    SHORE_NORTH,
    SHORE_WEST,
    SHORE_CLOSED /* all inside the tile: the last point is the first */
};

struct shore_line {
    const struct mercator *points;
    size_t count;
    enum coast_level level;      /* COAST_LAND to COAST_POND: what it bounds */
    enum shore_side entry, exit; /* the sides of its first and last point */
};

struct shore_tile {
    enum coast_level corner; /* level at the south-west corner */
    const struct shore_line *lines;
    size_t line_count;
};

struct shore {
    struct coast_box box; /* as asked for, or all the way round */
    bool is_round;
    double tile_deg;
    /* South-west corner of the first tile: the tiles are all that the box and
     * SHORE_REACH_M about it touch, and may go on beyond 180 either way. */
    double south_deg, west_deg;
    size_t tile_rows, tile_columns;
    double *tile_y;           /* of the tiles' sides; tile_rows + 1 */
    struct shore_tile *tiles; /* row by row from the south */
    struct shore_raster raster;
};

/* Sets all but what is in the tiles. `tile_deg` divides 90. A box wider than
 * 180 degrees is taken as all the way round, so that the shorter way between
 * two of its places is inside. */
void shore_begin(struct shore *shore, const struct coast_box *box,
                 double tile_deg, struct arena *arena);

/* A place in a tile, `east` and `north` the parts of its size from its
 * south-west corner, [0, 1]. The same place in the next tile is the same. */
struct mercator shore_place(const struct shore *shore, size_t tile, double east,
                            double north);

void shore_finish(struct shore *shore, struct arena *arena);

bool shore_covers(const struct shore *shore, struct position position);

/* On the chart, x within the box if it is covered. */
struct mercator shore_chart(const struct shore *shore,
                            struct position position);

/* Level at a place of the box. On a shoreline it is that of its land side:
 * COAST_LAND or COAST_LAKE_ISLAND. */
enum coast_level shore_level(const struct shore *shore, struct mercator place);

#endif
