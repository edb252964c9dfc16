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

/* Beside another time. */
static const char *remedy_of(enum change_kind kind) {
    return kind == CHANGE_MAINSAIL_GYBE
               ? "rig a second preventer (boat file, preventer = both: it is "
                 "then gybed from the cockpit) or "
               : "";
}

bool barred_check(const struct plan *plan, struct error *error) {
    const struct plan_change *first = NULL;
    const struct plan_summary *summary = &plan->summary;
    double cost_s = summary->cost_s;
    for (size_t i = 0; i < plan->change_count; i++) {
        const struct plan_change *change = &plan->changes[i];
        if (!change->barred)
            continue;
        if (change->kind != CHANGE_MAINSAIL_GYBE) /* voyage/sail.h */
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
        "no plan with deck_work daylight-only: %s at %s, %s, would send "
        "someone forward in the dark; this way takes %.1f h and costs %.1f h "
        "(weighed), %.1f h of that for work; deck_work daylight-first allows "
        "it, and may find another way; %sdepart at another time",
        work_of(first->kind), at, place, s_to_hours(summary->elapsed_s),
        s_to_hours(cost_s), plan->ease * s_to_hours(summary->hardship_s),
        remedy_of(first->kind));
}
