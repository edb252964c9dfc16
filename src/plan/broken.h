/* What if the spar breaks: the rest of the passage without it. */
#ifndef PLAN_BROKEN_H
#define PLAN_BROKEN_H

#include "plan/plan.h"
#include "voyage/voyage.h"

/* Tracks of more legs are timed from the first alone: each leg's rest is sailed
 * anew. */
enum { BROKEN_LEGS = 100 };

/* Fills `broken_s` and `broken` of the legs of a plan that reaches its finish:
 * from where each leg starts the track is kept and sailed with the spar stowed,
 * whatever the crew's limits of wind, gust and sea; no work is counted for a
 * spar that is gone. Where the wind heads her she beats to the end of that leg,
 * but not on a given track: no land is known to her there. Unknown, with the
 * leg and the reason, where the track can't be sailed so. The legs' other
 * figures are there. */
void broken_give(struct plan *plan, const struct voyage *voyage);

#endif
