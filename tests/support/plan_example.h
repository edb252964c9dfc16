/* A small finished plan made by hand: six legs over five days with a set, a
 * gybe, a stow and changes from the cockpit, a crew of two, a port to run to,
 * figures that are not known,
 * hostile names. All places and figures are invented. */
#ifndef TESTS_PLAN_EXAMPLE_H
#define TESTS_PLAN_EXAMPLE_H

#include "plan/plan.h"

enum {
    PLAN_EXAMPLE_LEGS = 6,
    PLAN_EXAMPLE_CHANGES = 6,
    PLAN_EXAMPLE_POINTS = 9
};

/* Everything that a test may want to change. */
struct plan_example {
    struct boat boat;
    struct plan plan;
    struct plan_leg legs[PLAN_EXAMPLE_LEGS];
    struct plan_change changes[PLAN_EXAMPLE_CHANGES];
    struct plan_point track[PLAN_EXAMPLE_POINTS];
    struct plan_isochrone isochrone;
    struct position front[2];
    struct plan_zone zones[2];
    const char *warnings[2];
    struct plan_port port;
    struct plan_refuge refuges[PLAN_EXAMPLE_LEGS];
};

/* Filled in place, since the plan points at its parts. */
void plan_example_make(struct plan_example *example);

/* Everything that has a time, so many days later. */
void plan_example_later(struct plan_example *example, int days);

#endif
