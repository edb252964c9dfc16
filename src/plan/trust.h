/* How far a forecast can be believed: by lead time alone. Common practice, no
 * source: three days good, five fair, then a guess; what lies beyond the last
 * step is always a guess. */
#ifndef PLAN_TRUST_H
#define PLAN_TRUST_H

#include "base/units.h"
#include "plan/plan.h"

#define TRUST_GOOD_S (72.0 * SECONDS_PER_HOUR)
#define TRUST_FAIR_S (120.0 * SECONDS_PER_HOUR)

/* Weather comes sooner or later than forecast: an hour for each day of lead
 * (common practice, no source). */
#define TRUST_TIMING_FRAC (1.0 / 24.0)

/* How far it may be early or late, so long after the run; 0 before it. */
double trust_timing_error_s(double lead_s);

/* `lead_s` after the run, but no later than the last step. */
struct instant trust_ends(const struct plan *plan, double lead_s);

/* By forecast_run and forecast_end of the plan. */
enum trust trust_at(const struct plan *plan, struct instant at);

#endif
