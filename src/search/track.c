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
            obstacle = sail_to(voyage, boat, to, observer);
        if (obstacle != OBSTACLE_NO_SPEED && obstacle != OBSTACLE_CURRENT)
            return obstacle;
        obstacle = creep(voyage, boat, to);
        if (obstacle != OBSTACLE_NONE)
            return obstacle;
    }
}

enum obstacle track_sail_stretch(const struct voyage *voyage,
                                 const struct track *track, size_t index,
                                 struct underway *boat,
                                 const struct sail_observer *observer) {
    const struct vertex *here = &track->vertices[index];
    return track_sail_leg(voyage, boat, here->order,
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
        for (int side = 0; side < 2; side++)
            if (track_sail_stretch(voyage, track, i, &boats[side], NULL) !=
                OBSTACLE_NONE)
                return tie;
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
