/* Sea or not, quickly: a raster of longitude and latitude over a coast. Most
 * cells are all sea or all land; in the others the level of the middle is
 * known, and a place that is on the same side of all shores has the same. */
#ifndef EARTH_SEA_MASK_H
#define EARTH_SEA_MASK_H

#include "base/arena.h"
#include "earth/coast.h"
#include <stdbool.h>

struct sea_mask;

/* `box` is the one that the coast was loaded for. */
const struct sea_mask *sea_mask_make(const struct coast *coast,
                                     const struct coast_box *box,
                                     struct arena *arena);

/* False on land, its shoreline and inland water. The place is covered. Some 10
 * ns in most cells, one to three microseconds in those with a shore. */
bool sea_mask_is_sea(const struct sea_mask *mask, struct position at);

/* By the middle of its cell, which is a few kilometres wide: for what counts
 * in tens of them. */
bool sea_mask_is_about_sea(const struct sea_mask *mask, struct position at);

#endif
