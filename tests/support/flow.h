/* Currents by formula on a plane, in units of their own: the way that textbooks
 * put them. The plane is laid on the equator, x to the east, y to the north;
 * within a degree of it the earth is a plane to cos(1 degree): lengths along a
 * parallel at latitude b are short by b^2 / 2, 0.007 % at 40 nmi. */
#ifndef TESTS_FLOW_H
#define TESTS_FLOW_H

#include "analytic.h"
#include "earth/plane.h"

struct flow {
    double unit_m;        /* one unit of length */
    double unit_mps;      /* one unit of speed */
    struct plane_box box; /* in units; there is no wind outside */
    double most;          /* the strongest current in the box, in units */
    /* The current at a place and time, all in units. */
    struct plane_point (*at)(struct plane_point place, double t);
};

/* One unit of time. */
double flow_unit_s(const struct flow *flow);

/* Where a place of the plane is on the earth, and back. */
struct position flow_place(const struct flow *flow, struct plane_point place);
struct plane_point flow_point(const struct flow *flow, struct position at);

/* For struct analytic's `current_at`, with a struct flow as context. */
struct vector_mps flow_current(const void *flow, struct position at,
                               double t_s);

/* A strong wind from the north, the same everywhere in the box, and the
 * current, if there is a formula for it. */
struct analytic flow_weather(const struct flow *flow);

/* Two flows of A. E. Bryson, Y.-C. Ho, "Applied Optimal Control", 1975. The
 * boat makes 6 kn in both. */

/* Section 2.7: u = -V y / h, V = h = 1. One unit of length is 20 nmi. */
extern const struct flow flow_sheared;

/* Example on p. 77: V = 9, 5 sin(pi x / 31) in +y, from (0, 0) to (31, 0). One
 * unit of length is 2 nmi. */
extern const struct flow flow_ferry;

/* The boat of both: 6 kn on all courses. */
double flow_six_kn(double twa_deg);

#endif
