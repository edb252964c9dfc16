/* The search beside a time that is known. */
#ifndef TESTS_FASTEST_H
#define TESTS_FASTEST_H

#include "flow.h"
#include "search/search.h"

/* Searches the way from `from` to the finish of the voyage and prints one row:
 * the hours known and found, by how much they differ, and the processor's
 * seconds. Returns found / known - 1; HUGE_VAL where no way is found. The spar
 * is left in. */
double fastest_miss(const char *name, const struct voyage *voyage,
                    struct position from, double known_s);

/* A way through a flow, its least time, and the first heading of the way that
 * takes it, counter-clockwise from +x. In units of the flow. */
struct flow_way {
    const char *name;
    struct plane_point from, to;
    double time, heading_deg;
};

/* The same for a boat of 6 kn on all courses, changes in no time. */
double flow_miss(const struct flow *flow, const struct flow_way *way);

/* The known way, by Zermelo's law of the heading: `count` places at equal
 * times, from start to goal; count - 1 divides 8000. Ends the test where it
 * misses the goal by 0.001 units. */
void flow_known_places(const struct flow *flow, const struct flow_way *way,
                       size_t count, struct position *places);

/* No search: the known way itself, laid out in 8001 places and sailed; so that
 * the integrator, the plane on the equator and the known time answer for each
 * other. */
double flow_sailed_miss(const struct flow *flow, const struct flow_way *way);

#endif
