/* From when to when each change can be done for little, and what it costs to
 * leave it undone: docs/method-margins.md.
 *
 * The margin of a change is all moments round the planned one, without a gap,
 * at which the passage would cost no more than so much beyond the plan: the
 * track kept, the change moved along it, all the rest timed again by the same
 * integrator. A moment at which the work is outside the work limits is outside
 * the margin, unless it is so in the plan. */
#ifndef PLAN_MARGINS_H
#define PLAN_MARGINS_H

#include "plan/plan.h"
#include "plan/resail.h"

/* Moments are tried so far apart, outwards from the planned one, as far as
 * MARGINS_MOST_S; between the last that will do and the first that won't the
 * edge is found to MARGINS_EDGE_S. */
#define MARGINS_STEP_S (15.0 * SECONDS_PER_MINUTE)
#define MARGINS_MOST_S (24.0 * SECONDS_PER_HOUR)
#define MARGINS_EDGE_S SECONDS_PER_MINUTE

/* The cost that is little: what the crew says, else 10 minutes, and 30 for a
 * passage of over three days. */
double margins_cost_s(struct figure asked_s, double elapsed_s);

/* From when to when an order can be begun for no more than `most_cost_s` in
 * all; seconds since departure. */
void margins_span(const struct resail *resail,
                  const struct resail_change *change, double most_cost_s,
                  double *first_s, double *last_s);

/* Fills earliest, latest, sure, skip and lit of the changes of `plan`, which
 * was made by sailing the same course; leaves them unknown where the plan does
 * not reach the finish. `spent_s`: of the margin, by deck work that was moved.
 */
void margins_find(const struct resail *resail, double margin_s, double spent_s,
                  struct plan *plan);

#endif
