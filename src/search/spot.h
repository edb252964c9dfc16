/* A label while it is expanded: what search/expand.c, search/work.c and
 * search/arrive.c know of its place, and what they ask of each other. */
#ifndef SEARCH_SPOT_H
#define SEARCH_SPOT_H

#include "search/expand.h"

/* A deck change from a label's state, in the conditions of its place. */
struct work {
    enum { WORK_UNASKED, WORK_POSSIBLE, WORK_FORBIDDEN } answer;
    double seconds, cost_s; /* cost: of the hardship */
    bool deck_work;         /* the roll limit has to hold */
    bool stow_outside;      /* a stow in more than its weather limits */
};

/* One label being expanded. */
struct spot {
    const struct expander *expander;
    struct label *label;
    double t_s;
    struct conditions conditions;
    struct fan_here fan;
    double left_m;               /* the way left */
    struct vector_mps home_m;    /* to the next corner of the way home */
    struct vector_mps drifted_m; /* the same after a layer's current */
    double beyond_m;             /* from there to the goal */
    bool in_sight;               /* the goal: nothing stands between */
    double north_deg_per_m, east_deg_per_m, tangent;
    bool near_finish; /* a stow is the last one */
    struct work works[DECK_STATES][2];
    struct deck orders[EXPAND_ORDERS];
    int order_count;
    struct harvest *harvest;
};

/* Can no boat come home from there for less than what is known? */
bool spot_is_hopeless(const struct expander *expander, double cost_s,
                      double left_m);

bool spot_is_in_corridor(const struct spot *spot, struct position at);

/* Does a label in that cell beat what may follow this one? */
bool spot_is_beaten(const struct spot *spot, const struct label *next);

#endif
