/* What the crew has to beware of in sea and wind: per leg a steep sea, wind
 * against current and slatting sails; for the whole passage the guidance that
 * was made for ships (sea/guidance.h), once for each kind.
 *
 * What lasts less than a quarter of an hour, or less than half of a short leg,
 * and guidance that applies for less than half an hour in all, is not told: no
 * forecast is as sharp as that. */
#ifndef PLAN_CAUTIONS_H
#define PLAN_CAUTIONS_H

#include "plan/plan.h"
#include "voyage/sail.h"

/* Wind against a current: one of more than CAUTIONS_CURRENT_KN, setting to
 * within CAUTIONS_AGAINST_DEG of where the wind (over the ground) comes from,
 * that being a gentle breeze, Beaufort 3, at least (common practice, no
 * source). */
#define CAUTIONS_CURRENT_KN 1.0
#define CAUTIONS_AGAINST_DEG 45.0
#define CAUTIONS_AGAINST_WIND_KN 7.0

/* Sails slat with less apparent wind than this in a swell that counts
 * (guidance_counts(); common practice, no source). Not in one that is only
 * estimated: without a field of swell nothing is known of it. */
#define CAUTIONS_SLATTING_KN 6.0

bool cautions_against_current(const struct conditions *conditions);
bool cautions_slats(const struct conditions *conditions, double length_m,
                    double aws_mps);

/* Sums over the steps of one leg; zeroed: none yet. */
struct caution_sums {
    double seconds, steep_s, against_s, slatting_s, unjudged_s;
    struct wave_system steepest;
};

/* Takes a step of the leg that comes next in `plan` into the sums, and into the
 * guidance of the plan. */
void cautions_add(struct plan *plan, struct caution_sums *sums,
                  const struct sail_step *step);

struct plan_remarks cautions_of_leg(const struct caution_sums *sums);

/* Calls `warn` with a sentence (plan/marks.h), in `arena`, for each of the
 * three that some legs have, for legs whose sea can't be judged, and for each
 * kind of guidance that applies. */
void cautions_warn(const struct plan *plan,
                   void (*warn)(void *context, const char *text), void *context,
                   struct arena *arena);

#endif
