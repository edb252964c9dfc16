/* Grids of other kinds, put on a regular lat-lon grid.
 *
 * All that is known of such a grid is where its points are, in the order of the
 * message. Two kinds of order are told apart: rows of one latitude each, of
 * whatever lengths (Gaussian, reduced, Mercator), and lines of equal lengths
 * anywhere on the globe (Lambert, polar stereographic, rotated).
 *
 *   rows    linear along the two rows beside a place, then between them
 *   lines   bilinear in the cell of four points that a place lies in, on the
 *           plane that touches the globe in the middle of that cell: edges of
 *           cells are great circles, so cells meet without a gap, over a pole
 *           and the date line, too
 *
 * A place outside all cells is unknown: nothing is carried beyond the points.
 * A point without a value drops out and the weights of the others are
 * renormalised.
 *
 * Of rows of many points only what is wanted of the grid is made (grid_cut()):
 * else the globe at 9 km takes 400 MB for its weights alone.
 *
 * The grid made is as fine as the points lie on average. Rows keep their
 * longitudes; of lines, the rows and columns made stand at multiples of their
 * spacings, so that grids shifted by half a cell fall on the same places.
 */
#ifndef FORECAST_RESAMPLE_H
#define FORECAST_RESAMPLE_H

#include "forecast/grid.h"
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum {
    RESAMPLE_SOURCE_LIMIT = 8000000, /* points of the grid as written: a reduced
                                        Gaussian one of 9 km has 6.6 million */
    RESAMPLE_POINTS_LIMIT = 16000000 /* points of the grid made; beyond, it is
                                        made coarser */
};

/* A grid as written. */
struct outlay {
    struct position *sites; /* of its points; longitudes in any turn */
    size_t count;
    size_t inner; /* points of a line, side by side; 0: rows of one latitude */
    bool alternating; /* in the message every other line or row runs backwards,
                         but `sites` do not */
    const struct grid_bounds *wanted; /* of rows; NULL: all */
};

/* What a point of the grid made takes of the points as written. */
struct blend {
    uint32_t point[4];
    float weight[4]; /* all 0: outside */
};

struct resampling {
    struct grid grid;
    struct grid_part part; /* of the grid as fine without a cut */
    struct blend *blends;  /* of grid_points(&grid) */
    size_t source_points;
    double spacing_m; /* how far apart the points as written lie, on average */
};

/* NULL, or why it can't be: too few points, rows that are none. Memory of
 * `blends` is the caller's, to be freed by resampling_free(). */
const char *resampling_make(const struct outlay *outlay,
                            struct resampling *resampling);

void resampling_free(struct resampling *resampling);

/* Values as written to those of the grid made; `known` is 1 where there is one.
 * A direction is blended as a unit vector, into [0, 360). Returns how many
 * points have none. */
struct written {
    const float *values;
    const uint8_t *known;
    bool is_direction;
};
size_t resampling_apply(const struct resampling *resampling,
                        struct written written, float *values, uint8_t *known);

#endif
