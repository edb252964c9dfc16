#include "plan/trust.h"

#include <math.h>

double trust_timing_error_s(double lead_s) {
    return TRUST_TIMING_FRAC * fmax(lead_s, 0.0);
}

struct instant trust_ends(const struct plan *plan, double lead_s) {
    struct instant end = instant_plus(plan->forecast_run, lead_s);
    return end.unix_s < plan->forecast_end.unix_s ? end : plan->forecast_end;
}

enum trust trust_at(const struct plan *plan, struct instant at) {
    double lead_s = instant_minus(at, plan->forecast_run);
    if (at.unix_s > plan->forecast_end.unix_s || lead_s > TRUST_FAIR_S)
        return TRUST_GUESS;
    return lead_s > TRUST_GOOD_S ? TRUST_FAIR : TRUST_GOOD;
}
