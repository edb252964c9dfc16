#include "plan/legs.h"

#include "base/units.h"
#include "boat/apparent.h"
#include "earth/rhumb.h"
#include "plan/cautions.h"
#include "plan/darkness.h"
#include "plan/engine.h"
#include "plan/rolling.h"
#include "plan/sampled.h"
#include "plan/sky_seen.h"
#include "plan/trust.h"

#include <math.h>

/* Places of the <trk> are about so far apart. */
static const double TRACK_SPACING_S = 1800.0;

/* Nearer to the wind than this the boat is beating. */
static const double BEATING_DEG = 60.0;

/* The apparent wind is what the helm keeps: the minutes of work, when the boat
 * is slow and the wind seems further aft, count where there are no others. */
static const double WORKING_WEIGHT = 1e-6;

/* Sums over one leg; divided by its time at the end. */
struct sums {
    double seconds, roll2, tws, stw, aws, aws_s;
    struct vector_mps wind, heading, apparent, current;
    double twa_sine, twa_cosine, awa_sine, awa_cosine;
    double wave_m, wave_period_s;
    double wave_east, wave_north, wave_s, current_s, night_s, motored_s;
    double wait_s, pace_frac;
    struct figure gust, wave;
    bool gust_estimated, wave_estimated, wave_split, beyond, polar_beyond,
        unchecked;
    double deck_s[DECK_STATES]; /* time in each, work left out */
    struct rolling rolling;
    struct caution_sums cautions;
};

struct logbook {
    const struct voyage *voyage;
    struct plan *plan;
    struct arena *arena;
    size_t leg_capacity, change_capacity, track_capacity, run_capacity;
    struct sums sums;
    double course_deg; /* of the leg being sailed */
    double roll2_s, next_track_s;
};

static void add_unit(double angle_deg, double weight, double *sine,
                     double *cosine) {
    double s, c;
    sincos_deg(angle_deg, &s, &c);
    *sine += weight * s;
    *cosine += weight * c;
}

static double mean_angle(double sine, double cosine) {
    return angle_wrap_180(atan2(sine, cosine) / RADIANS_PER_DEGREE);
}

static struct instant moment(const struct plan *plan, double t_s) {
    return instant_plus(plan->depart, t_s);
}

static void add_point(struct logbook *log, struct position place, double t_s) {
    struct plan *plan = log->plan;
    struct instant at = moment(plan, t_s);
    if (plan->track_count > 0 &&
        plan->track[plan->track_count - 1].at.unix_s == at.unix_s)
        plan->track_count--; /* one place a moment: the later one */
    plan->track = arena_room(log->arena, plan->track, plan->track_count,
                             &log->track_capacity, sizeof *plan->track);
    plan->track[plan->track_count++] =
        (struct plan_point){.position = place, .at = at};
}

static void sum_weather(struct sums *sums, const struct sail_step *step,
                        const struct voyage *voyage) {
    const struct conditions *here = step->conditions;
    double dt = step->seconds;
    bool gust_known = here->gust_mps.known;
    sums->gust =
        figure_max(sums->gust, figure_of(voyage_gust_mps(here, here->tws_mps)));
    sums->gust_estimated = sums->gust_estimated || !gust_known;
    if (here->sea.height_known) {
        sums->wave = figure_max(sums->wave, figure_of(here->sea.height_m));
        sums->wave_s += dt;
        sums->wave_period_s += dt * here->sea.period_s;
        add_unit(here->sea.from_deg, dt, &sums->wave_east, &sums->wave_north);
        sums->wave_estimated = sums->wave_estimated || here->sea.estimated;
        sums->wave_split = sums->wave_split || here->sea.split;
    }
    if (here->current_known) {
        sums->current_s += dt;
        sums->current.east += dt * here->current.east;
        sums->current.north += dt * here->current.north;
    }
    sums->beyond = sums->beyond || here->beyond_forecast;
    sums->unchecked = sums->unchecked || voyage_unchecked(voyage, here);
}

static void sum_motion(struct sums *sums, const struct sail_step *step) {
    const struct motion *motion = step->motion;
    double dt = step->seconds;
    struct vector_mps wind =
        vector_from(step->conditions->twd_deg, motion->tws_mps);
    sums->seconds += dt;
    sums->roll2 += dt * step->roll_deg * step->roll_deg;
    sums->tws += dt * motion->tws_mps;
    sums->stw += dt * motion->stw_mps;
    sums->wind.east += dt * wind.east;
    sums->wind.north += dt * wind.north;
    add_unit(motion->heading_deg, dt, &sums->heading.east,
             &sums->heading.north);
    add_unit(motion->twa_deg, dt, &sums->twa_sine, &sums->twa_cosine);
    double weight = step->working ? WORKING_WEIGHT * dt : dt;
    sums->aws_s += weight;
    sums->aws += weight * motion->aws_mps;
    add_unit(voyage_awa_deg(motion), weight, &sums->awa_sine,
             &sums->awa_cosine);
    sums->polar_beyond = sums->polar_beyond || motion->polar_beyond;
    if (!step->working)
        sums->deck_s[deck_index(step->deck)] += dt;
}

/* The deck state of a leg: that of most of its time; `last` where there was
 * work all the time. */
static struct deck main_deck(const struct sums *sums, struct deck last) {
    int most = deck_index(last);
    for (int i = 0; i < DECK_STATES; i++)
        if (sums->deck_s[i] > sums->deck_s[most])
            most = i;
    return deck_at(most);
}

static void sum_passage(struct logbook *log, const struct sail_step *step) {
    struct plan_summary *summary = &log->plan->summary;
    double dt = step->seconds;
    enum sail_mode mode = deck_mode(step->deck);
    if (mode != MODE_STOWED)
        summary->spar_s += dt;
    if (mode == MODE_WING)
        summary->wing_s += dt;
    if (mode == MODE_POLED_REACH)
        summary->poled_reach_s += dt;
    if (fabs(step->motion->twa_deg) < BEATING_DEG)
        summary->upwind_s += dt;
    if (step->roll_deg <= log->plan->boat->comfort.easy_roll_deg)
        summary->roll_easy_s += dt;
    if (step->roll_deg > log->plan->boat->comfort.working_roll_deg)
        summary->roll_over_limit_s += dt;
    if (step->conditions->beyond_forecast)
        summary->beyond_forecast_s += dt;
    summary->max_tws_mps =
        fmax(summary->max_tws_mps, step->conditions->tws_mps);
    summary->max_gust_mps =
        figure_max(summary->max_gust_mps, step->conditions->gust_mps);
    log->roll2_s += dt * step->roll_deg * step->roll_deg;
}

/* Breaks in motoring that are shorter are not told. */
static const double BREAK_S = SECONDS_PER_HOUR;

static void note_motoring(struct logbook *log, const struct sail_step *step) {
    struct plan_engine *engine = &log->plan->engine;
    struct plan_point from = {step->from, moment(log->plan, step->start_s)};
    struct plan_point to = {step->to,
                            moment(log->plan, step->start_s + step->seconds)};
    if (step->motored_s <= 0.0)
        return;
    log->sums.motored_s += step->motored_s;
    struct plan_engine_run *last = NULL;
    if (engine->run_count > 0)
        last = &engine->runs[engine->run_count - 1];
    if (!last || instant_minus(from.at, last->end.at) > BREAK_S) {
        engine->runs = arena_room(log->arena, engine->runs, engine->run_count,
                                  &log->run_capacity, sizeof *engine->runs);
        last = &engine->runs[engine->run_count++];
        *last = (struct plan_engine_run){.start = from};
    }
    last->end = to;
    last->motored_s += step->motored_s;
}

static bool is_first_on_leg(const struct logbook *log) {
    return log->sums.seconds <= 0.0;
}

static void note_step(void *context, const struct sail_step *step) {
    struct logbook *log = context;
    sampled_add(log->plan, step, is_first_on_leg(log), log->arena);
    sum_motion(&log->sums, step);
    sum_weather(&log->sums, step, log->voyage);
    log->sums.night_s += darkness_s(log->plan->depart, step);
    sum_passage(log, step);
    note_motoring(log, step);
    rolling_add(&log->sums.rolling, &log->plan->boat->roller, step);
    cautions_add(log->plan, &log->sums.cautions, step);
    double end_s = step->start_s + step->seconds;
    if (end_s < log->next_track_s)
        return;
    add_point(log, step->to, end_s);
    log->next_track_s = end_s + TRACK_SPACING_S;
}

/* Two parts of one change: the first leaves to the second what that does. */
static void part_states(struct plan_change *first, struct plan_change *second) {
    bool parts = deck_index(first->from) == deck_index(second->from) &&
                 deck_index(first->to) == deck_index(second->to);
    if (!parts)
        return;
    bool turns =
        first->kind == CHANGE_MAINSAIL_GYBE || first->kind == CHANGE_TACK;
    struct deck between = turns ? first->from : first->to;
    between.wind_starboard =
        turns ? first->to.wind_starboard : first->from.wind_starboard;
    first->to = second->from = between;
    second->aws_mps = second->most_aws_mps = figure_unknown();
}

/* Without a coast nothing is known of what lies there. */
static struct figure lee_of(const struct logbook *log,
                            const struct sail_change *done) {
    if (!log->plan->coast.name)
        return figure_unknown();
    return figure_of(
        voyage_lee_m(log->voyage, done->at, done->conditions, PLAN_LEE_M));
}

/* Hands free, rigged as before the change; false where the boat can't sail
 * that course in that wind. */
static bool motion_on(const struct logbook *log, const struct sail_change *done,
                      double course_deg, double tws_mps,
                      struct motion *motion) {
    struct conditions conditions = *done->conditions;
    conditions.tws_mps = tws_mps;
    return voyage_motion(log->voyage, &conditions, course_deg, done->from,
                         false, motion) == OBSTACLE_NONE;
}

static double awa_on(const struct logbook *log,
                     const struct sail_change *done) {
    struct motion motion;
    if (!motion_on(log, done, log->course_deg, done->motion->tws_mps, &motion))
        motion = *done->motion;
    return voyage_awa_deg(&motion);
}

/* What the instruments show before it in that wind. */
static struct figure aws_before(const struct logbook *log,
                                const struct sail_change *done,
                                double tws_mps) {
    const struct plan *plan = log->plan;
    struct motion motion;
    double course_deg = log->course_deg;
    if (is_first_on_leg(log) && plan->leg_count == 0)
        return figure_unknown();
    if (is_first_on_leg(log))
        course_deg = plan->legs[plan->leg_count - 1].course_deg;
    return motion_on(log, done, course_deg, tws_mps, &motion)
               ? figure_of(motion.aws_mps)
               : figure_unknown();
}

static void note_change(void *context, const struct sail_change *done) {
    struct logbook *log = context;
    struct plan *plan = log->plan;
    plan->changes = arena_room(log->arena, plan->changes, plan->change_count,
                               &log->change_capacity, sizeof *plan->changes);
    struct instant at = moment(plan, done->t_s);
    bool deck_work = change_is_deck_work(plan->boat, done->kind);
    const struct work_limits *work = &plan->boat->work;
    double most_wind = done->kind == CHANGE_STOW ? work->stow_max_wind_mps
                                                 : work->max_wind_mps;
    plan->changes[plan->change_count++] = (struct plan_change){
        .kind = done->kind,
        .deck_work = deck_work,
        .at = at,
        .position = done->at,
        .from = done->from,
        .to = done->to,
        .seconds = done->seconds,
        .light = done->conditions->light,
        .sky = sky_seen(at, done->at),
        .trust = trust_at(plan, at),
        .tws_mps = done->motion->tws_mps,
        .twd_deg = done->conditions->twd_deg,
        .twa_deg = done->motion->twa_deg,
        .awa_deg = awa_on(log, done),
        .aws_mps = aws_before(log, done, done->motion->tws_mps),
        .most_aws_mps = aws_before(log, done, most_wind),
        .gust_mps =
            figure_of(voyage_gust_mps(done->conditions, done->motion->tws_mps)),
        .gust_estimated = !done->conditions->gust_mps.known,
        .wave_m = done->conditions->sea.height_known
                      ? figure_of(done->conditions->sea.height_m)
                      : figure_unknown(),
        .roll_deg = done->roll_deg,
        .lee_m = lee_of(log, done),
        .outside_limits = done->outside_limits,
        .barred = done->barred,
        .leg = plan->leg_count,
        .starts_leg = is_first_on_leg(log),
    };
    struct plan_change *last = &plan->changes[plan->change_count - 1];
    if (plan->change_count > 1)
        part_states(last - 1, last);
    plan->summary.deck_work += deck_work;
    plan->summary.night_deck_work +=
        deck_work && done->conditions->light == LIGHT_NIGHT;
}

/* In which the mode may be sailed; by day. */
static double aws_at_most(const struct boat *boat, const struct plan_leg *leg) {
    double wind = leg->mode == MODE_WING ? boat->spar.wing_max_wind_mps
                                         : boat->spar.reach_max_wind_mps;
    double twa_deg = fabs(leg->twa_deg);
    return apparent_speed(twa_deg, wind,
                          boat->factor *
                              polar_speed(&boat->spar_out, twa_deg, wind));
}

/* A mean has to be one of some time. */
static const double MOMENT_S = 1e-9;

static void put_means(const struct sums *sums, struct plan_leg *leg) {
    double seconds = fmax(sums->seconds, MOMENT_S);
    leg->tws_mps = sums->tws / seconds;
    leg->stw_mps = sums->stw / seconds;
    leg->aws_mps = sums->aws / fmax(sums->aws_s, MOMENT_S);
    leg->twd_deg = vector_direction_from(sums->wind);
    leg->heading_deg = vector_direction_towards(sums->heading);
    leg->twa_deg = mean_angle(sums->twa_sine, sums->twa_cosine);
    leg->awa_deg = mean_angle(sums->awa_sine, sums->awa_cosine);
    leg->roll_deg = sqrt(sums->roll2 / seconds);
    leg->gust_mps = sums->gust;
    leg->wave_m = sums->wave;
    if (sums->wave_s > 0.0) {
        struct vector_mps from = {sums->wave_east, sums->wave_north};
        leg->wave_period_s = figure_of(sums->wave_period_s / sums->wave_s);
        leg->wave_from_deg = figure_of(vector_direction_towards(from));
    }
    if (sums->current_s > 0.0) {
        struct vector_mps mean = {sums->current.east / sums->current_s,
                                  sums->current.north / sums->current_s};
        leg->current_known = true;
        leg->current_mps = vector_length(mean);
        leg->current_towards_deg = vector_direction_towards(mean);
    }
}

/* A leg, and the time that she waits where it starts. */
static void begin_leg(struct logbook *log, const struct vertex *vertex,
                      const struct underway *boat) {
    struct sail_step wait = {.from = boat->at,
                             .to = boat->at,
                             .start_s = boat->t_s,
                             .seconds = track_wait_s(vertex, boat)};
    log->sums =
        (struct sums){.wait_s = wait.seconds, .pace_frac = vertex->pace_frac};
    if (wait.seconds <= 0.0)
        return;
    log->sums.night_s = darkness_s(log->plan->depart, &wait);
    add_point(log, boat->at, boat->t_s + wait.seconds);
}

static void close_leg(struct logbook *log, struct position from, double start_s,
                      const struct underway *boat) {
    struct plan *plan = log->plan;
    const struct sums *sums = &log->sums;
    plan->legs = arena_room(log->arena, plan->legs, plan->leg_count,
                            &log->leg_capacity, sizeof *plan->legs);
    struct plan_leg *leg = &plan->legs[plan->leg_count++];
    struct rhumb line = rhumb_between(from, boat->at);
    *leg = (struct plan_leg){
        .start = moment(plan, start_s),
        .end = moment(plan, boat->t_s),
        .from = from,
        .to = boat->at,
        .course_deg = line.course_deg,
        .distance_m = line.distance_m,
        .deck = main_deck(sums, boat->deck),
        .pace_frac = sums->pace_frac,
        .wait_s = sums->wait_s,
        .night_s = sums->night_s,
        .motored_s = sums->motored_s,
        .gust_estimated = sums->gust_estimated,
        .wave_estimated = sums->wave_estimated,
        .wave_split = sums->wave_split,
        .beyond_forecast = sums->beyond,
        .polar_beyond = sums->polar_beyond,
        .unchecked = sums->unchecked,
        .sog_mps =
            line.distance_m / fmax(boat->t_s - start_s - sums->wait_s, 1e-9),
    };
    leg->mode = deck_mode(leg->deck);
    leg->trust = trust_at(plan, leg->start);
    leg->sky = sky_seen(leg->start, leg->from);
    put_means(sums, leg);
    leg->roll = rolling_of_leg(&sums->rolling);
    leg->remarks = cautions_of_leg(&sums->cautions);
    if (deck_is_drawing(leg->deck))
        leg->most_aws_mps = figure_of(aws_at_most(plan->boat, leg));
    leg->beating = fabs(leg->twa_deg) < BEATING_DEG;
    leg->reefs = boat_reefs(plan->boat, leg->tws_mps);
    plan->summary.distance_m += line.distance_m;
    plan->summary.max_wave_m =
        figure_max(plan->summary.max_wave_m, leg->wave_m);
    add_point(log, boat->at, boat->t_s);
    log->next_track_s = boat->t_s + TRACK_SPACING_S;
}

/* Start and finish are one place: a leg of no length and no time, with the
 * weather there, and the roll of a boat that lies hove-to. */
static void stay(struct logbook *log, const struct underway *boat) {
    struct conditions here;
    if (voyage_look(log->voyage, boat->at, boat->t_s, &here) != OBSTACLE_NONE)
        return;
    struct motion motion = track_lying(&here);
    struct sail_step step = {
        .from = boat->at,
        .to = boat->at,
        .start_s = boat->t_s,
        .seconds = MOMENT_S,
        .conditions = &here,
        .motion = &motion,
        .roll_deg = voyage_roll_deg(log->voyage, &here, &motion, boat->deck),
        .deck = boat->deck};
    step.deck.wind_starboard = true;
    struct plan_summary *summary = &log->plan->summary;
    sampled_add(log->plan, &step, true, log->arena);
    sum_motion(&log->sums, &step);
    sum_weather(&log->sums, &step, log->voyage);
    rolling_add(&log->sums.rolling, &log->plan->boat->roller, &step);
    log->roll2_s = MOMENT_S * step.roll_deg * step.roll_deg;
    summary->max_tws_mps = here.tws_mps;
    summary->max_gust_mps = here.gust_mps;
    close_leg(log, boat->at, boat->t_s, boat);
    log->plan->legs[0].course_deg = motion.heading_deg;
}

static void put_engine(const struct voyage *voyage, const struct underway *boat,
                       struct plan *plan) {
    if (!voyage->boat->motor.fitted)
        return;
    plan->summary.motor_s = figure_of(boat->motored_s);
    plan->engine.motoring = voyage->motoring;
    plan->engine.litres =
        engine_litres(voyage->boat, boat->motored_s, boat->t_s);
    plan->engine.charging_litres = engine_litres(voyage->boat, 0.0, boat->t_s);
}

void legs_sail(const struct voyage *voyage, const struct track *course,
               struct underway *boat, struct arena *arena, struct plan *plan,
               enum obstacle *obstacle) {
    struct logbook log = {.voyage = voyage, .plan = plan, .arena = arena};
    struct sail_observer observer = {
        .step = note_step, .change = note_change, .context = &log};
    *obstacle = OBSTACLE_NONE;
    log.next_track_s = TRACK_SPACING_S;
    add_point(&log, boat->at, boat->t_s);
    for (size_t i = 0; i + 1 < course->count; i++) {
        struct position from = boat->at;
        double start_s = boat->t_s;
        begin_leg(&log, &course->vertices[i], boat);
        log.course_deg =
            rhumb_between(from, course->vertices[i + 1].at).course_deg;
        *obstacle = track_sail_stretch(voyage, course, i, boat, &observer);
        if (boat->t_s > start_s)
            close_leg(&log, from, start_s, boat);
        if (*obstacle != OBSTACLE_NONE)
            break;
    }
    if (plan->leg_count == 0 && *obstacle == OBSTACLE_NONE)
        stay(&log, boat);
    sampled_end(plan, boat->at, moment(plan, boat->t_s), arena);
    plan->summary.elapsed_s = boat->t_s;
    put_engine(voyage, boat, plan);
    plan->summary.cost_s = boat->cost_s;
    plan->summary.discomfort_s = boat->discomfort_s;
    plan->summary.hardship_s = boat->hardship_s;
    plan->summary.roll_mean_deg = sqrt(log.roll2_s / fmax(boat->t_s, MOMENT_S));
}
