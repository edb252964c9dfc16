#include "voyage/doing.h"

#include "base/units.h"
#include "earth/rhumb.h"
#include "voyage/cost.h"

/* Rolled to motor, it stays so at least that long (common practice, no source).
 * Speeds under sail and under engine lie far apart: in a wind that moves along
 * with her, between them, she would roll it and unroll it every few minutes. */
static const double MOTOR_LEAST_S = SECONDS_PER_HOUR;

/* From so far outside the landfall circle a stow is the last one. */
static const double LAST_STOW_M = 10.0 * METRES_PER_NMI;

static double time_factor(const struct voyage *voyage,
                          const struct underway *boat) {
    return boat->here.light == LIGHT_NIGHT ? voyage->boat->spar.night_factor
                                           : 1.0;
}

/* Close to the finish the spar has to come in, in any weather. */
static bool is_last_stow(const struct voyage *voyage, struct position place) {
    return rhumb_between(place, voyage->finish).distance_m <
           voyage->boat->spar.landfall_m + LAST_STOW_M;
}

/* What has to be done in any weather. A mainsail gybe is the course's affair:
 * it must be the same when the helm bears away and when it was ordered. */
static bool is_excused(const struct voyage *voyage, const struct underway *boat,
                       const struct doing *doing, enum change_kind kind) {
    if (doing->unplanned || kind == CHANGE_MAINSAIL_GYBE)
        return true;
    return kind == CHANGE_STOW &&
           (doing->motion->spar_unfit || is_last_stow(voyage, boat->at));
}

/* The boat when hands are free again, and her motion: so far on along the
 * course. Where that moment can't be looked at, as she is now. */
static struct underway when_free(const struct voyage *voyage,
                                 const struct underway *boat,
                                 const struct doing *doing,
                                 struct motion *motion) {
    struct underway then = *boat;
    double way_m = doing->motion->sog_mps * boat->work_left_s;
    *motion = *doing->motion;
    if (boat->work_left_s <= 0.0)
        return then;
    then.at = rhumb_step(boat->at, doing->course_deg, way_m);
    then.t_s = boat->t_s + boat->work_left_s;
    then.here_known = false;
    struct motion there;
    if (sail_look(voyage, &then) != OBSTACLE_NONE ||
        voyage_motion(voyage, &then.here, doing->course_deg, boat->deck, true,
                      &there) != OBSTACLE_NONE)
        return *boat;
    *motion = there;
    return then;
}

static void tell_change(const struct doing *doing, struct sail_change change) {
    if (doing->observer && doing->observer->change)
        doing->observer->change(doing->observer->context, &change);
}

/* The darkest light from the moment at which that part is begun to its end. */
static enum light light_of_work(const struct voyage *voyage,
                                const struct underway *then,
                                const struct doing *doing,
                                const struct motion *motion,
                                double day_seconds) {
    struct position end =
        rhumb_step(then->at, doing->course_deg, motion->sog_mps * day_seconds);
    return voyage_work_light(voyage, end, then->t_s, day_seconds,
                             then->here.light);
}

/* Does the crew's rule forbid it? In the dark a mainsail gybe, too. */
static bool is_barred(const struct voyage *voyage, const struct underway *then,
                      enum change_kind kind, bool excused) {
    return !excused || (kind == CHANGE_MAINSAIL_GYBE &&
                        voyage->work_rule == WORK_DAYLIGHT_ONLY &&
                        then->here.light == LIGHT_NIGHT);
}

/* Each part in the light and the weather of its own moment. */
static enum obstacle do_part(const struct voyage *voyage, struct underway *boat,
                             const struct doing *doing, enum change_kind kind,
                             double day_seconds) {
    struct motion motion;
    struct underway then = when_free(voyage, boat, doing, &motion);
    then.here.light = light_of_work(voyage, &then, doing, &motion, day_seconds);
    double roll = voyage_roll_deg(voyage, &then.here, &motion, boat->deck);
    double hardship =
        voyage_hardship_s(voyage, then.at, &then.here, kind, roll);
    double seconds = day_seconds * time_factor(voyage, &then);
    bool outside =
        !voyage_work_allowed(voyage, &then.here, &motion, boat->deck, kind);
    bool excused = is_excused(voyage, boat, doing, kind);
    if (outside && voyage->gybes_kept && kind == CHANGE_MAINSAIL_GYBE)
        return OBSTACLE_GYBE;
    if (outside && !excused)
        boat->cost_s += COST_FORBIDDEN_WORK_S;
    boat->hardship_s += hardship;
    boat->cost_s += voyage->ease * hardship;
    tell_change(
        doing, (struct sail_change){
                   .kind = kind,
                   .at = then.at,
                   .t_s = boat->t_s + boat->work_left_s,
                   .seconds = seconds,
                   .from = boat->deck,
                   .to = doing->to,
                   .outside_limits = outside,
                   .barred = outside && is_barred(voyage, &then, kind, excused),
                   .unplanned = doing->unplanned,
                   .roll_deg = roll,
                   .conditions = &then.here,
                   .motion = &motion});
    boat->work_left_s += seconds;
    boat->stowing = boat->stowing || kind == CHANGE_STOW;
    return OBSTACLE_NONE;
}

enum obstacle doing_carry_out(const struct voyage *voyage,
                              struct underway *boat, const struct doing *doing,
                              bool tacks) {
    const struct underway before = *boat;
    struct deck_change change =
        deck_change_between(voyage->boat, boat->deck, doing->to, tacks);
    if (change.count < 0) {
        boat->cost_s += COST_FORBIDDEN_WORK_S;
        change =
            deck_change_between(voyage->boat, boat->deck, doing->to, false);
    }
    for (int i = 0; i < change.count; i++) {
        enum obstacle obstacle =
            do_part(voyage, boat, doing, change.kind[i], change.seconds[i]);
        if (obstacle == OBSTACLE_NONE)
            continue;
        *boat = before;
        return obstacle;
    }
    if (doing->unplanned && doing->motion->motoring &&
        deck_is_drawing(boat->deck) && doing->to.rolled)
        boat->rolled_until_s = boat->t_s + boat->work_left_s + MOTOR_LEAST_S;
    boat->deck = doing->to;
    boat->rolled_for_now =
        boat->deck.rolled && (doing->unplanned || boat->rolled_for_now);
    boat->motion_known = false;
    return OBSTACLE_NONE;
}
