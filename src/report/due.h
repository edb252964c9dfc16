/* What on board tells that a change is due, and what to do where it does not
 * come; and the dark as what speaks against it. */
#ifndef REPORT_DUE_H
#define REPORT_DUE_H

#include "base/arena.h"
#include "plan/plan.h"

/* How long the wind has to stay so, in minutes, before it is no mere swing of
 * it (common practice, no source). */
#define DUE_HOLDS_MINUTES 20.0

/* "on the course before, when AWA has been aft of 140 deg (TWA 152 deg) on the
 * port side for 20 min"; where the wind does not tell: "no shift to wait for,
 * go by the place: on the course before, AWA 140 deg (TWA 152 deg) on the port
 * side". NULL for what is no deck work. */
const char *due_when(struct arena *arena, const struct plan_change *change);

/* "AWA aft of 140 deg on the port side"; "the light, at AWA 140 deg (TWA 152
 * deg) on the port side"; NULL likewise. */
const char *due_short(struct arena *arena, const struct plan_change *change);

/* "the sky", where the wind tells; "the light"; "the place". */
const char *due_by(const struct plan_change *change);

/* "if the wind does not come so": what has not come; NULL where the wind
 * does not tell. */
const char *due_missing(const struct plan_change *change);

/* "in the dark, against daylight-only: the last stow"; NULL where the rule has
 * nothing against it. */
const char *due_dark(const struct plan *plan, const struct plan_change *change);

/* Is it beyond the work limits in wind, gust, sea or roll? */
bool due_is_too_rough(const struct plan *plan,
                      const struct plan_change *change);

#endif
