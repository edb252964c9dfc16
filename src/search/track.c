#include "search/track.h"

#include "earth/rhumb.h"

#include <math.h>
#include <string.h>

/* Two vertices may be one place, where two things are done there. */
static const double SAME_PLACE_M = 0.01;

/* Costs closer than this are the same. */
static const double SAME_COST_S = 0.001;

/* Creeping: so far at a time, and so slow that any way round is cheaper. */
static const double CREEP_M = 2000.0;
static const double CREEP_MPS = 0.25;

struct track track_copy(struct arena *arena, const struct track *track) {
    struct track copy = {.count = track->count};
    copy.vertices = arena_alloc(arena, track->count, sizeof *copy.vertices);
    if (track->count > 0) /* no way was found: no vertices */
        memcpy(copy.vertices, track->vertices,
               track->count * sizeof *copy.vertices);
    return copy;
}

static enum obstacle creep(const struct voyage *voyage, struct underway *boat,
                           struct position to) {
    struct rhumb line = rhumb_between(boat->at, to);
    double distance_m = fmin(line.distance_m, CREEP_M);
    double seconds = distance_m / CREEP_MPS;
    struct position next =
        distance_m < line.distance_m
            ? rhumb_step(boat->at, line.course_deg, distance_m)
            : to;
    enum obstacle obstacle =
        voyage->blocked ? voyage->blocked(voyage->water, boat->at, next,
                                          boat->t_s, boat->t_s + seconds)
                        : OBSTACLE_NONE;
    if (obstacle != OBSTACLE_NONE)
        return obstacle;
    boat->at = next;
    boat->t_s += seconds;
    boat->cost_s += seconds;
    boat->crept_s += seconds;
    boat->sailed_m += distance_m;
    boat->work_left_s = fmax(0.0, boat->work_left_s - seconds);
    boat->here_known = boat->motion_known = false;
    return OBSTACLE_NONE;
}

/* Changes the deck and sails; creeps where that can't be done. */
enum obstacle track_sail_leg(const struct voyage *voyage, struct underway *boat,
                             struct deck order, struct position to,
                             const struct sail_observer *observer) {
    for (;;) {
        struct rhumb line = rhumb_between(boat->at, to);
        if (line.distance_m <= SAME_PLACE_M)
            return OBSTACLE_NONE;
        enum obstacle obstacle =
            sail_change_deck(voyage, boat, line.course_deg, order, observer);
        if (obstacle == OBSTACLE_NONE)
            obstacle = sail_along(voyage, boat, line, to, observer);
        if (obstacle != OBSTACLE_NO_SPEED && obstacle != OBSTACLE_CURRENT)
            return obstacle;
        obstacle = creep(voyage, boat, to);
        if (obstacle != OBSTACLE_NONE)
            return obstacle;
    }
}

struct voyage track_pace(const struct voyage *voyage,
                         const struct vertex *vertex) {
    struct voyage paced = *voyage;
    paced.pace_frac = vertex->pace_frac;
    return paced;
}

double track_wait_s(const struct vertex *vertex, const struct underway *boat) {
    return fmax(0.0, vertex->wait_until_s - boat->t_s);
}

/* She lies with the wind so far off her bow, without way (common practice, no
 * source). */
static const double LYING_TWA_DEG = 50.0;

struct motion track_lying(const struct conditions *here) {
    return (struct motion){.heading_deg =
                               angle_wrap_360(here->twd_deg - LYING_TWA_DEG),
                           .twa_deg = LYING_TWA_DEG,
                           .tws_mps = here->tws_mps,
                           .aws_mps = here->tws_mps};
}

/* The discomfort of some minutes of it, seconds. */
static enum obstacle lie(const struct voyage *voyage,
                         const struct underway *boat, double seconds,
                         double *discomfort_s) {
    struct conditions here;
    enum obstacle obstacle = voyage_look(voyage, boat->at, boat->t_s, &here);
    if (obstacle == OBSTACLE_NONE)
        obstacle = voyage_limit(voyage, &here);
    if (obstacle != OBSTACLE_NONE)
        return obstacle;
    struct motion motion = track_lying(&here);
    double roll_deg = voyage_roll_deg(voyage, &here, &motion, boat->deck);
    *discomfort_s = seconds * voyage_discomfort(voyage, roll_deg);
    return OBSTACLE_NONE;
}

static enum obstacle lie_until(const struct voyage *voyage,
                               struct underway *boat, double end_s) {
    boat->here_known = boat->motion_known = false;
    while (boat->t_s < end_s) {
        double discomfort_s, left_s = end_s - boat->t_s;
        double seconds = fmin(left_s, voyage->step_s);
        enum obstacle obstacle = lie(voyage, boat, seconds, &discomfort_s);
        if (obstacle != OBSTACLE_NONE)
            return obstacle;
        boat->t_s = seconds < left_s ? boat->t_s + seconds : end_s;
        boat->discomfort_s += discomfort_s;
        boat->cost_s += seconds + voyage->ease * discomfort_s;
        boat->work_left_s = fmax(0.0, boat->work_left_s - seconds);
    }
    boat->stowing = boat->stowing && boat->work_left_s > 0.0;
    return OBSTACLE_NONE;
}

/* What is ordered is done first, then she stays. */
static enum obstacle wait_at(const struct voyage *voyage, struct underway *boat,
                             const struct vertex *vertex, struct position to,
                             const struct sail_observer *observer) {
    double course_deg = rhumb_between(boat->at, to).course_deg;
    double end_s = vertex->wait_until_s;
    if (track_wait_s(vertex, boat) <= 0.0)
        return OBSTACLE_NONE;
    enum obstacle obstacle =
        sail_change_deck(voyage, boat, course_deg, vertex->order, observer);
    if (obstacle == OBSTACLE_NONE && voyage->blocked)
        obstacle = voyage->blocked(voyage->water, boat->at, boat->at, boat->t_s,
                                   end_s);
    return obstacle == OBSTACLE_NONE ? lie_until(voyage, boat, end_s)
                                     : obstacle;
}

enum obstacle track_sail_paced(const struct voyage *voyage,
                               struct underway *boat,
                               const struct vertex *vertex, struct position to,
                               const struct sail_observer *observer) {
    if (vertex->pace_frac <= 0.0 && vertex->wait_until_s <= 0.0)
        return track_sail_leg(voyage, boat, vertex->order, to, observer);
    struct voyage paced = track_pace(voyage, vertex);
    boat->motion_known = false; /* it was that of another pace */
    enum obstacle obstacle = wait_at(&paced, boat, vertex, to, observer);
    if (obstacle == OBSTACLE_NONE)
        obstacle = track_sail_leg(&paced, boat, vertex->order, to, observer);
    boat->motion_known = false;
    return obstacle;
}

enum obstacle track_sail_stretch(const struct voyage *voyage,
                                 const struct track *track, size_t index,
                                 struct underway *boat,
                                 const struct sail_observer *observer) {
    return track_sail_paced(voyage, boat, &track->vertices[index],
                            track->vertices[index + 1].at, observer);
}

/* From astern the wind may be called on either side. What that is worth shows
 * when the first of the two boats has to bring the mainsail over. */
static bool starboard_is_cheaper(const struct voyage *voyage,
                                 const struct track *track,
                                 const struct underway *start, bool tie) {
    struct underway boats[2] = {*start, *start};
    for (int side = 0; side < 2; side++)
        boats[side].deck.wind_starboard = side == 1;
    for (size_t i = 0; i + 1 < track->count; i++) {
        for (int side = 0; side < 2; side++) {
            enum obstacle why =
                track_sail_stretch(voyage, track, i, &boats[side], NULL);
            if (why == OBSTACLE_GYBE)
                return side == 0;
            if (why != OBSTACLE_NONE)
                return tie;
        }
        if (deck_index(boats[0].deck) == deck_index(boats[1].deck))
            break;
    }
    double gain_s = boats[0].cost_s - boats[1].cost_s;
    return fabs(gain_s) > SAME_COST_S ? gain_s > 0.0 : tie;
}

struct underway track_start(const struct voyage *voyage,
                            const struct track *track,
                            const struct underway *start) {
    struct underway boat = *start;
    struct motion motion;
    double course_deg =
        rhumb_between(track->vertices[0].at, track->vertices[1].at).course_deg;
    struct deck stowed = {.spar = SPAR_STOWED};
    if (sail_look(voyage, &boat) != OBSTACLE_NONE ||
        voyage_motion(voyage, &boat.here, course_deg, stowed, false, &motion) !=
            OBSTACLE_NONE)
        return boat;
    boat.deck.wind_starboard = motion.twa_deg >= 0.0;
    if (180.0 - fabs(motion.twa_deg) > VOYAGE_BY_THE_LEE_DEG)
        return boat;
    struct deck first = track->vertices[0].order;
    bool to_windward = first.spar == SPAR_STOWED ? boat.deck.wind_starboard
                                                 : first.spar == SPAR_STARBOARD;
    boat.deck.wind_starboard =
        starboard_is_cheaper(voyage, track, &boat, to_windward);
    return boat;
}

enum obstacle track_sail(const struct voyage *voyage, const struct track *track,
                         struct underway *boat,
                         const struct sail_observer *observer) {
    for (size_t i = 0; i + 1 < track->count; i++) {
        enum obstacle obstacle =
            track_sail_stretch(voyage, track, i, boat, observer);
        if (obstacle != OBSTACLE_NONE)
            return obstacle;
    }
    return OBSTACLE_NONE;
}

double track_cost(const struct voyage *voyage, const struct track *track,
                  const struct underway *start, double *elapsed_s) {
    struct underway boat = track_start(voyage, track, start);
    enum obstacle obstacle = track_sail(voyage, track, &boat, NULL);
    bool sailed = obstacle == OBSTACLE_NONE && boat.crept_s <= 0.0;
    *elapsed_s = boat.t_s;
    return sailed ? boat.cost_s : HUGE_VAL;
}
