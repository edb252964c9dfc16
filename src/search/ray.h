/* One ray: the way on which she heads, at every moment, so as to come as fast
 * as she can across the isochrone that she is on. All fastest ways are rays
 * (Zermelo's navigation: A. E. Bryson, Y.-C. Ho, "Applied Optimal Control",
 * 1975, section 2.7; from memory). The first direction across decides all the
 * rest: it turns as the speed that she can make across differs to both sides.
 *
 * On the Mercator chart, in radians, where angles are true: the heading is that
 * on the chart, and the scale is part of the speed.
 */
#ifndef SEARCH_RAY_H
#define SEARCH_RAY_H

#include "earth/plane.h"
#include "voyage/fan.h"

struct ray {
    struct plane_point at;
    struct plane_point across; /* a unit vector, square to the isochrone */
};

/* How both change, by the second. */
struct ray_change {
    struct plane_point at, across;
};

/* Where it runs. */
struct ray_water {
    const struct voyage *voyage; /* the spar is stowed */
    const struct fan *fan;
};

/* `angle` in radians, from east to north. */
struct ray ray_leaving(struct plane_point from, double angle);

/* False where she may not be: outside the forecast, above a limit or at a
 * pole, which is not on the chart. */
bool ray_look(const struct ray_water *water, const struct ray *ray, double t_s,
              struct ray_change *change);

/* One step from `t_s`; `change` is that at its start. False where it ends, on
 * land or where she may not be; the ray is then left as it was. */
bool ray_step(const struct ray_water *water, struct ray *ray, double t_s,
              double seconds, struct ray_change *change);

struct position ray_position(struct plane_point at);

static inline struct plane_point ray_plus(struct plane_point a,
                                          struct plane_point b, double times) {
    return (struct plane_point){a.x + times * b.x, a.y + times * b.y};
}

/* So far on from one to the other. */
static inline struct plane_point
ray_between(struct plane_point a, struct plane_point b, double part) {
    return (struct plane_point){a.x + part * (b.x - a.x),
                                a.y + part * (b.y - a.y)};
}

#endif
