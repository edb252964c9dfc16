#include "search/homeward.h"

#include "earth/angle.h"
#include "earth/geodesic.h"
#include "earth/rhumb.h"

#include <math.h>

static const double SAME_TIME_S = 1e-6;
static const double SAME_PLACE_M = 0.01;

/* Further than this the first course is that of the geodesic. */
static const double RHUMB_M = 60.0 * METRES_PER_NMI;

/* Courses to windward are tried between these angles to the true wind. */
static const double BEAT_CLOSEST_DEG = 30.0;
static const double BEAT_WIDEST_DEG = 80.0;
static const double BEAT_STEP_DEG = 2.5;

/* A board is sailed in pieces: half the room there is, between these. */
static const double SHORTEST_BOARD_M = 0.1 * METRES_PER_NMI;
static const double LONGEST_BOARD_M = 5.0 * METRES_PER_NMI;

/* Halvings that find the place to stow at: to a metre in a thousand miles. */
enum { STOW_HALVINGS = 20 };

struct homeward homeward_from(const struct waterway *waterway,
                              struct position at, struct position goal) {
    struct homeward ahead = {.count = 0};
    if (waterway)
        ahead.count =
            waterway_path(waterway, at, ahead.places, HOMEWARD_CORNERS);
    if (ahead.count == 0)
        ahead.places[ahead.count++] = goal;
    return ahead;
}

double homeward_course_deg(const struct homeward *ahead, struct position at) {
    return geodesic_between(at, ahead->places[0]).course_start_deg;
}

/* --- to windward ---------------------------------------------------------- */

/* The best course to windward on either tack, and its angle. */
struct beat {
    double course_deg[2], angle_deg;
};

/* Speed made good to windward on a course; 0 where she does not sail. */
static double windward_mps(const struct voyage *voyage,
                           const struct underway *boat, double course_deg) {
    struct motion motion;
    struct deck deck = boat->deck;
    double off_deg = angle_turn(course_deg, boat->here.twd_deg);
    deck.wind_starboard = off_deg >= 0.0;
    if (voyage_motion(voyage, &boat->here, course_deg, deck, false, &motion) !=
        OBSTACLE_NONE)
        return 0.0;
    return motion.sog_mps * cos(off_deg * RADIANS_PER_DEGREE);
}

static bool find_beat(const struct voyage *voyage, const struct underway *boat,
                      struct beat *beat) {
    double best_mps = 0.0;
    for (double a = BEAT_CLOSEST_DEG; a <= BEAT_WIDEST_DEG;
         a += BEAT_STEP_DEG) {
        double port_deg = angle_wrap_360(boat->here.twd_deg + a);
        double starboard_deg = angle_wrap_360(boat->here.twd_deg - a);
        double mps = fmin(windward_mps(voyage, boat, port_deg),
                          windward_mps(voyage, boat, starboard_deg));
        if (mps <= best_mps)
            continue;
        best_mps = mps;
        *beat = (struct beat){{port_deg, starboard_deg}, a};
    }
    return best_mps > 0.0;
}

static bool is_laid(const struct underway *boat, const struct beat *beat,
                    struct position place) {
    double course_deg = rhumb_between(boat->at, place).course_deg;
    return fabs(angle_turn(course_deg, boat->here.twd_deg)) >=
           beat->angle_deg - BEAT_STEP_DEG;
}

static bool is_full(const struct homeward *turned) {
    return turned->count == HOMEWARD_CORNERS;
}

static void note_turn(struct homeward *turned, struct position at) {
    if (!is_full(turned))
        turned->places[turned->count++] = at;
}

/* A piece of a board: shorter where there is little room. */
static double board_m(const struct voyage *voyage, struct position at) {
    if (!voyage->room_m)
        return LONGEST_BOARD_M;
    double room_m = voyage->room_m(voyage->water, at);
    return fmin(fmax(0.5 * room_m, SHORTEST_BOARD_M), LONGEST_BOARD_M);
}

/* Beats towards a place, going about where land or a zone comes up, until it
 * can be laid. */
static enum obstacle beat_towards(const struct voyage *voyage,
                                  struct underway *boat, struct position place,
                                  double end_s, struct homeward *turned) {
    struct beat beat;
    enum obstacle obstacle = sail_look(voyage, boat);
    if (obstacle != OBSTACLE_NONE)
        return obstacle;
    if (!find_beat(voyage, boat, &beat))
        return OBSTACLE_NO_SPEED;
    double bearing_deg = rhumb_between(boat->at, place).course_deg;
    int tack = angle_turn(boat->here.twd_deg, bearing_deg) > 0.0 ? 0 : 1;
    bool went = true;
    while (end_s - boat->t_s > SAME_TIME_S && !is_laid(boat, &beat, place)) {
        obstacle =
            sail_step(voyage, boat, beat.course_deg[tack], end_s - boat->t_s,
                      board_m(voyage, boat->at), NULL);
        bool barred = obstacle == OBSTACLE_LAND || obstacle == OBSTACLE_ZONE;
        if (obstacle != OBSTACLE_NONE && (!barred || !went))
            return obstacle;
        went = obstacle == OBSTACLE_NONE;
        if (barred) {
            tack = 1 - tack;
            note_turn(turned, boat->at);
        }
        if (is_full(turned))
            return OBSTACLE_NONE;
    }
    note_turn(turned, boat->at);
    return OBSTACLE_NONE;
}

/* --- along the corners ---------------------------------------------------- */

static enum obstacle sail_towards(const struct voyage *voyage,
                                  struct underway *boat, struct position place,
                                  double end_s, struct homeward *turned) {
    while (end_s - boat->t_s > SAME_TIME_S && !is_full(turned)) {
        struct rhumb line = rhumb_between(boat->at, place);
        if (line.distance_m <= SAME_PLACE_M)
            return OBSTACLE_NONE;
        double course_deg =
            line.distance_m > RHUMB_M
                ? geodesic_between(boat->at, place).course_start_deg
                : line.course_deg;
        enum obstacle obstacle = sail_step(
            voyage, boat, course_deg, end_s - boat->t_s, line.distance_m, NULL);
        if (obstacle == OBSTACLE_NO_SPEED)
            obstacle = beat_towards(voyage, boat, place, end_s, turned);
        if (obstacle != OBSTACLE_NONE)
            return obstacle;
    }
    return OBSTACLE_NONE;
}

enum obstacle homeward_sail(const struct voyage *voyage, struct underway *boat,
                            const struct homeward *ahead, double seconds,
                            struct homeward *turned) {
    double end_s = boat->t_s + seconds;
    turned->count = 0;
    for (size_t i = 0; i < ahead->count; i++) {
        enum obstacle obstacle =
            sail_towards(voyage, boat, ahead->places[i], end_s, turned);
        if (obstacle != OBSTACLE_NONE || end_s - boat->t_s <= SAME_TIME_S)
            return obstacle;
        if (is_full(turned))
            return OBSTACLE_NONE;
        boat->at = ahead->places[i];
        note_turn(turned, boat->at);
    }
    return OBSTACLE_NONE;
}

/* The last place on a line before it comes nearer to the goal than that. */
static struct position last_outside(struct position from, struct position to,
                                    struct position goal, double radius_m) {
    struct rhumb line = rhumb_between(from, to);
    double low_m = 0.0, high_m = line.distance_m;
    for (int i = 0; i < STOW_HALVINGS; i++) {
        double middle_m = 0.5 * (low_m + high_m);
        struct position middle = rhumb_ahead(from, line.course_deg, middle_m);
        if (rhumb_between(middle, goal).distance_m < radius_m)
            high_m = middle_m;
        else
            low_m = middle_m;
    }
    return rhumb_ahead(from, line.course_deg, low_m);
}

/* How far off the goal the spar has to start coming in. */
static double stow_radius_m(const struct voyage *voyage, double top_mps) {
    const struct spar *spar = &voyage->boat->spar;
    double run_m =
        spar->stow_s * spar->night_factor * spar->work_speed_frac * top_mps;
    return spar->landfall_m + run_m;
}

struct track homeward_ending(const struct voyage *voyage, struct position at,
                             const struct homeward *ahead, struct deck order,
                             double top_mps, bool must_stow,
                             struct vertex vertices[HOMEWARD_VERTICES]) {
    struct deck stowed = {.spar = SPAR_STOWED};
    struct position goal = ahead->places[ahead->count - 1];
    bool out = must_stow && order.spar != SPAR_STOWED;
    double radius_m = out ? stow_radius_m(voyage, top_mps) : 0.0;
    if (out && rhumb_between(at, goal).distance_m <= radius_m) {
        order = stowed;
        out = false;
    }
    struct track track = {.vertices = vertices};
    vertices[track.count++] = (struct vertex){.at = at, .order = order};
    struct position last = at;
    for (size_t i = 0; i < ahead->count; i++) {
        struct position next = ahead->places[i];
        if (out && rhumb_between(next, goal).distance_m < radius_m) {
            struct position place = last_outside(last, next, goal, radius_m);
            vertices[track.count++] =
                (struct vertex){.at = place, .order = stowed};
            order = stowed;
            out = false;
        }
        vertices[track.count++] = (struct vertex){.at = next, .order = order};
        last = next;
    }
    vertices[track.count - 1].pinned = true;
    return track;
}
