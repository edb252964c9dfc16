#include "plan/homing.h"

#include "earth/angle.h"
#include "earth/rhumb.h"

#include <math.h>

/* Minutes, so that no shift of the wind is sailed past. */
static const double AWAY_S = 300.0;

/* By so much off the course, away from the wind; the next where that is not
 * enough. */
static const double AWAY_DEG[] = {20.0, 40.0, 60.0};

static const double SAME_TIME_S = 1.0;

/* Nearer than this she is there. */
static const double THERE_M = 1.0;

static bool bear_away(const struct voyage *voyage, struct underway *boat,
                      double course_deg, double most_s) {
    if (sail_look(voyage, boat) != OBSTACLE_NONE)
        return false;
    double off_deg = angle_turn(course_deg, boat->here.twd_deg);
    double way = off_deg >= 0.0 ? -1.0 : 1.0;
    for (size_t i = 0; i < sizeof AWAY_DEG / sizeof *AWAY_DEG; i++)
        if (sail_step(voyage, boat,
                      angle_wrap_360(course_deg + way * AWAY_DEG[i]),
                      fmin(AWAY_S, most_s), HUGE_VAL, NULL) == OBSTACLE_NONE)
            return true;
    return false;
}

static bool is_there(const struct underway *boat, struct position goal) {
    return rhumb_between(boat->at, goal).distance_m < THERE_M;
}

enum obstacle homing_sail(const struct voyage *voyage, struct underway *boat,
                          const struct homeward *way, double seconds) {
    double end_s = boat->t_s + seconds;
    struct homeward now = *way;
    while (end_s - boat->t_s > SAME_TIME_S && !is_there(boat, way->goal)) {
        double before_s = boat->t_s;
        struct corners turned;
        enum obstacle why =
            homeward_sail(voyage, boat, &now, end_s - boat->t_s, &turned);
        if (is_there(boat, way->goal))
            return OBSTACLE_NONE;
        now = homeward_from(way->waterway, boat->at, way->goal);
        bool stuck = why == OBSTACLE_NONE && boat->t_s <= before_s;
        if (why != OBSTACLE_NONE && why != OBSTACLE_NO_SPEED)
            return why;
        if ((why == OBSTACLE_NO_SPEED || stuck) &&
            !bear_away(voyage, boat, homeward_course_deg(&now, boat->at),
                       end_s - boat->t_s))
            return OBSTACLE_NO_SPEED;
    }
    return OBSTACLE_NONE;
}
