/* A second search, for tests alone, slow and plain: label setting (Dijkstra
 * 1959) on a fixed lattice. It shares the physics (voyage/) with the search
 * that it is compared with, and nothing else.
 *
 * Edges are rhumb lines between nodes (mesh.h), sailed by the integrator. The
 * deck is changed at nodes: stowed, out to either side where the spar may draw
 * there, or rolled on a spar that is out; forbidden work is not done. A label
 * is a cost and a clock at a node in one of the deck states. Labels are settled
 * by rising cost. One beats another if it is no later and would still cost no
 * more if she waited for the other, a second for a second: being late is good
 * where weather has to pass, but not better than to wait. At ease 0 cost is the
 * clock, so one label lives in each state. Hands that are still busy at a node
 * go on along the next edge.
 *
 * What it finds can be sailed, so it is never better than the best. How much
 * worse follows from the spacing and from the angles between edges: to be seen
 * by halving. Each pass after the first keeps to places and times round the way
 * of the one before.
 */
#ifndef TESTS_LATTICE_H
#define TESTS_LATTICE_H

#include "base/arena.h"
#include "voyage/sail.h"
#include <stddef.h>

struct lattice_pass {
    double spacing_m;
    int reach;      /* 5 or more: 80 directions or more */
    double clock_s; /* of two labels closer than this in time the cheaper one
                       lives, at any ease but 0 */
};

/* From a place, spar stowed. */
struct lattice_request {
    struct position from;
    const struct lattice_pass *passes;
    size_t count;
};

/* The way that was found: the deck for the stretch that starts at each place,
 * and when she is there by the steps of the search. */
struct lattice_point {
    struct position at;
    struct deck order;
    double t_s;
};

struct lattice_result {
    bool reached;
    double cost_s, elapsed_s; /* of the way, by the steps of the voyage */
    double promised_s;        /* cost by the longer steps of the search */
    struct deck start;        /* the wind on the side that suits */
    struct lattice_point *points;
    size_t count;
    size_t labels, edges; /* settled; sailed */
};

/* The best way to the finish of the voyage, pass by pass; a result for each.
 * Lives in `arena`. */
void lattice_run(const struct voyage *voyage,
                 const struct lattice_request *request, struct arena *arena,
                 struct lattice_result *results);

#endif
