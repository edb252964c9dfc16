/* Real shorelines and invented zones for tests of what bars the way. */
#ifndef TESTS_WATERS_H
#define TESTS_WATERS_H

#include "plan/water.h"

/* The finest coast of this machine over a box, no zones, no clearance; everyone
 * may be asked. False, and "skipped: ..." told, where there is none. */
bool waters_load(struct water *water, struct coast_box box,
                 struct arena *arena);

/* Adds a square zone, and a circle. */
struct zone *waters_add_square(struct water *water, struct position south_west,
                               struct position north_east, struct arena *arena);
struct zone *waters_add_circle(struct water *water, struct position centre,
                               double radius_m, struct arena *arena);

#endif
