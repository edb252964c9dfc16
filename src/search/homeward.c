#include "search/homeward.h"

#include "earth/geodesic.h"
#include "earth/rhumb.h"

#include <math.h>

static const double SAME_TIME_S = 1e-6;
static const double SAME_PLACE_M = 0.01;

/* Further than this the first course is that of the geodesic. */
static const double RHUMB_M = 60.0 * METRES_PER_NMI;

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

static enum obstacle sail_towards(const struct voyage *voyage,
                                  struct underway *boat, struct position place,
                                  double end_s) {
    struct rhumb line = rhumb_between(boat->at, place);
    double course_deg = line.course_deg;
    if (line.distance_m > RHUMB_M)
        course_deg = geodesic_between(boat->at, place).course_start_deg;
    double end_m = boat->sailed_m + line.distance_m;
    while (end_s - boat->t_s > SAME_TIME_S &&
           end_m - boat->sailed_m > SAME_PLACE_M) {
        enum obstacle obstacle =
            sail_step(voyage, boat, course_deg, end_s - boat->t_s,
                      end_m - boat->sailed_m, NULL);
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
            sail_towards(voyage, boat, ahead->places[i], end_s);
        if (obstacle != OBSTACLE_NONE || end_s - boat->t_s <= SAME_TIME_S)
            return obstacle;
        turned->places[turned->count++] = boat->at;
    }
    return OBSTACLE_AREA;
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
