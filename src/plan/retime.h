/* A course sailed once more, as it stands: each order at its place, the
 * headsail rolled where the spar may not draw. For another course beside a
 * plan, and for a plan's own course in other weather. */
#ifndef PLAN_RETIME_H
#define PLAN_RETIME_H

#include "plan/plan.h"
#include "plan/water.h"
#include "plan/world.h"
#include "search/track.h"

/* How a plan was sailed. */
struct sailed {
    struct voyage voyage; /* without its weather */
    struct water water;   /* of it */
    struct underway start;
    struct track course;
};

/* A copy of them all, in `arena`; the water is that of the voyage. */
const struct sailed *retime_keep(const struct voyage *voyage,
                                 const struct water *water,
                                 const struct underway *start,
                                 const struct track *course,
                                 struct arena *arena);

/* A plan of the same departure and forecast with legs, changes and summary,
 * nothing else. `*why`: what stopped her, or OBSTACLE_NONE; she does not creep.
 */
struct plan *retime_course(const struct plan *plan, const struct voyage *voyage,
                           const struct underway *start,
                           const struct track *course, struct arena *arena,
                           enum obstacle *why);

/* The plan's own course in the weather of a world; `request` has the plan's
 * departure. A last stow that is not done by the landfall, the weather being
 * faster, is excused. Where a limit of the crew's bars it, it is sailed on
 * without limits, and `*broken` tells the first that it breaks. No more fuel is
 * burnt than there is: OBSTACLE_FUEL where she can't get there so. */
struct plan *retime_plan(const struct plan *plan, const struct world *world,
                         const struct request *request, struct arena *arena,
                         enum obstacle *broken, enum obstacle *why);

#endif
