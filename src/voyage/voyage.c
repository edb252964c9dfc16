#include "voyage/voyage.h"

#include "boat/apparent.h"
#include "voyage/cost.h"

#include <math.h>

/* Slower than this over the ground a course is not sailed but drifted. */
static const double SLOWEST_SOG_MPS = 0.05;

/* The heading that holds a course in a current is found by iteration: speed
 * depends on the angle to the wind, which depends on the heading. */
enum { HEADING_ROUNDS = 30 };
static const double HEADING_TOLERANCE_DEG = 1e-5;

/* Where iteration fails, crab angles are looked through in such steps. */
static const double CRAB_STEP_DEG = 3.0;

const char *obstacle_name(enum obstacle obstacle) {
    static const char *const names[OBSTACLE_COUNT] = {
        [OBSTACLE_NONE] = "nothing",
        [OBSTACLE_LAND] = "land",
        [OBSTACLE_ZONE] = "a zone to keep out of",
        [OBSTACLE_WIND] = "the wind limit",
        [OBSTACLE_GUST] = "the gust limit",
        [OBSTACLE_WAVE] = "the wave limit",
        [OBSTACLE_AREA] = "places without wind in the forecast",
        [OBSTACLE_HORIZON] = "the end of the forecast",
        [OBSTACLE_NO_SPEED] = "no wind to sail with on that course",
        [OBSTACLE_CURRENT] = "a current stronger than the boat",
        [OBSTACLE_FUEL] = "calms that the fuel does not last for",
        [OBSTACLE_LANDFALL] = "the spar being out near the finish",
        [OBSTACLE_GYBE] = "a mainsail gybe beyond the work limits",
    };
    return names[obstacle];
}

/* Below the first angle of its polar the headsail can't draw on the spar. */
static bool spar_has_speed(const struct boat *boat, double twa_deg) {
    return fabs(twa_deg) >= boat->spar_out.angle_deg[0];
}

/* Speed through the water under sail in that deck state; with a spar that can't
 * draw, as if the headsail were rolled, which the crew will do next. */
static double sailing_speed(const struct voyage *voyage,
                            const struct conditions *conditions, double twa_deg,
                            double tws_mps, struct deck deck, bool working) {
    const struct boat *boat = voyage->boat;
    double factor = boat->factor;
    if (conditions->light == LIGHT_NIGHT)
        factor *= boat->night_factor;
    if (!working && deck_is_drawing(deck) && spar_has_speed(boat, twa_deg))
        return factor * polar_speed(&boat->spar_out, twa_deg, tws_mps);
    if (!working && deck.spar != SPAR_STOWED)
        factor *= boat->spar.rolled_speed_frac;
    return factor * polar_speed(&boat->stowed, twa_deg, tws_mps);
}

/* What she makes where she would sail so fast: that, or her speed under engine;
 * held back while hands are busy, or to arrive by daylight. */
static double boat_speed(const struct voyage *voyage,
                         const struct conditions *conditions,
                         double sailing_mps, bool working) {
    double mps = voyage_motors(conditions, sailing_mps)
                     ? voyage->motoring.speed_mps
                     : sailing_mps;
    if (voyage->pace_frac > 0.0)
        mps *= voyage->pace_frac;
    return working ? voyage->boat->spar.work_speed_frac * mps : mps;
}

void voyage_spar_range(const struct boat *boat, enum sail_mode mode,
                       double *low_deg, double *high_deg) {
    const double *range =
        mode == MODE_WING ? boat->spar.wing_awa_deg : boat->spar.reach_awa_deg;
    double margin = boat->spar.angle_margin_deg;
    *low_deg = range[0] + margin;
    *high_deg = range[1] >= 180.0 ? 180.0 : range[1] - margin;
}

double voyage_lee_m(const struct voyage *voyage, struct position at,
                    const struct conditions *conditions, double most_m) {
    if (!voyage->clear_m)
        return most_m;
    double downwind_deg = angle_wrap_360(conditions->twd_deg + 180.0);
    return voyage->clear_m(voyage->water, at, downwind_deg, most_m);
}

double voyage_gust_mps(const struct conditions *conditions, double tws_mps) {
    return conditions->gust_mps.known ? conditions->gust_mps.value
                                      : CONDITIONS_GUST_FACTOR * tws_mps;
}

double voyage_awa_deg(const struct motion *motion) {
    return apparent_wind(motion->twa_deg, motion->tws_mps, motion->stw_mps)
        .awa_deg;
}

/* How far an angle is inside a range, degrees; an end at 180 is none. */
static double inside_deg(double low_deg, double high_deg, double angle_deg) {
    double room_deg = angle_deg - low_deg;
    return high_deg >= 180.0 ? room_deg : fmin(room_deg, high_deg - angle_deg);
}

/* How far below a limit, in degrees of slack. */
static double below_deg(double limit_mps, double value_mps) {
    return (limit_mps - value_mps) / (VOYAGE_SLACK_FRAC * limit_mps);
}

/* The slack before the spar may not draw. By the speed that she makes with the
 * spar drawing, also while hands are busy and she is slower: else the sail
 * would be rolled as soon as it is set. */
static double spar_slack_deg(const struct voyage *voyage,
                             const struct conditions *conditions,
                             const struct motion *motion, struct deck deck,
                             bool working) {
    const struct spar *spar = &voyage->boat->spar;
    enum sail_mode mode = deck_mode(deck);
    bool wing = mode == MODE_WING;
    double tws_mps = motion->tws_mps, low_deg, high_deg;
    double first_deg =
        fabs(motion->twa_deg) - voyage->boat->spar_out.angle_deg[0];
    if (first_deg < 0.0)
        return first_deg;
    double stw_mps = motion->stw_mps;
    if (working)
        stw_mps = boat_speed(voyage, conditions,
                             sailing_speed(voyage, conditions, motion->twa_deg,
                                           tws_mps, deck, false),
                             false);
    double awa_deg =
        fabs(apparent_wind(motion->twa_deg, tws_mps, stw_mps).awa_deg);
    voyage_spar_range(voyage->boat, mode, &low_deg, &high_deg);
    double slack_deg = inside_deg(low_deg, high_deg, awa_deg);
    double gust_mps = voyage_gust_mps(conditions, tws_mps);
    slack_deg = fmin(slack_deg, below_deg(wing ? spar->wing_max_wind_mps
                                               : spar->reach_max_wind_mps,
                                          tws_mps));
    return fmin(slack_deg, below_deg(wing ? spar->wing_max_gust_mps
                                          : spar->reach_max_gust_mps,
                                     gust_mps));
}

/* Wind side: the sign of TWA, but a few degrees by the lee are sailed. */
double voyage_side_slack_deg(double twa_deg, bool wind_starboard) {
    double angle_deg = wind_starboard ? twa_deg : -twa_deg;
    double lee_deg = 180.0 - VOYAGE_BY_THE_LEE_DEG;
    if (angle_deg < 0.0)
        return -lee_deg - angle_deg;
    return fmin(angle_deg, 180.0 - angle_deg + VOYAGE_BY_THE_LEE_DEG);
}

static double motors_below(const struct motoring *motoring, double tws_mps,
                           double t_s) {
    if (tws_mps > motoring->max_wind_mps)
        return 0.0;
    return motoring->until_s > 0.0 && t_s > motoring->until_s
               ? motoring->later_below_mps
               : motoring->below_mps;
}

enum obstacle voyage_look(const struct voyage *voyage, struct position position,
                          double t_s, struct conditions *conditions) {
    enum obstacle obstacle =
        voyage->conditions(voyage->weather, position, t_s, conditions);
    if (obstacle != OBSTACLE_NONE)
        return obstacle;
    struct vector_mps wind =
        vector_minus(conditions->wind, conditions->current);
    conditions->tws_mps = vector_length(wind);
    conditions->twd_deg = vector_direction_from(wind);
    conditions->motors_below_mps =
        motors_below(&voyage->motoring, conditions->tws_mps, t_s);
    conditions->roll_sea = roll_sea_of(&voyage->boat->roller, &conditions->sea);
    return OBSTACLE_NONE;
}

bool voyage_spar_hopeless(const struct voyage *voyage,
                          const struct conditions *conditions,
                          double course_deg, enum spar_place spar) {
    double twa_deg = angle_turn(course_deg, conditions->twd_deg);
    struct deck deck = {.spar = spar, .wind_starboard = twa_deg >= 0.0};
    double low_deg, high_deg;
    voyage_spar_range(voyage->boat, deck_mode(deck), &low_deg, &high_deg);
    return !conditions->current_known && fabs(twa_deg) < low_deg;
}

/* A course to hold in a current. */
struct hold {
    const struct voyage *voyage;
    const struct conditions *conditions;
    double course_deg;
    struct deck deck;
    bool working;
    double along_mps, across_mps; /* the current: with the course, to its
                                     starboard side */
};

/* Sets heading, speed through the water and whether the engine runs. */
static enum obstacle head(const struct hold *hold, double crab_deg,
                          struct motion *motion) {
    motion->heading_deg = hold->course_deg + crab_deg;
    motion->twa_deg =
        angle_turn(motion->heading_deg, hold->conditions->twd_deg);
    double sailing_mps =
        sailing_speed(hold->voyage, hold->conditions, motion->twa_deg,
                      motion->tws_mps, hold->deck, hold->working);
    motion->motoring = voyage_motors(hold->conditions, sailing_mps);
    motion->stw_mps =
        boat_speed(hold->voyage, hold->conditions, sailing_mps, hold->working);
    return motion->stw_mps > SLOWEST_SOG_MPS ? OBSTACLE_NONE
                                             : OBSTACLE_NO_SPEED;
}

/* The quick way, which finds nearly all: the crab angle that this speed asks
 * for, the speed on the heading with it, and so on. */
static enum obstacle iterate_crab(const struct hold *hold, double *crab_deg,
                                  struct motion *motion) {
    double last_crab_deg = 0.0, last_miss_deg = 0.0;
    *crab_deg = 0.0;
    for (int round = 0; round < HEADING_ROUNDS; round++) {
        enum obstacle obstacle = head(hold, *crab_deg, motion);
        if (obstacle != OBSTACLE_NONE)
            return obstacle;
        if (fabs(hold->across_mps) >= motion->stw_mps)
            return OBSTACLE_CURRENT;
        double wanted_deg =
            asin(-hold->across_mps / motion->stw_mps) / RADIANS_PER_DEGREE;
        double miss_deg = wanted_deg - *crab_deg;
        if (fabs(miss_deg) < HEADING_TOLERANCE_DEG)
            return OBSTACLE_NONE;
        /* secant from the second round on; plain iteration where it is flat */
        double rise = miss_deg - last_miss_deg;
        bool flat = round == 0 || fabs(rise) < 0.1 * fabs(miss_deg);
        double turn_deg =
            flat ? miss_deg : -miss_deg * (*crab_deg - last_crab_deg) / rise;
        last_crab_deg = *crab_deg;
        last_miss_deg = miss_deg;
        *crab_deg += turn_deg;
    }
    return OBSTACLE_CURRENT;
}

/* One crab angle looked at: how fast the boat goes off the course to its
 * starboard side. */
struct look {
    double crab_deg, off_mps;
    bool sails;
};

static struct look look_at(const struct hold *hold, double crab_deg,
                           struct motion *motion) {
    double sine, cosine;
    sincos_deg(crab_deg, &sine, &cosine);
    struct look look = {.crab_deg = crab_deg};
    look.sails = head(hold, crab_deg, motion) == OBSTACLE_NONE;
    look.off_mps = motion->stw_mps * sine + hold->across_mps;
    return look;
}

/* Between an angle that sails and one that does not: the last that does. */
static struct look sailing_edge(const struct hold *hold, struct look sails,
                                struct look stops, struct motion *motion) {
    while (fabs(sails.crab_deg - stops.crab_deg) > HEADING_TOLERANCE_DEG) {
        double crab_deg = 0.5 * (sails.crab_deg + stops.crab_deg);
        struct look look = look_at(hold, crab_deg, motion);
        *(look.sails ? &sails : &stops) = look;
    }
    return sails;
}

/* Between two angles that go off to different sides. Where speed jumps with
 * the angle, it is the speed between that holds the course. */
static double held_between(const struct hold *hold, struct look a,
                           struct look b, struct motion *motion) {
    while (fabs(b.crab_deg - a.crab_deg) > HEADING_TOLERANCE_DEG) {
        double crab_deg = 0.5 * (a.crab_deg + b.crab_deg);
        struct look look = look_at(hold, crab_deg, motion);
        *(a.off_mps * look.off_mps > 0.0 ? &a : &b) = look;
    }
    motion->stw_mps = -hold->across_mps / sin(b.crab_deg * RADIANS_PER_DEGREE);
    return b.crab_deg;
}

/* The first crab angle, up against the current, with speed to sail; false
 * where that holds more than the current sets: then no heading does. */
static bool first_look(const struct hold *hold, double way, struct look *first,
                       struct motion *motion) {
    *first = look_at(hold, 0.0, motion);
    if (first->sails)
        return true;
    double no_go_deg = hold->voyage->boat->stowed.angle_deg[0];
    double out_deg = no_go_deg + way * motion->twa_deg + HEADING_TOLERANCE_DEG;
    if (out_deg < 0.0)
        return false; /* becalmed */
    *first = look_at(hold, way * out_deg, motion);
    return first->sails && way * first->off_mps <= 0.0;
}

/* The sure way: the current may carry a boat along a course that is too near
 * the wind to be headed, and speed may change so fast with the angle that the
 * quick way runs off. The smallest crab angle is the fastest. */
static bool search_crab(const struct hold *hold, double *crab_deg,
                        struct motion *motion) {
    double way = hold->across_mps > 0.0 ? -1.0 : 1.0;
    struct look from, to;
    if (fabs(hold->across_mps) < SLOWEST_SOG_MPS ||
        !first_look(hold, way, &from, motion))
        return false;
    while (from.sails && fabs(from.crab_deg) < 90.0) {
        to = look_at(hold, from.crab_deg + way * CRAB_STEP_DEG, motion);
        struct look next = to;
        if (!to.sails)
            to = sailing_edge(hold, from, to, motion);
        if (from.off_mps * to.off_mps <= 0.0) {
            *crab_deg = held_between(hold, from, to, motion);
            return true;
        }
        from = next;
    }
    return false;
}

/* Heading and speed through the water that make good the course. */
static enum obstacle hold_course(struct hold *hold, struct motion *motion) {
    motion->tws_mps = hold->conditions->tws_mps;
    if (!hold->conditions->current_known) {
        enum obstacle obstacle = head(hold, 0.0, motion);
        motion->sog_mps = motion->stw_mps;
        return obstacle;
    }
    double sine, cosine, crab_deg;
    sincos_deg(hold->course_deg, &sine, &cosine);
    struct vector_mps current = hold->conditions->current;
    hold->along_mps = current.east * sine + current.north * cosine;
    hold->across_mps = current.east * cosine - current.north * sine;
    enum obstacle obstacle = iterate_crab(hold, &crab_deg, motion);
    if (obstacle != OBSTACLE_NONE && !search_crab(hold, &crab_deg, motion))
        return obstacle;
    motion->heading_deg = angle_wrap_360(hold->course_deg + crab_deg);
    motion->sog_mps =
        hold->along_mps + motion->stw_mps * cos(crab_deg * RADIANS_PER_DEGREE);
    return motion->sog_mps > SLOWEST_SOG_MPS ? OBSTACLE_NONE : OBSTACLE_CURRENT;
}

enum obstacle voyage_motion(const struct voyage *voyage,
                            const struct conditions *conditions,
                            double course_deg, struct deck deck, bool working,
                            struct motion *motion) {
    struct hold hold = {.voyage = voyage,
                        .conditions = conditions,
                        .course_deg = course_deg,
                        .deck = deck,
                        .working = working};
    enum obstacle obstacle = hold_course(&hold, motion);
    if (obstacle != OBSTACLE_NONE)
        return obstacle;
    motion->aws_mps =
        apparent_speed(motion->twa_deg, motion->tws_mps, motion->stw_mps);
    motion->slack_deg =
        voyage_side_slack_deg(motion->twa_deg, deck.wind_starboard);
    motion->wrong_side = motion->slack_deg < 0.0;
    motion->spar_unfit = false;
    if (deck_is_drawing(deck)) {
        double slack_deg =
            spar_slack_deg(voyage, conditions, motion, deck, working);
        motion->spar_unfit = slack_deg < 0.0;
        motion->slack_deg = fmin(motion->slack_deg, slack_deg);
    }
    const struct polar *polar =
        deck_is_drawing(deck) ? &voyage->boat->spar_out : &voyage->boat->stowed;
    motion->polar_beyond = polar_is_beyond(polar, motion->tws_mps);
    return OBSTACLE_NONE;
}

static bool is_above(struct figure limit, double value) {
    return limit.known && value > limit.value;
}

enum obstacle voyage_limit(const struct voyage *voyage,
                           const struct conditions *conditions) {
    if (is_above(voyage->max_wind_mps, conditions->tws_mps))
        return OBSTACLE_WIND;
    if (conditions->gust_mps.known &&
        is_above(voyage->max_gust_mps, conditions->gust_mps.value))
        return OBSTACLE_GUST;
    if (conditions->sea.height_known && !conditions->sea.height_estimated &&
        is_above(voyage->max_wave_m, conditions->sea.height_m))
        return OBSTACLE_WAVE;
    return OBSTACLE_NONE;
}

bool voyage_unchecked(const struct voyage *voyage,
                      const struct conditions *conditions) {
    bool wave =
        conditions->sea.height_known && !conditions->sea.height_estimated;
    return (voyage->max_gust_mps.known && !conditions->gust_mps.known) ||
           (voyage->max_wave_m.known && !wave);
}

double voyage_roll_deg(const struct voyage *voyage,
                       const struct conditions *conditions,
                       const struct motion *motion, struct deck deck) {
    struct roll_course course = {
        .heading_deg = motion->heading_deg,
        .speed_mps = motion->stw_mps,
        .twa_deg = motion->twa_deg,
        .aws_mps = motion->aws_mps,
        .spar_drawing = deck_is_drawing(deck),
    };
    return roll_rms_in_sea_deg(&voyage->boat->roller, &conditions->roll_sea,
                               &course);
}

double voyage_discomfort(const struct voyage *voyage, double roll_deg) {
    const struct comfort *comfort = &voyage->boat->comfort;
    return cost_discomfort(roll_deg, comfort->easy_roll_deg,
                           comfort->working_roll_deg);
}

bool voyage_work_weather(const struct voyage *voyage,
                         const struct conditions *conditions,
                         enum change_kind kind) {
    if (!change_is_deck_work(voyage->boat, kind))
        return true;
    const struct work_limits *work = &voyage->boat->work;
    bool stow = kind == CHANGE_STOW;
    double tws_mps = conditions->tws_mps;
    if (voyage->work_rule == WORK_DAYLIGHT_ONLY &&
        conditions->light == LIGHT_NIGHT)
        return false;
    return tws_mps <= (stow ? work->stow_max_wind_mps : work->max_wind_mps) &&
           voyage_gust_mps(conditions, tws_mps) <=
               (stow ? work->stow_max_gust_mps : work->max_gust_mps) &&
           !(conditions->sea.height_known &&
             conditions->sea.height_m > work->max_wave_m);
}

bool voyage_work_allowed(const struct voyage *voyage,
                         const struct conditions *conditions,
                         const struct motion *motion, struct deck deck,
                         enum change_kind kind) {
    if (!change_is_deck_work(voyage->boat, kind))
        return true;
    return voyage_work_weather(voyage, conditions, kind) &&
           voyage_roll_deg(voyage, conditions, motion, deck) <=
               voyage->boat->work.max_roll_deg;
}

/* Where neither is known, as it is by `otherwise`. */
static enum light light_of(const struct voyage *voyage, struct position at,
                           double t_s, enum light otherwise) {
    struct conditions there;
    if (voyage->light)
        return voyage->light(voyage->weather, at, t_s);
    return voyage->conditions(voyage->weather, at, t_s, &there) == OBSTACLE_NONE
               ? there.light
               : otherwise;
}

static enum light darker(enum light a, enum light b) {
    return a > b ? a : b;
}

/* From the horizon to 6 degrees below it the sun takes 20.6 minutes at least;
 * a little less as a boat goes east (calculated: 5.17 degrees at 15 an hour).
 */
static const double DUSK_S = 20.0 * SECONDS_PER_MINUTE;

enum light voyage_work_light(const struct voyage *voyage, struct position to,
                             double start_s, double day_seconds,
                             enum light first) {
    enum light light = first;
    if (first == LIGHT_NIGHT || (first == LIGHT_DAY && day_seconds <= DUSK_S))
        return first;
    light = darker(light, light_of(voyage, to, start_s + day_seconds, first));
    if (light == LIGHT_NIGHT)
        return light;
    /* the lowest sun of a night in the north, between two twilights */
    return darker(light,
                  light_of(voyage, to, start_s + 0.5 * day_seconds, first));
}

/* So many degrees a second, an hour from a run to a beat. */
static const double TRIMMED_DEG_PER_S = 0.03;

double voyage_trimmed_deg(double before_deg, double twa_deg, double seconds) {
    double most_deg = TRIMMED_DEG_PER_S * seconds;
    double change_deg = fabs(twa_deg) - fabs(before_deg);
    change_deg = fmax(-most_deg, fmin(most_deg, change_deg));
    return copysign(fabs(before_deg) + change_deg, twa_deg);
}

/* From so far aft a preventer is on: the apparent wind is aft of the beam
 * (common practice, no source). */
static const double PREVENTED_TWA_DEG = 110.0;

bool voyage_tacks(const struct voyage *voyage, double before_deg,
                  double after_deg) {
    bool prevented = voyage->boat->handling.single_preventer &&
                     fabs(before_deg) > PREVENTED_TWA_DEG;
    return voyage_passes_bow(before_deg, after_deg) && !prevented;
}

double voyage_hardship_s(const struct voyage *voyage, struct position at,
                         const struct conditions *conditions,
                         enum change_kind kind, double roll_deg) {
    if (!change_is_deck_work(voyage->boat, kind))
        return COST_COCKPIT_HARDSHIP_S;
    const struct work_limits *work = &voyage->boat->work;
    bool dark =
        conditions->light == LIGHT_NIGHT && voyage->work_rule != WORK_ANY;
    double hardship = dark ? work->night_hardship_s : work->day_hardship_s;
    if (roll_deg > work->max_roll_deg)
        hardship *= COST_ROLL_HARDSHIP_FACTOR;
    if (voyage_gust_mps(conditions, conditions->tws_mps) > work->max_gust_mps)
        hardship *= COST_GUST_HARDSHIP_FACTOR;
    if (voyage_lee_m(voyage, at, conditions, COST_LEE_ROOM_M) < COST_LEE_ROOM_M)
        hardship *= COST_LEE_HARDSHIP_FACTOR;
    return hardship;
}

double voyage_arrival_wait_s(const struct voyage *voyage, double t_s) {
    return voyage->arrival_wait_s ? voyage->arrival_wait_s(voyage->arrival, t_s)
                                  : 0.0;
}

double voyage_top_speed(const struct voyage *voyage) {
    const struct boat *boat = voyage->boat;
    double top = polar_top_speed(&boat->stowed);
    if (voyage->spar_allowed)
        top = fmax(top, polar_top_speed(&boat->spar_out));
    top *= boat->factor * fmax(1.0, boat->night_factor);
    return voyage->motoring.below_mps > 0.0
               ? fmax(top, voyage->motoring.speed_mps)
               : top;
}
