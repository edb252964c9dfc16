/* How early or late the boat may arrive, and whether it is dark then.
 *
 * A forecast's weather comes early or late, the more so the longer its lead:
 * plan/trust.h says how much. All of it may be lost or won until the arrival,
 * but no more than a quarter of the time under way (common practice, no
 * source).
 */
#ifndef PLAN_ARRIVAL_H
#define PLAN_ARRIVAL_H

#include "base/arena.h"
#include "base/units.h"
#include "plan/plan.h"

#define ARRIVAL_MOST_FRAC 0.25

/* From a moment until the first whole minute in which it is light at a place;
 * 0 where it is light then, unknown where it stays dark for a day. */
struct figure arrival_dark_s(struct position place, double unix_s);

/* She is to arrive no sooner than so long after first light: told to the
 * quarter of an hour, the arrival is then in the light as it is printed. */
#define ARRIVAL_RESERVE_S (15.0 * SECONDS_PER_MINUTE)

/* The finish, for struct voyage's `arrival_wait_s`, with that reserve; 0 where
 * it does not get light. */
struct arrival_light {
    struct position finish;
    struct instant depart;
};
double arrival_wait_s(const void *arrival_light, double t_s);

/* Fills plan->arrival, by the summary; unknown where the finish is not
 * reached. */
void arrival_give(struct plan *plan);

/* "the arrival may fall in the dark: ..."; NULL where it can't. Times are
 * marked: plan/marks.h. */
const char *arrival_warning(const struct plan *plan, struct arena *arena);

/* How early and how late she may be, as it is told: on the ship's clock, to the
 * quarter or, of longer passages, to the hour before, or after. */
struct instant arrival_early(const struct plan *plan);
struct instant arrival_late(const struct plan *plan);

#endif
