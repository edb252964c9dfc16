/* Fills the chart of a plan whose legs are sailed: land, zones and the weather
 * at sea from departure to arrival, on a grid that is coarse enough for a page.
 */
#ifndef PLAN_CHARTED_H
#define PLAN_CHARTED_H

#include "plan/plan.h"
#include "plan/request.h"
#include "plan/water.h"
#include "plan/world.h"
#include "voyage/voyage.h"

/* What it is made from. */
struct charting {
    const struct world *world;
    const struct request *request;
    const struct voyage *voyage;
    const struct water *water;
};

/* At most so many moments, and samples of the boat. */
enum { CHARTED_FRAMES = 60, CHARTED_SAMPLES = 1200 };

void charted_fill(struct plan *plan, const struct charting *from,
                  struct arena *arena);

#endif
