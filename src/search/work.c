#include "search/work.h"

/* Work is planned in up to this part of what it is allowed in: neither course
 * nor time will be held to the last. */
static const double WORK_FRAC = 0.98;

/* As the work limits are to hold for them. */
static struct conditions roughened(const struct conditions *conditions) {
    struct conditions rough = *conditions;
    rough.tws_mps /= WORK_FRAC;
    rough.gust_mps.value /= WORK_FRAC;
    rough.sea.height_m /= WORK_FRAC;
    return rough;
}

bool work_roll_allows(const struct spot *spot,
                      const struct fan_heading *heading) {
    struct deck deck = spot->label->deck;
    double mps = fan_speed(&spot->fan, heading, deck, true);
    return fan_roll_deg(&spot->fan, heading, deck, mps) <=
           WORK_FRAC * spot->expander->voyage.boat->work.max_roll_deg;
}

bool work_may_gybe(const struct spot *spot, const struct fan_heading *heading) {
    const struct voyage *voyage = &spot->expander->voyage;
    if (!voyage->gybes_kept ||
        !change_is_deck_work(voyage->boat, CHANGE_MAINSAIL_GYBE))
        return true;
    struct conditions rough = roughened(&spot->conditions);
    return voyage_work_weather(voyage, &rough, CHANGE_MAINSAIL_GYBE) &&
           work_roll_allows(spot, heading);
}

/* Of a part that is begun so much later; as if she lay still. */
static enum light light_of_work(const struct spot *spot, double later_s,
                                double day_seconds) {
    double start_s = spot->t_s + spot->label->work_left_s + later_s;
    return voyage_work_light(&spot->expander->voyage, spot->label->at, start_s,
                             day_seconds, spot->conditions.light);
}

static double time_factor(const struct voyage *voyage,
                          const struct conditions *conditions) {
    return conditions->light == LIGHT_NIGHT ? voyage->boat->spar.night_factor
                                            : 1.0;
}

void work_ask(const struct spot *spot, struct deck to, bool tacks,
              struct work *work) {
    const struct voyage *voyage = &spot->expander->voyage;
    struct deck_change change =
        deck_change_between(voyage->boat, spot->label->deck, to, tacks);
    *work = (struct work){.answer = WORK_FORBIDDEN};
    if (change.count < 0)
        return;
    struct conditions then = spot->conditions;
    struct conditions rough = roughened(&then);
    for (int i = 0; i < change.count; i++) {
        enum change_kind kind = change.kind[i];
        then.light = rough.light =
            light_of_work(spot, work->seconds, change.seconds[i]);
        work->seconds += time_factor(voyage, &then) * change.seconds[i];
        work->cost_s +=
            voyage->ease *
            voyage_hardship_s(voyage, spot->label->at, &then, kind, 0.0);
        if (kind == CHANGE_MAINSAIL_GYBE && !voyage->gybes_kept)
            continue;
        bool outside = !voyage_work_weather(voyage, &rough, kind);
        if (outside && kind != CHANGE_STOW)
            return;
        work->stow_outside = outside;
        work->deck_work =
            work->deck_work || change_is_deck_work(voyage->boat, kind);
    }
    work->answer = WORK_POSSIBLE;
}
