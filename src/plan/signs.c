#include "plan/signs.h"

#include "base/units.h"
#include "boat/apparent.h"
#include "earth/angle.h"
#include "earth/rhumb.h"

#include <math.h>

/* A wind or a course that turns by less is said to stand. */
static const double TURN_DEG = 1.0;

/* A wind that turns slowly is compared with that of the legs that ended no
 * longer ago. */
static const double TREND_S = 12.0 * SECONDS_PER_HOUR;

/* Nearer than this it is the work that was moved. */
static const double SAME_PLACE_M = 50.0;

static bool is_moved_to_day(const struct plan_change *change,
                            const struct moved_list *moved) {
    for (size_t i = 0; i < moved->count; i++)
        if (moved->items[i].to == MOVED_TO_DAY &&
            rhumb_between(change->position, moved->items[i].at).distance_m <
                SAME_PLACE_M)
            return true;
    return false;
}

/* The course before and the one from there on. */
struct courses {
    const struct plan_leg *before, *after;
    double turn_deg; /* how much the course turns there */
};

/* On its way along a leg a change leaves the course as it is. */
static struct courses courses_at(const struct plan *plan,
                                 const struct plan_change *change) {
    const struct plan_leg *after = &plan->legs[change->leg];
    const struct plan_leg *before = change->starts_leg ? after - 1 : after;
    return (struct courses){
        before, after, fabs(angle_turn(before->course_deg, after->course_deg))};
}

/* The angles on the course before. On one that stands the change has them; on
 * another the boat is taken to sail it at its mean speed. */
static void put_angles(const struct plan_change *change,
                       const struct courses *courses, struct plan_sign *sign) {
    const struct plan_leg *before = courses->before;
    sign->twa_deg = change->twa_deg;
    sign->awa_deg = change->awa_deg;
    if (courses->turn_deg < TURN_DEG)
        return;
    sign->twa_deg = angle_turn(before->heading_deg, change->twd_deg);
    sign->awa_deg =
        apparent_wind(sign->twa_deg, change->tws_mps, before->stw_mps).awa_deg;
}

/* Where the wind of the legs of the last hours would stand on the course
 * before, on the side where it is now: the oldest of them. */
static struct figure wind_was_at(const struct plan *plan,
                                 const struct plan_change *change,
                                 const struct courses *courses,
                                 double twa_deg) {
    struct figure was_deg = figure_unknown();
    for (size_t i = change->leg; i-- > 0;) {
        const struct plan_leg *leg = &plan->legs[i];
        double then_deg =
            angle_turn(courses->before->heading_deg, leg->twd_deg);
        if (instant_minus(change->at, leg->end) > TREND_S ||
            (then_deg >= 0.0) != (twa_deg >= 0.0))
            break;
        was_deg = figure_of(fabs(then_deg));
    }
    return was_deg;
}

/* Aft or forward of where it has been. None where it stands, or where the
 * course turns by more. */
static void put_trend(const struct plan *plan, const struct plan_change *change,
                      const struct courses *courses, struct plan_sign *sign) {
    struct figure was_deg = wind_was_at(plan, change, courses, sign->twa_deg);
    double aft_deg = fabs(sign->twa_deg) - was_deg.value;
    if (!was_deg.known || fabs(aft_deg) < TURN_DEG ||
        fabs(aft_deg) <= courses->turn_deg)
        return;
    sign->kind = aft_deg > 0.0 ? SIGN_AFT : SIGN_FORWARD;
}

static struct plan_sign sign_of(const struct plan *plan,
                                const struct plan_change *change) {
    const struct spar *spar = &plan->boat->spar;
    struct plan_sign sign = {.kind = SIGN_NONE};
    struct courses courses = courses_at(plan, change);
    put_angles(change, &courses, &sign);
    if (change->cause == CAUSE_WIND) {
        sign.kind = SIGN_WIND;
        sign.tws_mps = deck_mode(change->from) == MODE_WING
                           ? spar->wing_max_wind_mps
                           : spar->reach_max_wind_mps;
    } else if (change->from.wind_starboard != change->to.wind_starboard) {
        sign.kind = SIGN_STERN;
    } else {
        put_trend(plan, change, &courses, &sign);
    }
    return sign;
}

/* The apparent wind before it is not known at departure, nor for a second part.
 */
static bool has_before(const struct plan_change *change) {
    return !(change->leg == 0 && change->starts_leg) && change->aws_mps.known;
}

/* Is it there for the light, whatever the wind does? */
static bool is_for_light(const struct plan_change *change,
                         const struct moved_list *moved) {
    return change->cause == CAUSE_DARK || is_moved_to_day(change, moved);
}

static bool is_for_wind(const struct plan_change *change) {
    return change->kind != CHANGE_TACK &&
           (change->cause == CAUSE_ANGLE || change->cause == CAUSE_WIND);
}

/* The angles alone. */
static struct plan_sign no_sign(const struct plan *plan,
                                const struct plan_change *change) {
    struct plan_sign sign = {.kind = SIGN_NONE,
                             .twa_deg = change->twa_deg,
                             .awa_deg = change->awa_deg,
                             .after = !has_before(change)};
    if (!sign.after) {
        struct courses courses = courses_at(plan, change);
        put_angles(change, &courses, &sign);
    }
    return sign;
}

static struct plan_sign sign_for(const struct plan *plan,
                                 const struct plan_change *change,
                                 const struct moved_list *moved) {
    struct plan_sign sign = no_sign(plan, change);
    if (is_for_light(change, moved))
        sign.kind = SIGN_LIGHT;
    else if (!sign.after && is_for_wind(change))
        sign = sign_of(plan, change);
    return sign;
}

void signs_give(struct plan *plan, const struct moved_list *moved) {
    for (size_t i = 0; i < plan->change_count; i++) {
        struct plan_change *change = &plan->changes[i];
        change->sign = (struct plan_sign){.kind = SIGN_NONE};
        if (change->deck_work && change->leg < plan->leg_count)
            change->sign = sign_for(plan, change, moved);
    }
}
