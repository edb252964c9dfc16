#include "report/due.h"

#include "base/units.h"
#include "report/words.h"

#include <math.h>

/* --- what tells -----------------------------------------------------------
 */

/* "aft of 140 deg", "past dead aft, to 175 deg", "dead aft". */
static const char *place_of(struct arena *arena,
                            const struct plan_change *change, const char *twa) {
    const struct plan_sign *sign = &change->sign;
    bool starboard = sign->awa_deg >= 0.0;
    long awa_deg = lround(fabs(sign->awa_deg));
    bool past =
        sign->kind == SIGN_STERN && starboard == change->to.wind_starboard;
    if (awa_deg >= 180)
        return "dead aft";
    return arena_print(arena, "%s %ld deg%s on the %s side",
                       past                         ? "past dead aft, to"
                       : sign->kind == SIGN_FORWARD ? "forward of"
                                                    : "aft of",
                       awa_deg, twa, words_side(starboard));
}

/* "AWA 140 deg (TWA 152 deg) on the port side"; "..., dead aft". */
static const char *angles_of(struct arena *arena,
                             const struct plan_change *change) {
    const struct plan_sign *sign = &change->sign;
    const char *side = ", dead aft";
    if (lround(fabs(sign->awa_deg)) < 180)
        side = arena_print(arena, " on the %s side",
                           words_side(sign->awa_deg >= 0.0));
    return arena_print(arena, "AWA %.0f deg (TWA %.0f deg)%s",
                       fabs(sign->awa_deg), fabs(sign->twa_deg), side);
}

static bool has_sign(const struct plan_change *change) {
    return change->sign.kind != SIGN_NONE && change->sign.kind != SIGN_LIGHT;
}

const char *due_by(const struct plan_change *change) {
    if (has_sign(change))
        return "the sky";
    return change->sign.kind == SIGN_LIGHT ? "the light" : "the place";
}

const char *due_short(struct arena *arena, const struct plan_change *change) {
    const struct plan_sign *sign = &change->sign;
    if (!change->deck_work)
        return NULL;
    if (!has_sign(change))
        return arena_print(arena, "%s, at %s", due_by(change),
                           angles_of(arena, change));
    if (sign->kind == SIGN_WIND)
        return arena_print(arena, "true wind above %.0f kn",
                           mps_to_kn(sign->tws_mps));
    return arena_print(arena, "AWA %s", place_of(arena, change, ""));
}

const char *due_when(struct arena *arena, const struct plan_change *change) {
    const struct plan_sign *sign = &change->sign;
    const char *course =
        sign->after ? "on the course from there" : "on the course before";
    if (!change->deck_work)
        return NULL;
    if (!has_sign(change))
        return arena_print(arena, "no shift to wait for, go by %s: %s, %s",
                           due_by(change), course, angles_of(arena, change));
    if (sign->kind == SIGN_WIND)
        return arena_print(arena,
                           "when the true wind passes %.0f kn, whatever the "
                           "clock: %s, %s",
                           mps_to_kn(sign->tws_mps), course,
                           angles_of(arena, change));
    const char *twa =
        arena_print(arena, " (TWA %.0f deg)", fabs(sign->twa_deg));
    return arena_print(arena, "%s, when AWA has been %s for %.0f min", course,
                       place_of(arena, change, twa), DUE_HOLDS_MINUTES);
}

const char *due_missing(const struct plan_change *change) {
    if (!has_sign(change))
        return NULL;
    return change->sign.kind == SIGN_WIND ? "the wind does not rise so far"
                                          : "the expected shift does not come";
}

/* --- what speaks against it -----------------------------------------------
 */

/* The spar stays in after it. */
static bool is_last_stow(const struct plan *plan,
                         const struct plan_change *change) {
    const struct plan_change *end = plan->changes + plan->change_count;
    for (const struct plan_change *later = change; later < end; later++)
        if (later->to.spar != SPAR_STOWED)
            return false;
    return change->kind == CHANGE_STOW;
}

const char *due_dark(const struct plan *plan,
                     const struct plan_change *change) {
    if (!plan->daylight_only || !change->deck_work || !change->outside_limits ||
        change->light != LIGHT_NIGHT)
        return NULL;
    if (change->kind == CHANGE_MAINSAIL_GYBE)
        return "in the dark, against daylight-only: the course asks for it";
    if (change->barred)
        return "in the dark, against daylight-only";
    if (is_last_stow(plan, change))
        return "in the dark, against daylight-only: the last stow";
    return "in the dark, against daylight-only: the spar's limits force it";
}

bool due_is_too_rough(const struct plan *plan,
                      const struct plan_change *change) {
    const struct work_limits *work = &plan->boat->work;
    bool stow = change->kind == CHANGE_STOW;
    double wind_mps = stow ? work->stow_max_wind_mps : work->max_wind_mps;
    double gust_mps = stow ? work->stow_max_gust_mps : work->max_gust_mps;
    return change->tws_mps > wind_mps ||
           (change->gust_mps.known && change->gust_mps.value > gust_mps) ||
           (change->wave_m.known && change->wave_m.value > work->max_wave_m) ||
           change->roll_deg > work->max_roll_deg;
}
