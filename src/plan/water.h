/* Where the boat may sail: the coast, the clearance off it, and the zones to
 * keep out of, behind the three questions of struct voyage.
 *
 * Inland water is no water: what lies behind the sea's own shoreline bars the
 * way like land. Nearer than `approach_m` to the start or the finish the
 * clearance does not hold, the shoreline does. Read only once it is made, so
 * any number of threads may ask.
 */
#ifndef PLAN_WATER_H
#define PLAN_WATER_H

#include "base/arena.h"
#include "earth/coast.h"
#include "earth/sea_mask.h"
#include "earth/zone.h"
#include "voyage/voyage.h"
#include <stdint.h>

struct water {
    const struct coast *coast;   /* NULL: land is not known */
    const struct sea_mask *mask; /* of it */
    struct coast_box box;        /* that it was loaded for */
    struct zones zones;
    double clearance_m; /* 0 or more; below 1 m it is that */
    double rounding_m;  /* kept beside it, for places that are rounded later */
    double approach_m;  /* 0: the clearance holds everywhere */
    struct position start, finish;
    double depart_unix_s;
    /* Beyond the box all is open water, not unknown: to find out whether its
     * border closes a way. */
    bool open_border;

    /* Made by water_prepare(): for each square degree, whether a zone may be in
     * it or in one of its neighbours. */
    const uint8_t *near_zone;
};

/* Call it once all else is set, and again after the zones have changed. */
void water_prepare(struct water *water, struct arena *arena);

/* For struct voyage, whose header has the contract; `water` is a struct
 * water. */
enum obstacle water_blocked(const void *water, struct position from,
                            struct position to, double start_s, double end_s);
double water_room_m(const void *water, struct position at);
double water_clear_m(const void *water, struct position at,
                     double direction_deg, double most_m);

/* Is it land, or inland water? False where no coast is known. */
bool water_is_inland(const struct water *water, struct position at);

/* Distance to the sea's shoreline, at most most_m; that where no coast is
 * known. */
double water_shore_m(const struct water *water, struct position at,
                     double most_m);

/* The first zone that bars the line in that time, or NULL. Times are as for
 * blocked. */
const struct zone *water_zone_met(const struct water *water,
                                  struct position from, struct position to,
                                  double start_s, double end_s);

/* Least distance to the sea's shoreline of those parts of the line that are
 * outside the circles of approach; the clearance where they keep it. 0 where
 * one meets the shore. Both ends are covered. */
double water_off_m(const struct water *water, struct position from,
                   struct position to);

#endif
