/* Home from a label by the integrator: a layer's time round the corners of the
 * waterway, and the whole of the way to the goal. */
#ifndef SEARCH_ARRIVE_H
#define SEARCH_ARRIVE_H

#include "search/spot.h"

/* The whole way to the goal, under the order that is cheapest, into the
 * harvest's arrival; not where it costs more than what is known. */
void arrive(struct spot *spot, const struct homeward *way);

/* A layer along the way home, under each of the orders. */
void arrive_homeward(struct spot *spot, const struct homeward *way);

#endif
