/* Deck work that the crew's own rule forbids and that no way avoids. */
#ifndef PLAN_BARRED_H
#define PLAN_BARRED_H

#include "base/error.h"
#include "plan/plan.h"

/* With deck work by daylight only: false, STATUS_NO_ROUTE, where the plan can't
 * be made without some in the dark that nothing excuses (the spar's limits, the
 * last stow); `error` names the first of it and what this way costs. */
bool barred_check(const struct plan *plan, struct error *error);

#endif
