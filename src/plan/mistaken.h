/* What was likely meant, where a passage does not fit its forecast. */
#ifndef PLAN_MISTAKEN_H
#define PLAN_MISTAKEN_H

#include "plan/world.h"

/* "; with W for E it would lie inside: correct it, or ", where the place has
 * wind with another letter, or with latitude and longitude exchanged; else
 * "; the wind covers 36N to 40N, 12W to 8W: take the file of these waters, or
 * ". "ask for ..." follows. In `arena`. */
const char *mistaken_place(const struct world *world,
                           const struct request *request, struct position place,
                           struct arena *arena);

/* The same of a departure outside the steps: another year, a zone that was left
 * out, or a day to look at. */
const char *mistaken_departure(const struct world *world,
                               const struct request *request,
                               struct arena *arena);

/* A warning of a way that the wrong letter of one place made more than twice as
 * long, longer than the forecast can serve; NULL where that is not so. */
const char *mistaken_way(const struct world *world,
                         const struct request *request, struct arena *arena);

#endif
