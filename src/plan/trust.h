/* How far a forecast can be believed: by lead time alone. Common practice, no
 * source: three days good, five fair, then a guess; what lies beyond the last
 * step is always a guess. */
#ifndef PLAN_TRUST_H
#define PLAN_TRUST_H

#include "base/units.h"
#include "plan/plan.h"

#define TRUST_GOOD_S (72.0 * SECONDS_PER_HOUR)
#define TRUST_FAIR_S (120.0 * SECONDS_PER_HOUR)

/* `lead_s` after the run, but no later than the last step. */
struct instant trust_ends(const struct plan *plan, double lead_s);

/* By forecast_run and forecast_end of the plan. */
enum trust trust_at(const struct plan *plan, struct instant at);

#endif
