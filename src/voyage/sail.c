#include "voyage/sail.h"

#include "base/units.h"
#include "earth/rhumb.h"
#include "voyage/doing.h"

#include <math.h>

/* A step is not cut below this part of the longest, so that a boat at the very
 * edge of a limit still moves on: 28 s by default. */
static const double SHORTEST_STEP_FRAC = 1.0 / 64.0;

/* Speeds at both ends of a step may differ by this part of their sum. */
static const double SPEED_CHANGE_FRAC = 0.05;

/* Between two looks a quarter of an hour apart the apparent wind turns by up to
 * this much more, or less, than evenly (20,000 courses through real and
 * invented forecasts: 1.05 degrees at most); in longer steps by the square of
 * them. */
static const double TURN_DEG = 1.0, TURN_S = 900.0;

/* A headsail that had to be rolled is unrolled when the wind is so far inside
 * the spar's limits again. */
static const double UNROLL_SLACK_DEG = 2.0;

/* Places closer than this, and moments, are the same. */
static const double SAME_PLACE_M = 0.01;
static const double SAME_TIME_S = 1e-6;
static const double SAME_COURSE_DEG = 1e-9;

/* The landfall circle is kept to this: waypoints are rounded to centimetres. */
static const double LANDFALL_TOLERANCE_M = 10.0;

/* Way points further apart than any ocean, or a boat that hardly moves. */
enum { MAX_STEPS = 1000000 };

struct underway sail_start(struct position at, struct deck deck) {
    return (struct underway){.at = at, .deck = deck, .twa_deg = 180.0};
}

enum obstacle sail_look(const struct voyage *voyage, struct underway *boat) {
    if (boat->here_known)
        return OBSTACLE_NONE;
    enum obstacle obstacle =
        voyage_look(voyage, boat->at, boat->t_s, &boat->here);
    boat->here_known = obstacle == OBSTACLE_NONE;
    return obstacle;
}

/* Has a headsail that was rolled for now to stay so? `drawing`: her motion with
 * it unrolled. */
static bool stays_rolled(const struct underway *boat,
                         const struct motion *drawing) {
    return drawing->spar_unfit || drawing->motoring ||
           boat->t_s < boat->rolled_until_s;
}

/* The side on which the wind is on that course; kept by the lee. */
static bool side_of(double twa_deg, bool wind_starboard) {
    double angle = wind_starboard ? twa_deg : -twa_deg;
    bool keeps = angle >= 0.0 || angle <= -(180.0 - VOYAGE_BY_THE_LEE_DEG);
    return keeps ? wind_starboard : !wind_starboard;
}

static enum obstacle change_deck(const struct voyage *voyage,
                                 struct underway *boat, double course_deg,
                                 struct deck to,
                                 const struct sail_observer *observer) {
    enum obstacle obstacle = sail_look(voyage, boat);
    if (obstacle != OBSTACLE_NONE)
        return obstacle;
    struct motion before, after;
    to.wind_starboard = boat->deck.wind_starboard;
    obstacle = voyage_motion(voyage, &boat->here, course_deg, to,
                             boat->work_left_s > 0.0, &after);
    if (obstacle != OBSTACLE_NONE)
        return obstacle;
    to.wind_starboard = side_of(after.twa_deg, to.wind_starboard);
    boat->rolled_for_now = boat->rolled_for_now && !to.rolled;
    bool waits = boat->rolled_for_now && deck_is_drawing(to) &&
                 to.spar == boat->deck.spar && stays_rolled(boat, &after);
    to.rolled = to.rolled || waits;
    if (deck_index(to) == deck_index(boat->deck))
        return OBSTACLE_NONE;
    /* where there is something to do: hands that are busy hold her back, and
     * the current may then be too strong; the boom comes over all the same,
     * once the course asks for it */
    obstacle = voyage_motion(voyage, &boat->here, course_deg, boat->deck, true,
                             &before);
    if (obstacle == OBSTACLE_CURRENT && deck_same_rig(to, boat->deck))
        return OBSTACLE_NONE;
    if (obstacle != OBSTACLE_NONE)
        return obstacle;
    struct doing doing = {.motion = &before,
                          .course_deg = course_deg,
                          .to = to,
                          .observer = observer};
    return doing_carry_out(voyage, boat, &doing,
                           voyage_tacks(voyage, boat->twa_deg, after.twa_deg));
}

enum obstacle sail_change_deck(const struct voyage *voyage,
                               struct underway *boat, double course_deg,
                               struct deck to,
                               const struct sail_observer *observer) {
    bool rolled_for_now = boat->rolled_for_now;
    enum obstacle obstacle =
        change_deck(voyage, boat, course_deg, to, observer);
    if (obstacle != OBSTACLE_NONE)
        boat->rolled_for_now = rolled_for_now;
    return obstacle;
}

bool sail_bring_over(const struct voyage *voyage, struct underway *boat,
                     double course_deg, const struct sail_observer *observer) {
    struct motion before, after;
    struct deck to = boat->deck;
    to.wind_starboard = !to.wind_starboard;
    if (sail_look(voyage, boat) != OBSTACLE_NONE ||
        voyage_motion(voyage, &boat->here, course_deg, boat->deck, true,
                      &before) != OBSTACLE_NONE ||
        voyage_motion(voyage, &boat->here, course_deg, to, true, &after) !=
            OBSTACLE_NONE)
        return false;
    if (after.wrong_side || after.spar_unfit)
        return false;
    struct doing doing = {.motion = &before,
                          .course_deg = course_deg,
                          .to = to,
                          .observer = observer};
    return doing_carry_out(voyage, boat, &doing, false) == OBSTACLE_NONE;
}

/* The motion at the boat's place: kept from the end of the last step where
 * nothing has changed since. */
static enum obstacle motion_here(const struct voyage *voyage,
                                 const struct underway *boat, double course_deg,
                                 struct motion *motion) {
    bool kept = boat->motion_known && boat->work_left_s <= 0.0 &&
                fabs(boat->course_deg - course_deg) <= SAME_COURSE_DEG;
    if (kept) {
        *motion = boat->motion;
        return OBSTACLE_NONE;
    }
    return voyage_motion(voyage, &boat->here, course_deg, boat->deck,
                         boat->work_left_s > 0.0, motion);
}

/* Once the wind has come back the headsail is unrolled again. */
static bool may_unroll(const struct voyage *voyage, const struct underway *boat,
                       double course_deg) {
    if (!boat->rolled_for_now || boat->work_left_s > 0.0)
        return false;
    struct deck drawing = boat->deck;
    drawing.rolled = false;
    struct motion motion;
    return voyage_motion(voyage, &boat->here, course_deg, drawing, false,
                         &motion) == OBSTACLE_NONE &&
           !stays_rolled(boat, &motion) && motion.slack_deg >= UNROLL_SLACK_DEG;
}

/* What has to be done now; false where nothing has. */
static bool find_need(const struct voyage *voyage, const struct underway *boat,
                      const struct motion *motion, struct doing *doing,
                      bool *tacks) {
    struct deck *to = &doing->to;
    *to = boat->deck;
    *tacks = motion->wrong_side &&
             voyage_tacks(voyage, boat->twa_deg, motion->twa_deg);
    if (!motion->wrong_side && !motion->spar_unfit) {
        to->rolled = !may_unroll(voyage, boat, doing->course_deg);
        return boat->rolled_for_now && !to->rolled;
    }
    if (motion->wrong_side)
        to->wind_starboard = !to->wind_starboard;
    if (deck_is_drawing(boat->deck) && (motion->spar_unfit || *tacks))
        to->rolled = true;
    if (*tacks && deck_is_drawing(boat->deck)) { /* roll first, then tack */
        to->wind_starboard = boat->deck.wind_starboard;
        *tacks = false;
    }
    return true;
}

/* Does from the cockpit what the angle or the wind demand. */
static enum obstacle settle(const struct voyage *voyage, struct underway *boat,
                            double course_deg, struct motion *motion,
                            const struct sail_observer *observer) {
    for (int round = 0; round < 3; round++) {
        enum obstacle obstacle = motion_here(voyage, boat, course_deg, motion);
        if (obstacle != OBSTACLE_NONE)
            return obstacle;
        struct doing doing = {.motion = motion,
                              .course_deg = course_deg,
                              .unplanned = true,
                              .observer = observer};
        bool tacks;
        if (!find_need(voyage, boat, motion, &doing, &tacks))
            return OBSTACLE_NONE;
        obstacle = doing_carry_out(voyage, boat, &doing, tacks);
        if (obstacle != OBSTACLE_NONE)
            return obstacle;
    }
    return OBSTACLE_NONE;
}

static bool is_near_finish(const struct voyage *voyage, struct position place) {
    double landfall_m = voyage->boat->spar.landfall_m - LANDFALL_TOLERANCE_M;
    double lat_m = fabs(place.lat_deg - voyage->finish.lat_deg) * 110000.0;
    return lat_m < landfall_m &&
           rhumb_between(place, voyage->finish).distance_m < landfall_m;
}

/* A step being tried: its length, and what its two ends say. */
struct trial {
    double seconds, distance_m;
    struct position to;
    bool working;
    struct motion start, end;
    struct underway after; /* its place: where the speed at the start leads */
};

/* Everything that may bar the step or its end. */
static enum obstacle check_step(const struct voyage *voyage,
                                const struct underway *boat,
                                const struct trial *trial) {
    enum obstacle obstacle = voyage_limit(voyage, &trial->after.here);
    if (obstacle != OBSTACLE_NONE)
        return obstacle;
    bool out = boat->deck.spar != SPAR_STOWED || boat->stowing;
    if (out && !voyage->starts_near_finish && is_near_finish(voyage, trial->to))
        return OBSTACLE_LANDFALL;
    if (voyage->blocked)
        return voyage->blocked(voyage->water, boat->at, trial->to, boat->t_s,
                               boat->t_s + trial->seconds);
    return OBSTACLE_NONE;
}

/* On along a short rhumb line, `part` of its length: nearly 1, and so good to a
 * metre in ten miles. */
static struct position part_of_the_way(struct position from, struct position to,
                                       double part) {
    double east_deg = to.lon_deg - from.lon_deg;
    if (fabs(east_deg) > 180.0)
        east_deg = angle_wrap_180(east_deg);
    return (struct position){
        from.lat_deg + part * (to.lat_deg - from.lat_deg),
        angle_wrap_longitude(from.lon_deg + part * east_deg)};
}

/* Sets the far end of the trial; its distance is by the mean of both speeds. */
static enum obstacle try_step(const struct voyage *voyage,
                              const struct underway *boat, double course_deg,
                              double max_m, struct trial *trial) {
    trial->seconds = fmin(trial->seconds, max_m / trial->start.sog_mps);
    trial->after = *boat;
    double ahead_m = trial->start.sog_mps * trial->seconds;
    trial->after.at = rhumb_step(boat->at, course_deg, ahead_m);
    trial->after.t_s = boat->t_s + trial->seconds;
    trial->after.here_known = false;
    enum obstacle obstacle = sail_look(voyage, &trial->after);
    if (obstacle != OBSTACLE_NONE)
        return obstacle;
    obstacle = voyage_motion(voyage, &trial->after.here, course_deg, boat->deck,
                             trial->working, &trial->end);
    if (obstacle != OBSTACLE_NONE)
        return obstacle;
    double speed = 0.5 * (trial->start.sog_mps + trial->end.sog_mps);
    if (speed * trial->seconds > max_m)
        trial->seconds = max_m / speed;
    trial->distance_m = fmin(speed * trial->seconds, max_m);
    trial->to =
        part_of_the_way(boat->at, trial->after.at, trial->distance_m / ahead_m);
    trial->after.work_left_s = fmax(0.0, boat->work_left_s - trial->seconds);
    if (trial->after.work_left_s <= SAME_TIME_S) {
        trial->after.work_left_s = 0.0;
        trial->after.stowing = false;
    }
    return OBSTACLE_NONE;
}

static bool is_limited(const struct voyage *voyage) {
    return voyage->max_wind_mps.known || voyage->max_gust_mps.known ||
           voyage->max_wave_m.known;
}

/* By how much more than evenly the wind may turn within so many seconds. */
static double may_turn_deg(double seconds) {
    double quarters = seconds / TURN_S;
    return TURN_DEG * quarters * quarters;
}

/* Does the inside of the step ask for more than its ends do? Near no limit it
 * can't; near one its middle is looked at, too, and so near that the halves
 * would have to be, it is cut. */
static bool is_rough_inside(const struct voyage *voyage,
                            const struct underway *boat, double course_deg,
                            const struct trial *trial) {
    double slack_deg = fmin(trial->start.slack_deg, trial->end.slack_deg);
    double half_deg = may_turn_deg(0.5 * trial->seconds);
    bool near = slack_deg < may_turn_deg(trial->seconds);
    if (slack_deg < half_deg)
        return true;
    if (!near && !is_limited(voyage))
        return false;
    struct conditions middle;
    struct motion motion;
    struct position at =
        rhumb_step(boat->at, course_deg, 0.5 * trial->distance_m);
    return voyage_look(voyage, at, boat->t_s + 0.5 * trial->seconds, &middle) !=
               OBSTACLE_NONE ||
           voyage_limit(voyage, &middle) != OBSTACLE_NONE ||
           voyage_motion(voyage, &middle, course_deg, boat->deck,
                         trial->working, &motion) != OBSTACLE_NONE ||
           (near && motion.slack_deg < half_deg);
}

/* Should the step be cut to see what happens inside it? */
static bool is_rough(const struct voyage *voyage, const struct underway *boat,
                     double course_deg, const struct trial *trial) {
    double sum = trial->start.sog_mps + trial->end.sog_mps;
    return fabs(trial->end.sog_mps - trial->start.sog_mps) >
               SPEED_CHANGE_FRAC * sum ||
           trial->start.motoring != trial->end.motoring ||
           trial->end.wrong_side || trial->end.spar_unfit ||
           may_unroll(voyage, &trial->after, course_deg) ||
           is_rough_inside(voyage, boat, course_deg, trial);
}

/* Adds the discomfort of the step, by Simpson's rule with the mean of the roll
 * in its middle: discomfort goes with the square of the roll. Returns the mean
 * of the roll at its ends, and leaves the roll at the far end in `after`. */
static double add_discomfort(const struct voyage *voyage,
                             const struct underway *boat,
                             const struct trial *trial, bool kept,
                             struct underway *after) {
    double start_deg =
        kept ? boat->roll_deg
             : voyage_roll_deg(voyage, &boat->here, &trial->start, boat->deck);
    double end_deg =
        voyage_roll_deg(voyage, &after->here, &trial->end, boat->deck);
    double mean_deg = 0.5 * (start_deg + end_deg);
    double rate = (voyage_discomfort(voyage, start_deg) +
                   4.0 * voyage_discomfort(voyage, mean_deg) +
                   voyage_discomfort(voyage, end_deg)) /
                  6.0;
    after->roll_deg = end_deg;
    after->discomfort_s += trial->seconds * rate;
    after->cost_s += trial->seconds * voyage->ease * rate;
    return mean_deg;
}

static void add_motoring(const struct voyage *voyage, const struct trial *trial,
                         struct underway *after) {
    double seconds =
        0.5 * trial->seconds * (trial->start.motoring + trial->end.motoring);
    after->motored_s += seconds;
    after->cost_s += voyage->motoring.price * seconds;
}

/* Takes the trial as sailed. */
static void take_step(const struct voyage *voyage, struct underway *boat,
                      double course_deg, struct trial *trial,
                      const struct sail_observer *observer) {
    bool working = trial->working;
    struct underway *after = &trial->after;
    double roll_deg = 0.0;
    bool felt = voyage->ease > 0.0 || (observer && observer->step);
    bool kept = boat->motion_known && !working &&
                fabs(boat->course_deg - course_deg) <= SAME_COURSE_DEG;
    if (felt)
        roll_deg = add_discomfort(voyage, boat, trial, kept, after);
    after->motion = trial->end;
    after->course_deg = course_deg;
    after->motion_known = felt && !working;
    after->at = trial->to;
    after->t_s = boat->t_s + trial->seconds;
    after->cost_s += trial->seconds;
    add_motoring(voyage, trial, after);
    after->heading_deg = trial->end.heading_deg;
    after->twa_deg =
        voyage_trimmed_deg(boat->twa_deg, trial->end.twa_deg, trial->seconds);
    after->sailed_m += trial->distance_m;
    if (observer && observer->step) {
        struct sail_step step = {
            .from = boat->at,
            .to = after->at,
            .start_s = boat->t_s,
            .seconds = trial->seconds,
            .distance_m = trial->distance_m,
            .course_deg = course_deg,
            .motored_s = after->motored_s - boat->motored_s,
            .deck = boat->deck,
            .working = working,
            .roll_deg = roll_deg,
            .conditions = &boat->here,
            .motion = &trial->start,
        };
        observer->step(observer->context, &step);
    }
    *boat = *after;
}

enum obstacle sail_step(const struct voyage *voyage, struct underway *boat,
                        double course_deg, double max_s, double max_m,
                        const struct sail_observer *observer) {
    enum obstacle obstacle = sail_look(voyage, boat);
    if (obstacle != OBSTACLE_NONE)
        return obstacle;
    struct trial trial;
    obstacle = settle(voyage, boat, course_deg, &trial.start, observer);
    if (obstacle != OBSTACLE_NONE)
        return obstacle;
    trial.working = boat->work_left_s > 0.0;
    double shortest_s = SHORTEST_STEP_FRAC * voyage->step_s;
    double seconds = fmin(max_s, voyage->step_s);
    if (trial.working)
        seconds = fmin(seconds, boat->work_left_s);
    for (;;) {
        trial.seconds = seconds;
        obstacle = try_step(voyage, boat, course_deg, max_m, &trial);
        if (obstacle == OBSTACLE_NONE)
            obstacle = check_step(voyage, boat, &trial);
        bool cut = obstacle == OBSTACLE_HORIZON ||
                   (obstacle == OBSTACLE_NONE &&
                    is_rough(voyage, boat, course_deg, &trial));
        if (!cut || seconds <= shortest_s)
            break;
        seconds = fmax(0.5 * seconds, shortest_s);
    }
    if (obstacle != OBSTACLE_NONE)
        return obstacle;
    take_step(voyage, boat, course_deg, &trial, observer);
    return OBSTACLE_NONE;
}

enum obstacle sail_for(const struct voyage *voyage, struct underway *boat,
                       double course_deg, double seconds,
                       const struct sail_observer *observer) {
    double end_s = boat->t_s + seconds;
    while (end_s - boat->t_s > SAME_TIME_S) {
        enum obstacle obstacle = sail_step(
            voyage, boat, course_deg, end_s - boat->t_s, HUGE_VAL, observer);
        if (obstacle != OBSTACLE_NONE)
            return obstacle;
    }
    return OBSTACLE_NONE;
}

enum obstacle sail_along(const struct voyage *voyage, struct underway *boat,
                         struct rhumb line, struct position to,
                         const struct sail_observer *observer) {
    double end_m = boat->sailed_m + line.distance_m;
    for (int steps = 0; end_m - boat->sailed_m > SAME_PLACE_M; steps++) {
        if (steps > MAX_STEPS)
            return OBSTACLE_NO_SPEED;
        enum obstacle obstacle =
            sail_step(voyage, boat, line.course_deg, HUGE_VAL,
                      end_m - boat->sailed_m, observer);
        if (obstacle != OBSTACLE_NONE)
            return obstacle;
    }
    boat->at = to;
    return OBSTACLE_NONE;
}

enum obstacle sail_to(const struct voyage *voyage, struct underway *boat,
                      struct position to,
                      const struct sail_observer *observer) {
    return sail_along(voyage, boat, rhumb_between(boat->at, to), to, observer);
}
