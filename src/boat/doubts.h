/* Figures of a boat file that can be read, and look like a mistake: each named
 * with what was likely meant. Nothing is refused for it, for an odd boat is no
 * error. */
#ifndef BOAT_DOUBTS_H
#define BOAT_DOUBTS_H

#include "boat/boat.h"

/* Knots were asked for: a limit of the wind below this is an odd one, and one
 * in m/s by mistake is likely. Common practice, no source. */
#define DOUBTS_SPAR_WIND_KN 12.5
#define DOUBTS_WORK_WIND_KN 10.0

/* A roll period is odd below the first and above the second part of what the
 * beam tells, which may itself be off by a fifth. */
#define DOUBTS_PERIOD_SHORT_FRAC 0.6
#define DOUBTS_PERIOD_LONG_FRAC 1.8

/* Calls `tell` for each, with a text that lives in `arena`. */
void doubts_tell(const struct boat *boat,
                 void (*tell)(void *context, const char *text), void *context,
                 struct arena *arena);

#endif
