#include "plan/reasons.h"

#include "base/units.h"
#include "boat/gain.h"
#include "earth/angle.h"
#include "earth/rhumb.h"
#include "voyage/voyage.h"

#include <assert.h>
#include <math.h>

/* A wind that turns by less is said to stand. */
static const double TURN_DEG = 8.0;

/* And one that draws forward by less. */
static const double FORWARD_DEG = 20.0;

static const double LAST_MOMENTS_S = 120.0;

/* Within so far outside the landfall circle a stow is for the finish. */
static const double LANDFALL_ROOM_M = 10.0 * METRES_PER_NMI;

/* The leg that a change is made for: one that is made in the last moments of a
 * leg is for the next. */
static size_t leg_for(const struct plan *plan,
                      const struct plan_change *change) {
    size_t last = plan->leg_count - 1;
    if (change->leg >= last)
        return last;
    double left_s = instant_minus(plan->legs[change->leg].end, change->at);
    return left_s < LAST_MOMENTS_S ? change->leg + 1 : change->leg;
}

static const struct plan_leg *leg_before(const struct plan *plan,
                                         const struct plan_change *change) {
    size_t index = leg_for(plan, change);
    return index > 0 ? &plan->legs[index - 1] : NULL;
}

static const struct plan_leg *leg_after(const struct plan *plan,
                                        const struct plan_change *change) {
    return &plan->legs[leg_for(plan, change)];
}

/* What turned between two legs: the wind or the course. */
static const char *why_turned(const struct plan *plan,
                              const struct plan_change *change,
                              struct arena *arena) {
    const struct plan_leg *before = leg_before(plan, change);
    const struct plan_leg *after = leg_after(plan, change);
    if (!before)
        return arena_print(arena, "wind from %03.0f on course %03.0f",
                           fmod(round(after->twd_deg), 360.0),
                           fmod(round(after->course_deg), 360.0));
    double turn = angle_turn(before->twd_deg, after->twd_deg);
    if (fabs(turn) >= TURN_DEG)
        return arena_print(arena, "the wind %s to %03.0f",
                           turn > 0.0 ? "veers" : "backs",
                           fmod(round(after->twd_deg), 360.0));
    return arena_print(arena, "new course %03.0f",
                       fmod(round(after->course_deg), 360.0));
}

static const char *why_set(const struct plan *plan,
                           const struct plan_change *change,
                           struct arena *arena) {
    const struct plan_leg *leg = leg_after(plan, change);
    struct gain gain = gain_at(plan->boat, leg->twa_deg, leg->tws_mps);
    double more_kn = mps_to_kn(gain.spar_mps - gain.stowed_mps);
    if (more_kn > 0.05)
        return arena_print(arena,
                           "the spar makes the boat %.1f kn faster at TWA "
                           "%.0f",
                           more_kn, fabs(leg->twa_deg));
    return "the spar makes the boat steadier";
}

/* Too far for the spar in either mode. */
static bool is_too_far_forward(const struct boat *boat,
                               const struct plan_leg *leg) {
    double low_deg, high_deg;
    voyage_spar_range(boat, MODE_POLED_REACH, &low_deg, &high_deg);
    return fabs(leg->awa_deg) < low_deg;
}

/* Further forward than it was by so much that it counts. */
static bool comes_forward(const struct plan_leg *before,
                          const struct plan_leg *after) {
    return before && fabs(before->awa_deg) - fabs(after->awa_deg) > FORWARD_DEG;
}

static bool is_dark_later(const struct plan *plan,
                          const struct plan_change *change) {
    for (size_t i = leg_for(plan, change); i < plan->leg_count; i++)
        if (plan->legs[i].night_s > 0.0)
            return true;
    return false;
}

static const char *why_stow(const struct plan *plan,
                            const struct plan_change *change,
                            struct arena *arena) {
    const struct plan_leg *leg = leg_after(plan, change);
    const struct plan_leg *before = leg_before(plan, change);
    const struct spar *spar = &plan->boat->spar;
    bool wing = deck_mode(change->from) == MODE_WING;
    if (rhumb_between(change->position, plan->to).distance_m <
        spar->landfall_m + LANDFALL_ROOM_M)
        return arena_print(arena,
                           "the spar has to be in %.0f nmi before the finish",
                           m_to_nmi(spar->landfall_m));
    if (leg->tws_mps >
        (wing ? spar->wing_max_wind_mps : spar->reach_max_wind_mps))
        return arena_print(arena, "the wind rises to %.0f kn",
                           mps_to_kn(leg->tws_mps));
    bool dark = change->light != LIGHT_NIGHT && is_dark_later(plan, change);
    bool forward = is_too_far_forward(plan->boat, leg);
    if (dark && !forward)
        return "before dark: at night it is harder work";
    if (forward || comes_forward(before, leg))
        return arena_print(arena, "the wind comes forward to AWA %.0f",
                           fabs(leg->awa_deg));
    return "the spar no longer pays";
}

static const char *why_unfit(const struct plan *plan,
                             const struct plan_change *change,
                             struct arena *arena) {
    const struct plan_leg *leg = leg_after(plan, change);
    return arena_print(arena, "the spar can't draw at AWA %.0f in %.0f kn",
                       fabs(leg->awa_deg), mps_to_kn(leg->tws_mps));
}

static const char *why(const struct plan *plan,
                       const struct plan_change *change, struct arena *arena) {
    switch (change->kind) {
    case CHANGE_SET:
        return why_set(plan, change, arena);
    case CHANGE_STOW:
        return why_stow(plan, change, arena);
    case CHANGE_ROLL:
        return why_unfit(plan, change, arena);
    case CHANGE_UNROLL:
        return "the spar can draw again";
    case CHANGE_GYBE:
    case CHANGE_ACROSS:
    case CHANGE_MAINSAIL_GYBE:
    case CHANGE_TACK:
    case CHANGE_KINDS:
        break;
    }
    return why_turned(plan, change, arena);
}

/* The largest headsail that may be carried in that wind, by its foot. */
static const struct headsail *headsail_for(const struct boat *boat,
                                           double tws_mps) {
    const struct headsail *best = NULL;
    for (size_t i = 0; i < boat->headsail_count; i++) {
        const struct headsail *sail = &boat->headsails[i];
        bool fits =
            !sail->max_wind_mps.known || tws_mps <= sail->max_wind_mps.value;
        if (fits && (!best || sail->foot_m > best->foot_m))
            best = sail;
    }
    return best;
}

void reasons_give(struct plan *plan, struct arena *arena) {
    assert(plan->legs && plan->leg_count > 0);
    for (size_t i = 0; i < plan->change_count; i++) {
        struct plan_change *change = &plan->changes[i];
        change->why = why(plan, change, arena);
        if (change->kind != CHANGE_SET && change->kind != CHANGE_GYBE &&
            change->kind != CHANGE_ACROSS)
            continue;
        double tws = leg_after(plan, change)->tws_mps;
        const struct headsail *sail = headsail_for(plan->boat, tws);
        const char *warning;
        if (!sail)
            continue;
        change->headsail = sail->name;
        change->pole_length_m = figure_of(
            spar_length_for(&plan->boat->spar, sail, arena, &warning));
    }
}
