/* Before the search: can the forecast answer at all? */
#ifndef PLAN_PREFLIGHT_H
#define PLAN_PREFLIGHT_H

#include "plan/request.h"
#include "plan/world.h"

/* STATUS_OUTSIDE: a departure before the first or after the last step, a start,
 * finish or place to pass without wind, a limit whose field is in no file. The
 * text names the area and hours to ask for. */
bool preflight_check(const struct world *world, const struct request *request,
                     struct error *error);

/* A way shorter than this leads nowhere. */
#define PREFLIGHT_SAME_PLACE_M 10.0

/* Start and finish as they are asked for are one place, with none to pass
 * between: nothing is to be sailed. */
bool preflight_stays(const struct request *request);

/* Does the way lead anywhere, or is she asked to stay where she is? `from`,
 * `to`: where it begins and ends in the sea. STATUS_INPUT: places that were not
 * one have become one there; or she stays, with the spar out. */
bool preflight_way(const struct request *request, struct position from,
                   struct position to, struct error *error);

/* Most points of a track that is timed. */
enum { PREFLIGHT_TRACK_POINTS = 10000 };

/* The same for the points of a track; and that they are not too many, nor the
 * track longer than REQUEST_WAY_NMI. */
bool preflight_track(const char *name, const struct position *places,
                     size_t count, struct error *error);

/* "ask for 12N to 20N, 50W to 22W, from 2026-03-10T00:00:00Z for 260 h": what
 * a forecast has to hold for the passage, with so much room round it. */
enum { PREFLIGHT_ASK_SIZE = 200 };
#define PREFLIGHT_ROOM_DEG 3.0
void preflight_ask(const struct world *world, const struct request *request,
                   double room_deg, char text[PREFLIGHT_ASK_SIZE]);

#endif
