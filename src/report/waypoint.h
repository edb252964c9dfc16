/* The points of a plan under one set of names, in the schedule and in
 * route.gpx alike: the start of every leg, every change that sends someone
 * forward, and the finish. */
#ifndef REPORT_WAYPOINT_H
#define REPORT_WAYPOINT_H

#include "base/arena.h"
#include "plan/plan.h"

enum { WAYPOINT_NAME_SIZE = 16 };

/* Names are A-Z and 0-9 and unique: SET1, GYBE2, CROSS3 (the spar across),
 * STOW4, MAIN5 (a mainsail gybe that is deck work), counting deck work in
 * order; all others by their place in the list: W004 is the fourth. Where the
 * plan wants shorter names the words lose their ends: GYB12. */
struct waypoint {
    char name[WAYPOINT_NAME_SIZE];
    struct position position;
    struct instant at;
    const struct plan_change *work; /* deck work done here; NULL if none */
    const struct plan_leg *leg;     /* the one sailed from here; NULL at the
                                       finish */
    bool starts_leg; /* false: a change on the way along `leg`, or a second
                        one where it starts */
};

struct waypoints {
    struct waypoint *items;
    size_t count; /* at least 2 */
};

struct waypoints waypoints_of(const struct plan *plan, struct arena *arena);

/* The name of the point where that change is done, or NULL: from the cockpit,
 * no point of its own. */
const char *waypoint_name(const struct waypoints *waypoints,
                          const struct plan_change *change);

#endif
