/* Where a passage begins and ends on the water: a start or finish on land, a
 * berth, goes out by the nearest sea; places to pass must lie in open water. */
#ifndef PLAN_BERTH_H
#define PLAN_BERTH_H

#include "base/error.h"
#include "plan/water.h"
#include <stddef.h>

/* A berth further from the sea than 2 nmi is no berth. */
#define BERTH_M (2.0 * METRES_PER_NMI)

struct berth {
    struct position at; /* in the sea */
    double moved_m;     /* from the place given, which is not sea; else 0 */
};

/* `what` is the key: "from" or "to". A place on land is brought to the sea some
 * 20 m outside the nearest shoreline. STATUS_INPUT further inland than BERTH_M
 * and on inland water, with the distance to the sea. Without a coast every
 * place is sea. */
bool berth_find(struct berth *berth, const struct water *water,
                const char *what, struct position place, struct error *error);

/* STATUS_INPUT where the start is in a zone that is closed at departure, or the
 * finish in one that stays closed for good, or a place to pass on land, nearer
 * to it than the clearance, or in such a zone. The circles of approach are
 * those of `water`. */
bool berth_check_stops(const struct water *water, const struct position *via,
                       size_t via_count, struct error *error);

#endif
