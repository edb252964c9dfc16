/* How much of the world's coast a passage needs. */
#ifndef PLAN_REACH_H
#define PLAN_REACH_H

#include "earth/shore.h"
#include "forecast/grid.h"
#include "plan/request.h"

/* Round all stops of a passage, by as much as the way is long and by 600 nmi at
 * least: land as far off as that shelters the sea. 600 nmi round a track that
 * is given, 60 nmi round ports to run to. No more than `wind`, the area of the
 * forecast's wind, but all stops. */
struct coast_box reach_box(const struct request *request,
                           const struct coast_box *wind);

/* What a plan can ask of the weather, the chart's margins and the raster of the
 * sea among it: round all stops by as much as the way is long and by 600 nmi at
 * least, round ports to run to, and 3 degrees more; where the coast of
 * reach_box() is one of all longitudes, all of them. That is so only with a
 * coast: without one nothing ends the search but the forecast. */
struct grid_bounds reach_weather(const struct request *request);

/* The way from stop to stop by great circles, metres. */
double reach_great_circle_m(const struct request *request);

#endif
