#include "plan/barred.h"

#include "base/units.h"
#include "voyage/cost.h"

static const char *work_of(enum change_kind kind) {
    static const char *const words[CHANGE_KINDS] = {
        [CHANGE_SET] = "setting the spar",
        [CHANGE_GYBE] = "gybing the spar",
        [CHANGE_ACROSS] = "bringing the spar across",
        [CHANGE_STOW] = "stowing the spar",
        [CHANGE_MAINSAIL_GYBE] = "gybing the mainsail",
        [CHANGE_TACK] = "tacking",
        [CHANGE_ROLL] = "rolling the headsail",
        [CHANGE_UNROLL] = "unrolling the headsail"};
    return words[kind];
}

bool barred_check(const struct plan *plan, struct error *error) {
    const struct plan_change *first = NULL;
    double cost_s = plan->summary.cost_s;
    for (size_t i = 0; i < plan->change_count; i++) {
        const struct plan_change *change = &plan->changes[i];
        if (!change->barred)
            continue;
        cost_s -= COST_FORBIDDEN_WORK_S;
        if (!first && change->light == LIGHT_NIGHT)
            first = change;
    }
    if (!first)
        return true;
    char at[INSTANT_TEXT_SIZE], place[POSITION_TEXT_SIZE];
    instant_print(first->at, at);
    position_print(first->position, place);
    return error_set(
        error, STATUS_NO_ROUTE,
        "no plan with deck_work daylight-only: %s at %s, %s, would "
        "be in the dark; with daylight-first such a plan costs "
        "%.1f h; or depart at another time",
        work_of(first->kind), at, place, s_to_hours(cost_s));
}
