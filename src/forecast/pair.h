/* Pairs of layers: u with v, speed with direction.
 *
 * A pair has one run, valid time, level and member; the order in the files does
 * not matter. Their grids are one, or shifted by less than 1.5 cells: then v is
 * interpolated to the points of u. Components along the axes of a grid are
 * turned to east and north. Speed and direction become u and v. One without the
 * other is dropped: it is no wind of 0. (Where only one of them has a value at
 * a point: forecast/tile.h.) */
#ifndef FORECAST_PAIR_H
#define FORECAST_PAIR_H

#include "forecast/layer.h"

/* Of the wind and the current only pairs remain, as PART_EAST and PART_NORTH.
 * Sets layers->lone where parts of the wind were left alone. */
void pair_layers(struct layers *layers, const struct source *sources,
                 struct notes *notes, struct arena *arena);

#endif
