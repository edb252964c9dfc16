/* Which deck work of one plan is which of another. */
#ifndef PLAN_ALIKE_H
#define PLAN_ALIKE_H

#include "base/arena.h"
#include "plan/plan.h"

/* The same kind, and the spar (for a mainsail gybe the boom) to the same side.
 */
bool alike_work(const struct plan_change *a, const struct plan_change *b);

/* For each change of `first` the place of the one of `second` that it is, or
 * ALIKE_NONE; of deck work alone. Both in the order of time; as many as can be,
 * and of all ways to do so the one whose times lie nearest. In `arena`. */
#define ALIKE_NONE ((size_t)-1)
size_t *alike_changes(const struct plan *first, const struct plan *second,
                      struct arena *arena);

#endif
