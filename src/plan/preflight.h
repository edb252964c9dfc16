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

#endif
