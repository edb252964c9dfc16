#include "search/ray.h"

#include "earth/mercator.h"

#include <math.h>

/* To see how her speed differs from place to place she looks so far to all
 * sides: little on the scale of a forecast. */
static const double ASIDE_M = 500.0;

struct ray ray_leaving(struct plane_point from, double angle) {
    return (struct ray){.at = from, .across = {cos(angle), sin(angle)}};
}

struct position ray_position(struct plane_point at) {
    return mercator_position((struct mercator){.x = at.x, .y = at.y});
}

/* --- the best heading ----------------------------------------------------- */

/* A way through the water, and how fast it leads across the isochrone. */
struct made {
    struct vector_mps way;
    double across_mps;
};

static struct made made_on(const struct fan_here *here,
                           const struct fan_heading *heading,
                           struct plane_point across) {
    double mps =
        fan_speed(here, heading, (struct deck){.spar = SPAR_STOWED}, false);
    struct vector_mps way = {mps * heading->unit.east,
                             mps * heading->unit.north};
    return (struct made){
        .way = way, .across_mps = way.east * across.x + way.north * across.y};
}

/* The parabola through three values, one step apart, has its top so far from
 * the middle one. */
static double top_of(double before, double middle, double after) {
    double bend = before - 2.0 * middle + after;
    return bend < 0.0 ? 0.5 * (before - after) / bend : 0.0;
}

/* The headings of the fan once round, the wind first on her starboard side. */
static int headings_of(const struct fan *fan) {
    return 2 * (fan->angles - 1);
}

static struct made made_at(const struct fan_here *here, int index,
                           struct plane_point across) {
    int round = headings_of(here->fan);
    int at = (index + round) % round;
    bool starboard = 2 * at <= round;
    struct fan_heading heading =
        fan_heading_at(here, starboard ? at : round - at, starboard);
    return made_on(here, &heading, across);
}

/* The best of the fan, or one beside it. */
static struct made best_made(const struct fan_here *here,
                             struct plane_point across) {
    struct made best = made_at(here, 0, across);
    int at = 0;
    for (int i = 1; i < headings_of(here->fan); i++) {
        struct made made = made_at(here, i, across);
        if (made.across_mps > best.across_mps) {
            best = made;
            at = i;
        }
    }
    double off =
        top_of(made_at(here, at - 1, across).across_mps, best.across_mps,
               made_at(here, at + 1, across).across_mps);
    struct fan_heading beside =
        fan_heading_of(here, angle_wrap_360(here->conditions->twd_deg -
                                            (at + off) * here->fan->step_deg));
    struct made made = made_on(here, &beside, across);
    return made.across_mps > best.across_mps ? made : best;
}

/* --- how it changes ------------------------------------------------------- */

/* Near a pole the chart's scale, metres of a radian, comes to nothing, and
 * places run away: there a ray ends. */
static const double POLE_SCALE_M = 1.0;

static bool is_sound(const struct ray *ray) {
    double size = hypot(ray->across.x, ray->across.y);
    return isfinite(ray->at.x) && isfinite(ray->at.y) && isfinite(size) &&
           size > 0.0 && mercator_scale_at_m(ray->at.y) > POLE_SCALE_M;
}

/* Over the ground, in radians of the chart a second. */
static bool find_velocity(const struct ray_water *water, const struct ray *ray,
                          double t_s, struct plane_point *velocity) {
    struct conditions conditions;
    struct fan_here here;
    if (!is_sound(ray) ||
        voyage_look(water->voyage, ray_position(ray->at), t_s, &conditions) !=
            OBSTACLE_NONE ||
        voyage_limit(water->voyage, &conditions) != OBSTACLE_NONE)
        return false;
    fan_look(water->fan, &conditions, &here);
    struct vector_mps over_ground =
        vector_plus(best_made(&here, ray->across).way, conditions.current);
    double scale_m = mercator_scale_at_m(ray->at.y);
    *velocity = (struct plane_point){over_ground.east / scale_m,
                                     over_ground.north / scale_m};
    return true;
}

/* By how much she comes across faster, a radian further on that way. */
static bool find_rise(const struct ray_water *water, const struct ray *ray,
                      double t_s, struct plane_point way, double *rise) {
    double aside = ASIDE_M / mercator_scale_at_m(ray->at.y);
    struct ray before = *ray, after = *ray;
    struct plane_point slow, fast;
    before.at = ray_plus(ray->at, way, -aside);
    after.at = ray_plus(ray->at, way, aside);
    if (!find_velocity(water, &before, t_s, &slow) ||
        !find_velocity(water, &after, t_s, &fast))
        return false;
    *rise = ((fast.x - slow.x) * ray->across.x +
             (fast.y - slow.y) * ray->across.y) /
            (2.0 * aside);
    return true;
}

bool ray_look(const struct ray_water *water, const struct ray *ray, double t_s,
              struct ray_change *change) {
    static const struct plane_point east = {1.0, 0.0}, north = {0.0, 1.0};
    struct plane_point rise;
    if (!find_velocity(water, ray, t_s, &change->at) ||
        !find_rise(water, ray, t_s, east, &rise.x) ||
        !find_rise(water, ray, t_s, north, &rise.y))
        return false;
    change->across = (struct plane_point){-rise.x, -rise.y};
    return true;
}

static struct ray ahead(struct ray ray, const struct ray_change *change,
                        double seconds) {
    return (struct ray){.at = ray_plus(ray.at, change->at, seconds),
                        .across =
                            ray_plus(ray.across, change->across, seconds)};
}

static bool is_open(const struct voyage *voyage, const struct ray *from,
                    const struct ray *to, double start_s, double end_s) {
    return !voyage->blocked ||
           voyage->blocked(voyage->water, ray_position(from->at),
                           ray_position(to->at), start_s,
                           end_s) == OBSTACLE_NONE;
}

/* Where and when a step begins. */
struct beginning {
    const struct ray_water *water;
    struct ray ray;
    double t_s;
};

/* Looks on along the last change, `seconds` after the step began. */
static bool look_ahead(const struct beginning *from, double seconds,
                       const struct ray_change *last, struct ray_change *next) {
    struct ray there = ahead(from->ray, last, seconds);
    return ray_look(from->water, &there, from->t_s + seconds, next);
}

/* Runge and Kutta's classic method. */
bool ray_step(const struct ray_water *water, struct ray *ray, double t_s,
              double seconds, struct ray_change *change) {
    struct beginning from = {water, *ray, t_s};
    struct ray_change b, c, d;
    if (!ray_look(water, ray, t_s, change) ||
        !look_ahead(&from, 0.5 * seconds, change, &b) ||
        !look_ahead(&from, 0.5 * seconds, &b, &c) ||
        !look_ahead(&from, seconds, &c, &d))
        return false;
    struct ray to = ahead(*ray, change, seconds / 6.0);
    to = ahead(to, &b, seconds / 3.0);
    to = ahead(to, &c, seconds / 3.0);
    to = ahead(to, &d, seconds / 6.0);
    if (!is_sound(&to) || !is_open(water->voyage, ray, &to, t_s, t_s + seconds))
        return false;
    double size = hypot(to.across.x, to.across.y);
    to.across = (struct plane_point){to.across.x / size, to.across.y / size};
    *ray = to;
    return true;
}
