#include "plan/reasons.h"

#include "base/units.h"
#include "boat/gain.h"
#include "earth/angle.h"
#include "earth/rhumb.h"
#include "earth/sun.h"
#include "voyage/voyage.h"

#include <assert.h>
#include <math.h>

/* A wind or a course that turns by less is said to stand. */
static const double TURN_DEG = 1.0;

/* A wind that draws forward by less stands, too. */
static const double FORWARD_DEG = 20.0;

static const double LAST_MOMENTS_S = 120.0;

/* Less roll and time saved than this is no reason; they round to that. */
static const double STEADIER_DEG = 0.05;
static const double SOONER_S = 180.0;

/* How long before nightfall work is done for its sake, and how closely that is
 * looked for. */
enum { DUSK_STEP_S = 900, DUSK_SOON_S = 4 * 3600 };

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

static int degrees_of(double direction_deg) {
    return (int)lround(angle_wrap_360(direction_deg)) % 360;
}

static bool on_starboard(double heading_deg, double twd_deg) {
    return angle_turn(heading_deg, twd_deg) >= 0.0;
}

static const char *wind_turns(bool veers, double to_deg, struct arena *arena) {
    return arena_print(arena, "the wind %s to %03d deg",
                       veers ? "veers" : "backs", degrees_of(to_deg));
}

static const char *wind_stands(const struct plan_leg *leg,
                               struct arena *arena) {
    return arena_print(arena, "wind from %03d deg on course %03d deg",
                       degrees_of(leg->twd_deg), degrees_of(leg->course_deg));
}

/* On one course only the wind can have turned: it has passed the stern or, for
 * a tack, the bow. */
static const char *why_wind_passed(const struct plan_change *change,
                                   struct arena *arena) {
    bool bow = change->kind == CHANGE_TACK;
    return wind_turns(change->to.wind_starboard == bow, change->twd_deg, arena);
}

/* Between two legs both turn. The wind of the leg before on the new course, or
 * the new wind on the course before: what alone puts the wind on its new side
 * is the reason; where each alone does, or neither, both are. */
static const char *why_between(struct plan_change *change,
                               const struct plan_leg *before,
                               const struct plan_leg *after,
                               struct arena *arena) {
    bool side = change->to.wind_starboard;
    double wind_deg = angle_turn(before->twd_deg, after->twd_deg);
    bool winds = fabs(wind_deg) >= TURN_DEG;
    bool turns =
        fabs(angle_turn(before->course_deg, after->course_deg)) >= TURN_DEG;
    bool by_wind =
        winds && on_starboard(before->heading_deg, after->twd_deg) == side;
    bool by_course =
        turns && on_starboard(after->heading_deg, before->twd_deg) == side;
    const char *wind = wind_turns(wind_deg > 0.0, after->twd_deg, arena);
    const char *course = arena_print(arena, "new course %03d deg",
                                     degrees_of(after->course_deg));
    if (!winds && !turns)
        return wind_stands(after, arena);
    if (!turns || (by_wind && !by_course)) {
        change->cause = CAUSE_ANGLE;
        return wind;
    }
    if (!winds || (by_course && !by_wind))
        return course;
    return arena_print(arena, "%s, and %s", course, wind);
}

/* The spar goes to the other side while the wind stays on its own. */
static const char *why_other_mode(const struct plan_leg *after,
                                  struct arena *arena) {
    bool wing = after->mode == MODE_WING;
    return arena_print(arena, "%s at AWA %.0f deg",
                       wing ? "wing-and-wing" : "poled reach",
                       fabs(after->awa_deg));
}

static const char *why_turned(const struct plan *plan,
                              struct plan_change *change, struct arena *arena) {
    const struct plan_leg *before = leg_before(plan, change);
    const struct plan_leg *after = leg_after(plan, change);
    bool same = change->from.wind_starboard == change->to.wind_starboard;
    if (same || !change->starts_leg)
        change->cause = CAUSE_ANGLE;
    if (same)
        return why_other_mode(after, arena);
    if (!change->starts_leg)
        return why_wind_passed(change, arena);
    if (before)
        return why_between(change, before, after, arena);
    return wind_stands(after, arena);
}

/* When the headsail first draws from a spar that is set with it rolled; unknown
 * where the spar comes in before. */
static struct figure draws_after_s(const struct plan *plan,
                                   const struct plan_change *set) {
    const struct plan_change *end = plan->changes + plan->change_count;
    for (const struct plan_change *later = set + 1; later < end; later++) {
        if (deck_is_drawing(later->to))
            return figure_of(instant_minus(later->at, set->at));
        if (later->to.spar == SPAR_STOWED)
            break;
    }
    return figure_unknown();
}

static const char *why_set_rolled(const struct plan *plan,
                                  const struct plan_change *change,
                                  struct arena *arena) {
    struct figure after_s = draws_after_s(plan, change);
    if (!after_s.known)
        return "the headsail stays rolled until the spar comes in";
    return arena_print(arena, "set ahead: the headsail draws %.1f h later",
                       s_to_hours(after_s.value));
}

/* By what it costs to leave it undone. */
static const char *why_set_pays(const struct plan_skip *skip,
                                struct arena *arena) {
    bool known = skip->kind == SKIP_COSTS;
    if (known && skip->roll_deg >= STEADIER_DEG)
        return arena_print(arena,
                           "the spar makes the boat steadier by %.1f deg of "
                           "roll",
                           skip->roll_deg);
    if (known && skip->later_s >= SOONER_S)
        return arena_print(arena,
                           "with the spar the boat arrives %.1f h "
                           "sooner",
                           s_to_hours(skip->later_s));
    return known ? "for what comes after: by itself it gains next to nothing"
                 : "for what comes after";
}

static const char *why_set(const struct plan *plan, struct plan_change *change,
                           struct arena *arena) {
    const struct plan_leg *leg = leg_after(plan, change);
    if (change->to.rolled)
        return why_set_rolled(plan, change, arena);
    change->cause = CAUSE_ANGLE;
    struct gain gain = gain_at(plan->boat, leg->twa_deg, leg->tws_mps);
    double more_kn = mps_to_kn(gain.spar_mps - gain.stowed_mps);
    if (more_kn > 0.05)
        return arena_print(arena,
                           "the spar makes the boat %.1f kn faster at TWA "
                           "%.0f deg",
                           more_kn, fabs(leg->twa_deg));
    return why_set_pays(&change->skip, arena);
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

/* Daylight or twilight now, night within the next hours there. */
static bool is_dark_soon(const struct plan_change *change) {
    if (change->light == LIGHT_NIGHT)
        return false;
    for (int ahead_s = 0; ahead_s <= DUSK_SOON_S; ahead_s += DUSK_STEP_S) {
        struct sun sun = sun_at((double)(change->at.unix_s + ahead_s));
        if (sun_light(sun, change->position) == LIGHT_NIGHT)
            return true;
    }
    return false;
}

static const char *why_stow(const struct plan *plan, struct plan_change *change,
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
    change->cause = CAUSE_WIND;
    if (leg->tws_mps >
        (wing ? spar->wing_max_wind_mps : spar->reach_max_wind_mps))
        return arena_print(arena, "the wind rises to %.0f kn",
                           mps_to_kn(leg->tws_mps));
    bool forward = is_too_far_forward(plan->boat, leg);
    if (is_dark_soon(change) && !forward) {
        change->cause = CAUSE_DARK;
        return "before dark: at night it is harder work";
    }
    change->cause = CAUSE_ANGLE;
    if (forward || comes_forward(before, leg))
        return arena_print(arena, "the wind comes forward to AWA %.0f deg",
                           fabs(leg->awa_deg));
    return "the spar no longer pays";
}

/* The limit that is passed, not the figure that passes it: rounded they may
 * look the same. */
static const char *why_unfit(const struct plan *plan,
                             const struct plan_change *change,
                             struct arena *arena) {
    const struct spar *spar = &plan->boat->spar;
    enum sail_mode mode = deck_mode(change->from);
    bool wing = mode == MODE_WING;
    double wind = wing ? spar->wing_max_wind_mps : spar->reach_max_wind_mps;
    double gust = wing ? spar->wing_max_gust_mps : spar->reach_max_gust_mps;
    double low_deg, high_deg;
    voyage_spar_range(plan->boat, mode, &low_deg, &high_deg);
    if (change->tws_mps > wind)
        return arena_print(arena, "the wind rises above %.0f kn",
                           mps_to_kn(wind));
    if (change->gust_mps.known && change->gust_mps.value > gust)
        return arena_print(arena, "gusts rise above %.0f kn", mps_to_kn(gust));
    if (fabs(change->awa_deg) < low_deg)
        return arena_print(
            arena, "AWA forward of %.0f deg: the spar can't draw", low_deg);
    if (fabs(change->awa_deg) > high_deg)
        return arena_print(arena, "AWA aft of %.0f deg: the spar can't draw",
                           high_deg);
    return "the spar no longer pays";
}

static const char *why(const struct plan *plan, struct plan_change *change,
                       struct arena *arena) {
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

/* By area where both are known, else by foot. */
static bool is_larger(const struct headsail *sail,
                      const struct headsail *other) {
    if (sail->area_m2.known && other->area_m2.known)
        return sail->area_m2.value > other->area_m2.value;
    return sail->foot_m > other->foot_m;
}

/* The largest headsail that may be carried in that wind. */
static const struct headsail *headsail_for(const struct boat *boat,
                                           double tws_mps) {
    const struct headsail *best = NULL;
    for (size_t i = 0; i < boat->headsail_count; i++) {
        const struct headsail *sail = &boat->headsails[i];
        bool fits =
            !sail->max_wind_mps.known || tws_mps <= sail->max_wind_mps.value;
        if (fits && (!best || is_larger(sail, best)))
            best = sail;
    }
    return best;
}

static bool moves_spar(enum change_kind kind) {
    return kind == CHANGE_SET || kind == CHANGE_GYBE || kind == CHANGE_ACROSS ||
           kind == CHANGE_STOW;
}

/* The leg for which the spar is next worked on, or the count of legs. */
static size_t leg_of_next_work(const struct plan *plan, size_t index) {
    for (size_t i = index + 1; i < plan->change_count; i++)
        if (moves_spar(plan->changes[i].kind))
            return leg_for(plan, &plan->changes[i]);
    return plan->leg_count;
}

/* The spar keeps its length until someone goes forward again: the sail is that
 * for the strongest mean wind of the legs that it draws on until then. The mean
 * wind, since a headsail's max_wind_kn is one, too; gusts stay within the
 * spar's own limits. Where no sail is for that much, it is the sail for the
 * first of them. */
static double strongest_until_next(const struct plan *plan, size_t index) {
    size_t first = leg_for(plan, &plan->changes[index]);
    size_t last = leg_of_next_work(plan, index);
    double tws_mps = plan->legs[first].tws_mps;
    for (size_t i = first + 1; i < last; i++)
        if (deck_is_drawing(plan->legs[i].deck))
            tws_mps = fmax(tws_mps, plan->legs[i].tws_mps);
    return tws_mps;
}

static void give_length(const struct plan *plan, size_t index,
                        struct arena *arena) {
    struct plan_change *change = &plan->changes[index];
    const struct headsail *sail =
        headsail_for(plan->boat, strongest_until_next(plan, index));
    const char *warning;
    if (!sail)
        sail =
            headsail_for(plan->boat, plan->legs[leg_for(plan, change)].tws_mps);
    if (!sail)
        return;
    change->headsail = sail->name;
    change->pole_length_m =
        figure_of(spar_length_for(&plan->boat->spar, sail, arena, &warning));
}

void reasons_give(struct plan *plan, struct arena *arena) {
    assert(plan->legs && plan->leg_count > 0);
    for (size_t i = 0; i < plan->change_count; i++) {
        struct plan_change *change = &plan->changes[i];
        change->cause = CAUSE_OTHER;
        change->why = why(plan, change, arena);
        if (moves_spar(change->kind) && change->kind != CHANGE_STOW)
            give_length(plan, i, arena);
    }
}
