/* What has changed since the plan that is being sailed: part of the
 * schedule. */
#ifndef REPORT_CHANGED_H
#define REPORT_CHANGED_H

#include "base/arena.h"
#include "plan/plan.h"
#include <stdio.h>

/* Keeping to the old track is as good where it costs no more than this, all
 * weighed. What is nearer is no sharper than a search finds it. */
#define CHANGED_SAME_S (10.0 * SECONDS_PER_MINUTE)

/* Nothing where no earlier plan is given. */
void changed_write(const struct plan *plan, FILE *stream);

/* "keeping to it costs 2 h 10 min and one more gybe in the dark". In
 * `arena`. */
const char *changed_verdict(struct arena *arena, const struct plan *plan);

#endif
