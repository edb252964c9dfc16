/* The sea that the forecast's own wind raises, from its past: at the points of
 * a raster about the reach of the passage, from the first step of the wind to
 * the last, by sea/standing.h. The points are those of one raster for the whole
 * earth: what is said of a place is the same whatever the reach. Before the
 * first step the wind is taken to have blown for GROWTH_ASSUMED_HOURS; after a
 * hole in time likewise.
 *
 * All of it is over open water: how land limits it is the affair of
 * earth/fetch.h. A point is worked out, for all times, when it is first asked
 * for; several threads may ask. All seas of the earth take 500 MB with 16 days;
 * which points are asked for depends on the search alone, so whether they are
 * too many doesn't depend on the threads.
 */
#ifndef PLAN_SEAWAY_H
#define PLAN_SEAWAY_H

#include "earth/sea_mask.h"
#include "forecast/forecast.h"
#include "sea/standing.h"

struct seaway;

/* Most that the points of one seaway may take: beyond, the program ends with
 * STATUS_RESOURCE. */
#define SEAWAY_BYTES_LIMIT ((size_t)512 << 20)

/* Of the part of the forecast in the box. `mask` covers the box, or is NULL:
 * points on land, where the wind is weaker, don't count for the sea beside it.
 * Points just outside the box are taken to be at sea. All of it has to live as
 * long. */
const struct seaway *seaway_make(const struct forecast *forecast,
                                 const struct coast_box *box,
                                 const struct sea_mask *mask,
                                 struct arena *arena);

/* The same within another limit. */
const struct seaway *seaway_make_within(size_t limit_bytes,
                                        const struct forecast *forecast,
                                        const struct coast_box *box,
                                        const struct sea_mask *mask,
                                        struct arena *arena);

/* What stands round a place and moment, added up: SEAWAY_VALUES as the raster
 * keeps them. */
enum { SEAWAY_VALUES = 12 };

struct seaway_mix {
    float value[SEAWAY_VALUES];
};

/* Between points and times. False outside, and where nothing is known about.
 */
bool seaway_at(const struct seaway *seaway, struct position at, double unix_s,
               struct seaway_mix *mix);

/* The systems of a mix; one with a height of 0 has no more than that. `from` is
 * of any length here. */
struct standing_system seaway_wind_sea(const struct seaway_mix *mix);
struct standing_system seaway_left(const struct seaway_mix *mix);

#endif
