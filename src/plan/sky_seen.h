/* What gives light at a place and moment of the plan: sun and moon. */
#ifndef PLAN_SKY_SEEN_H
#define PLAN_SKY_SEEN_H

#include "base/instant.h"
#include "plan/plan.h"

struct plan_sky sky_seen(struct instant at, struct position position);

#endif
