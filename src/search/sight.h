/* Straight ways over open water: the geodesic, sailed in stretches, each of
 * them a rhumb line. */
#ifndef SEARCH_SIGHT_H
#define SEARCH_SIGHT_H

#include "earth/geodesic.h"
#include "voyage/voyage.h"

/* How many stretches: none is longer than 60 nmi. */
int sight_stretches(const struct geodesic *line);

/* Where stretch `index` of so many starts; index 0 is `from` itself. */
struct position sight_place(struct position from, const struct geodesic *line,
                            int index, int stretches);

/* Does nothing bar the straight way for good? */
bool sight_is_clear(const struct voyage *voyage, struct position from,
                    struct position to);

#endif
