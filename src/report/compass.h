/* Courses by the compass beside the true ones, where the plan wants them
 * (plan->display.magnetic): by the World Magnetic Model 2025, without the
 * deviation of the ship's own compass. */
#ifndef REPORT_COMPASS_H
#define REPORT_COMPASS_H

#include "base/arena.h"
#include "plan/plan.h"
#include <stdio.h>

/* Degrees, east positive; unknown where the plan does not want it, round the
 * magnetic poles and after 2029. */
struct figure compass_variation(const struct plan *plan,
                                struct position position, struct instant at);

/* What the compass shows at the start of a leg for the heading of it. */
struct figure compass_heading(const struct plan *plan,
                              const struct plan_leg *leg);

/* The same where and when the chart has sampled her. */
struct figure compass_of_sample(const struct plan *plan,
                                const struct plan_sample *sample);

/* "262 deg true"; "262 deg true, 275 deg magnetic". */
const char *compass_steer(struct arena *arena, const struct plan *plan,
                          const struct plan_leg *leg);

/* For a column: "262", "262 275", "262 -". */
const char *compass_cell(struct arena *arena, const struct plan *plan,
                         const struct plan_leg *leg);

/* "variation 12.6 deg W, at its end 14.0 deg W; deviation not in it" for that
 * leg, NULL where the plan does not want it. */
const char *compass_words(struct arena *arena, const struct plan *plan,
                          const struct plan_leg *leg);

/* Whether the compass shows another heading at the end of the leg than at its
 * start, by a degree or more, and which then. */
bool compass_turns(const struct plan *plan, const struct plan_leg *leg,
                   double *end_deg);

#endif
