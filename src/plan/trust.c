#include "plan/trust.h"

enum trust trust_at(const struct plan *plan, struct instant at) {
    double lead_s = instant_minus(at, plan->forecast_run);
    if (at.unix_s > plan->forecast_end.unix_s || lead_s > TRUST_FAIR_S)
        return TRUST_GUESS;
    return lead_s > TRUST_GOOD_S ? TRUST_FAIR : TRUST_GOOD;
}
