#include "plan/homing.h"

#include "earth/rhumb.h"

static const double SAME_TIME_S = 1.0;

/* Nearer than this she is there. */
static const double THERE_M = 1.0;

static bool is_there(const struct underway *boat, struct position goal) {
    return rhumb_between(boat->at, goal).distance_m < THERE_M;
}

enum obstacle homing_sail(const struct voyage *voyage, struct underway *boat,
                          const struct homeward *way, double seconds) {
    double end_s = boat->t_s + seconds;
    struct homeward now = *way;
    enum obstacle why = OBSTACLE_NONE;
    while (why == OBSTACLE_NONE && end_s - boat->t_s > SAME_TIME_S &&
           !is_there(boat, way->goal)) {
        double before_s = boat->t_s;
        struct corners turned;
        why = homeward_sail(voyage, boat, &now, end_s - boat->t_s, &turned);
        if (why == OBSTACLE_NONE && boat->t_s <= before_s &&
            !is_there(boat, way->goal))
            why = OBSTACLE_NO_SPEED;
        now = homeward_from(way->waterway, boat->at, way->goal);
    }
    return is_there(boat, way->goal) ? OBSTACLE_NONE : why;
}
