/* Land and zones as shapes on a piece of the chart, for drawing. */
#ifndef PLAN_MAPPED_H
#define PLAN_MAPPED_H

#include "base/arena.h"
#include "earth/shore.h"
#include "earth/zone.h"
#include "plan/plan_chart.h"

/* More points are not drawn: the land is thinned until it has no more. */
enum { MAPPED_POINTS = 14000 };

/* The land in `chart->box`, and where it is known. Inland water is land. */
void mapped_land(struct plan_chart *chart, const struct shore *shore,
                 struct arena *arena);

/* Those zones that reach into `chart->box`. */
void mapped_zones(struct plan_chart *chart, const struct zones *zones,
                  struct arena *arena);

#endif
