/* Why no way leads from stop to stop: what would have to go for one to open. */
#ifndef PLAN_CLOSED_H
#define PLAN_CLOSED_H

#include "base/error.h"
#include "plan/water.h"
#include "search/search.h"

/* For a request whose ways search_ways() has found closed for good in the
 * water of this voyage, a struct water. Fills `error` and returns false:
 * STATUS_NO_ROUTE, closed by zones, by land within the clearance, or by land;
 * STATUS_OUTSIDE, closed by the border of the forecast's area, with `ask`. */
bool closed_tell(const struct voyage *voyage,
                 const struct search_request *request, const char *ask,
                 struct arena *arena, struct error *error);

/* For a request whose ways are open, but on which that stopped the search.
 * Fills `error` and returns false: STATUS_NO_ROUTE. */
bool closed_by(const struct voyage *voyage,
               const struct search_request *request, enum obstacle cause,
               struct arena *arena, struct error *error);

/* The zones that the shortest way of the request meets: "the zone 'A'", "the
 * zones 'A', 'B' and others"; "the zones" where it meets none. */
const char *closed_zones(const struct water *water,
                         const struct search_request *request,
                         struct arena *arena);

#endif
