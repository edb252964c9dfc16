#include "search/homeward.h"

#include "earth/angle.h"
#include "earth/geodesic.h"
#include "earth/rhumb.h"

#include <math.h>

static const double SAME_TIME_S = 1e-6;
static const double SAME_PLACE_M = 0.01;

/* Further than this the first course is that of the geodesic. */
static const double RHUMB_M = 60.0 * METRES_PER_NMI;

/* Courses to windward are tried from so near the true wind on, in steps, up to
 * 80 degrees. */
static const double BEAT_CLOSEST_DEG = 30.0;
static const double BEAT_STEP_DEG = 2.5;
enum { BEAT_COURSES = 21 };

/* A board is sailed in pieces: half the room there is, between these. */
static const double SHORTEST_BOARD_M = 0.1 * METRES_PER_NMI;
static const double LONGEST_BOARD_M = 5.0 * METRES_PER_NMI;

/* By so much off the course, away from the wind, and the next where that is
 * not enough; for minutes, so that no shift of the wind is sailed past. */
static const double AWAY_DEG[] = {20.0, 40.0, 60.0};
static const double AWAY_S = 300.0;

/* Halvings that find the place to stow at: to a metre in a thousand miles. */
enum { STOW_HALVINGS = 20 };

struct homeward homeward_from(const struct waterway *waterway,
                              struct position at, struct position goal) {
    struct homeward way = {.waterway = waterway, .goal = goal};
    struct corners *ahead = &way.ahead;
    if (waterway)
        ahead->count =
            waterway_path(waterway, at, ahead->places, HOMEWARD_CORNERS);
    if (ahead->count == 0)
        ahead->places[ahead->count++] = goal;
    return way;
}

double homeward_course_deg(const struct homeward *way, struct position at) {
    return geodesic_between(at, way->ahead.places[0]).course_start_deg;
}

static bool is_same(struct position a, struct position b) {
    return rhumb_between(a, b).distance_m <= SAME_PLACE_M;
}

bool homeward_arrives(const struct homeward *way,
                      const struct corners *corners) {
    return corners->count > 0 &&
           is_same(corners->places[corners->count - 1], way->goal);
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
    for (int i = 0; i < BEAT_COURSES; i++) {
        double off_deg = BEAT_CLOSEST_DEG + i * BEAT_STEP_DEG;
        double port_deg = angle_wrap_360(boat->here.twd_deg + off_deg);
        double starboard_deg = angle_wrap_360(boat->here.twd_deg - off_deg);
        double mps = fmin(windward_mps(voyage, boat, port_deg),
                          windward_mps(voyage, boat, starboard_deg));
        if (mps <= best_mps)
            continue;
        best_mps = mps;
        *beat = (struct beat){{port_deg, starboard_deg}, off_deg};
    }
    return best_mps > 0.0;
}

static bool is_laid(const struct underway *boat, const struct beat *beat,
                    struct position place) {
    double course_deg = rhumb_between(boat->at, place).course_deg;
    return fabs(angle_turn(course_deg, boat->here.twd_deg)) >=
           beat->angle_deg - BEAT_STEP_DEG;
}

static bool is_full(const struct corners *turned) {
    return turned->count == HOMEWARD_CORNERS;
}

static void note_turn(struct corners *turned, struct position at) {
    bool noted =
        turned->count > 0 && is_same(turned->places[turned->count - 1], at);
    if (!is_full(turned) && !noted)
        turned->places[turned->count++] = at;
}

static bool is_barred(enum obstacle obstacle) {
    return obstacle == OBSTACLE_LAND || obstacle == OBSTACLE_ZONE ||
           obstacle == OBSTACLE_AREA;
}

/* A piece of a board: shorter where there is little room. */
static double board_m(const struct voyage *voyage, struct position at) {
    if (!voyage->room_m)
        return LONGEST_BOARD_M;
    double room_m = voyage->room_m(voyage->water, at);
    return fmin(fmax(0.5 * room_m, SHORTEST_BOARD_M), LONGEST_BOARD_M);
}

/* Where a step ends headed, though it begins well: the wind shifts ahead. */
static enum obstacle bear_away(const struct voyage *voyage,
                               struct underway *boat, struct position place,
                               double end_s, struct corners *turned) {
    double course_deg = rhumb_between(boat->at, place).course_deg;
    double way = angle_turn(course_deg, boat->here.twd_deg) >= 0.0 ? -1.0 : 1.0;
    for (size_t i = 0; i < sizeof AWAY_DEG / sizeof *AWAY_DEG; i++)
        if (sail_step(voyage, boat,
                      angle_wrap_360(course_deg + way * AWAY_DEG[i]),
                      fmin(AWAY_S, end_s - boat->t_s), HUGE_VAL,
                      NULL) == OBSTACLE_NONE) {
            note_turn(turned, boat->at);
            return OBSTACLE_NONE;
        }
    return OBSTACLE_NO_SPEED;
}

/* Beats towards a place, going about where land or a zone comes up, until it
 * can be laid. */
static enum obstacle beat_towards(const struct voyage *voyage,
                                  struct underway *boat, struct position place,
                                  double end_s, struct corners *turned) {
    struct beat beat = {{0.0, 0.0}, 0.0};
    enum obstacle obstacle = sail_look(voyage, boat);
    if (obstacle != OBSTACLE_NONE)
        return obstacle;
    if (!find_beat(voyage, boat, &beat) || is_laid(boat, &beat, place))
        return OBSTACLE_NO_SPEED; /* becalmed: beating is no help */
    double bearing_deg = rhumb_between(boat->at, place).course_deg;
    int tack = angle_turn(boat->here.twd_deg, bearing_deg) > 0.0 ? 0 : 1;
    bool went = true;
    while (end_s - boat->t_s > SAME_TIME_S && !is_laid(boat, &beat, place)) {
        obstacle =
            sail_step(voyage, boat, beat.course_deg[tack], end_s - boat->t_s,
                      board_m(voyage, boat->at), NULL);
        bool barred = is_barred(obstacle);
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
                                  double end_s, struct corners *turned) {
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
        if (obstacle == OBSTACLE_NO_SPEED && end_s - boat->t_s > SAME_TIME_S)
            obstacle = bear_away(voyage, boat, place, end_s, turned);
        if (obstacle != OBSTACLE_NONE)
            return obstacle;
    }
    return OBSTACLE_NONE;
}

enum obstacle homeward_sail(const struct voyage *voyage, struct underway *boat,
                            const struct homeward *way, double seconds,
                            struct corners *turned) {
    double end_s = boat->t_s + seconds;
    struct position asked_at = boat->at;
    struct homeward now = *way;
    turned->count = 0;
    for (size_t i = 0; i < now.ahead.count;) {
        struct position next = now.ahead.places[i];
        enum obstacle obstacle =
            sail_towards(voyage, boat, next, end_s, turned);
        bool over = end_s - boat->t_s <= SAME_TIME_S || is_full(turned);
        if (is_barred(obstacle) && !over && !is_same(boat->at, asked_at)) {
            asked_at = boat->at;
            note_turn(turned, boat->at);
            now = homeward_from(way->waterway, boat->at, way->goal);
            i = 0;
            continue;
        }
        if (obstacle != OBSTACLE_NONE || over)
            return obstacle;
        boat->at = next;
        note_turn(turned, next);
        i++;
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
                             const struct corners *ahead, struct deck order,
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
