#include "report/room.h"

#include "report/clock.h"
#include "report/due.h"
#include "report/words.h"
#include <math.h>
#include <string.h>

/* Less is not worth a word. */
static const double SAME_TIME_S = 0.5 * SECONDS_PER_MINUTE;
static const double SAME_ROLL_DEG = 0.05;

/* An error that times to a quarter of an hour do not show. */
static const double NO_ERROR_S = 15.0 * SECONDS_PER_MINUTE;

static bool has_span(const struct plan_change *change) {
    return instant_minus(change->latest, change->earliest) > SECONDS_PER_MINUTE;
}

static bool is_mainsail(const struct plan_change *change) {
    return change->kind == CHANGE_MAINSAIL_GYBE || change->kind == CHANGE_TACK;
}

/* The headsail is rolled, or the mainsail comes over, because it must. */
static bool is_asked_for(const struct plan_change *change) {
    return is_mainsail(change) || change->kind == CHANGE_ROLL ||
           change->kind == CHANGE_UNROLL;
}

/* Both ends, each on its inner side, or one where they are printed alike. */
static const char *span_of(struct arena *arena, const struct plan *plan,
                           const struct plan_change *change,
                           struct instant early, struct instant late) {
    char span[CLOCK_SPAN_SIZE], at[SHARP_TEXT_SIZE];
    clock_print_change(plan, change, at);
    if (instant_minus(late, early) <= SECONDS_PER_MINUTE)
        return arena_print(arena, "%s, no sooner and no later", at);
    if (clock_print_room(plan, early, change->at, late, span))
        return arena_print(arena, "between %s", span);
    return arena_print(arena, "%s, as near as it can be told", span);
}

static bool is_known(const struct plan_change *change) {
    return change->earliest_known && change->latest_known;
}

const char *room_between(struct arena *arena, const struct plan *plan,
                         const struct plan_change *change) {
    if (!is_known(change))
        return NULL;
    if (!has_span(change) && is_mainsail(change) && change->starts_leg)
        return "at its place, where the course turns";
    if (!has_span(change) && is_asked_for(change))
        return "when the wind asks for it";
    return span_of(arena, plan, change, change->earliest, change->latest);
}

/* "go by the sky, "; "" where the sign, report/due.h, says what to go by. */
static const char *rather(struct arena *arena,
                          const struct plan_change *change) {
    return change->deck_work && change->sign.kind == SIGN_NONE
               ? ""
               : arena_print(arena, "go by %s, ", due_by(change));
}

const char *room_surely(struct arena *arena, const struct plan *plan,
                        const struct plan_change *change) {
    const struct plan_surety *sure = &change->sure;
    if (!is_known(change) || !sure->known ||
        (!has_span(change) && is_asked_for(change)))
        return NULL;
    if (change->sign.kind == SIGN_LIGHT && !sure->any)
        return NULL; /* the sign says it: report/due.h */
    const char *by = rather(arena, change);
    if (!sure->error_s.known)
        return arena_print(
            arena, "%snot by the clock: the forecast has ended there", by);
    if (sure->error_s.value < NO_ERROR_S)
        return NULL;
    const char *error = words_duration(arena, sure->error_s.value);
    if (!sure->any)
        return arena_print(arena,
                           "%snot by the clock: the forecast may be %s out "
                           "there",
                           by, error);
    const char *surely =
        span_of(arena, plan, change, sure->earliest, sure->latest);
    const char *all =
        span_of(arena, plan, change, change->earliest, change->latest);
    if (strcmp(surely, all) == 0)
        return NULL;
    return arena_print(arena, "surely %s, be the forecast %s out there or not",
                       surely, error);
}

static const char *roll_of(struct arena *arena, double roll_deg) {
    if (fabs(roll_deg) < SAME_ROLL_DEG)
        return "no more roll";
    return arena_print(arena, "%.1f deg %s roll", fabs(roll_deg),
                       roll_deg > 0.0 ? "more" : "less");
}

static const char *arrival_of(struct arena *arena, double later_s) {
    if (fabs(later_s) < SAME_TIME_S)
        return "arrival no later";
    return arena_print(arena, "arrival %s %s",
                       words_duration(arena, fabs(later_s)),
                       later_s > 0.0 ? "later" : "sooner");
}

static const char *cost_of(struct arena *arena, double cost_s) {
    return cost_s < SAME_TIME_S ? "nothing" : words_duration(arena, cost_s);
}

const char *room_skip(struct arena *arena, const struct plan_change *change) {
    const struct plan_skip *skip = &change->skip;
    switch (skip->kind) {
    case SKIP_UNKNOWN:
        return NULL;
    case SKIP_NEVER:
        return "it can't be left undone: the spar has to be in for the "
               "landfall";
    case SKIP_CLOSED:
        return arena_print(arena,
                           "leaving it undone: no figure; so the rest of the "
                           "track can't be sailed%s%s: plan again",
                           skip->why ? ", for " : "",
                           skip->why ? skip->why : "");
    case SKIP_FORBIDDEN:
        return "leaving it undone: no figure; it asks for work later that the "
               "limits forbid: plan again";
    case SKIP_COSTS:
        break;
    }
    return arena_print(arena,
                       "leaving it undone: %s, %s; weighed cost %s, the track "
                       "kept",
                       arrival_of(arena, skip->later_s),
                       roll_of(arena, skip->roll_deg),
                       cost_of(arena, skip->cost_s));
}

const char *room_lit(struct arena *arena, const struct plan *plan,
                     const struct plan_change *change) {
    char by[SHARP_TEXT_SIZE];
    const struct plan_lit *lit = &change->lit;
    if (!lit->known)
        return NULL;
    clock_print_latest(plan, instant_plus(lit->at, -SECONDS_PER_HOUR), lit->at,
                       by);
    return arena_print(arena,
                       "done in the last light instead, begun by %s: %s, "
                       "weighed cost %s",
                       by, arrival_of(arena, lit->later_s),
                       cost_of(arena, lit->cost_s));
}

const char *room_key(struct arena *arena, const struct plan *plan) {
    return arena_print(
        arena,
        "between: from when to when it costs at most %.0f min more, the "
        "track kept. surely: the same, whatever the forecast's timing error. "
        "Weighed cost: time, roll and work together as in the plan.",
        plan->margin_s / SECONDS_PER_MINUTE);
}
