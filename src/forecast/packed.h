/* The values of a field as they lie in its message, read where and when they
 * are needed: simple packing, by far the most common one in forecast files.
 *
 *   value = (R + X 2^E) 10^-D, X an unsigned number of `width` bits
 *
 * WMO Manual on Codes, FM 92 GRIB edition 2, templates 5.0 and 7.0, section 6.
 * A passage sees a small part of its forecast, and unpacking takes most of the
 * time of loading one, so what can be read in place is not unpacked before.
 * All other packings, and rows that run in other ways, are the GRIB library's.
 */
#ifndef FORECAST_PACKED_H
#define FORECAST_PACKED_H

#include "forecast/cut.h"
#include "forecast/grid.h"
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct packed {
    const uint8_t *bits;
    size_t size;           /* bytes of `bits` */
    const uint8_t *bitmap; /* a bit for each point; NULL: all have a value */
    size_t bitmap_size;
    const uint32_t *row_first; /* with a bitmap: values before each row */
    size_t count;              /* values */
    int width;                 /* bits of a value, 1 to PACKED_WIDTH_LIMIT */
    double reference, step, scale; /* R, 2^E, 10^-D */
    float least; /* rounding may put a value a little below this: then it is */
    int columns, rows; /* of the message */
    bool west_going, north_going;
};

enum { PACKED_WIDTH_LIMIT = 32 };

/* The values of the field that the cutter stands at. False where they are not
 * packed like this, or don't fill their sections. */
bool packed_find(struct packed *packed, const struct cutter *cutter);

/* Ties the values to their grid. False where the rows run in a way that is not
 * read here, or the counts differ. `missing`: points without a value. */
bool packed_lay(struct packed *packed, const struct grid_corners *corners,
                size_t *missing);

/* Are all values between `low` and `high`? What is below `least` by the
 * rounding of packing is `least` from now on. */
bool packed_within(struct packed *packed, double low, double high,
                   double least);

/* Moves the values out of their message, into `room` of so many bytes, aligned
 * for an int. */
size_t packed_room(const struct packed *packed);
void packed_move(struct packed *packed, void *room);

/* `count` values of our row `row` (from the south) from column `column` (from
 * the west) on, which may not go beyond the last column. `known` is 1 where
 * there is a value; where not, the value is 0. After packed_move() only. */
void packed_row(const struct packed *packed, int row, int column, int count,
                float *values, uint8_t *known);

/* All of them: `grid` is the one that the message's corners made. */
void packed_all(const struct packed *packed, const struct grid *grid,
                float *values, uint8_t *known);

/* Of the part of a grid, before packed_move(); of values without a bitmap. */
void packed_take(const struct packed *packed, const struct grid_part *part,
                 const struct grid *grid, float *values);

/* The same points have the same values, by their bits. False may still mean
 * the same, packed in another way. */
bool packed_same(const struct packed *a, const struct packed *b);

#endif
