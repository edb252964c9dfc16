/* From one label of a front to all that may follow it: a layer's time on every
 * heading of the fan, keeping or changing the deck state.
 *
 * A run is sailed by the conditions at its start (Euler); when its label comes
 * to be expanded, those at its end are known, and place and cost are put right
 * by the mean of both (Heun). So a label costs one look at the weather. The
 * integrator of voyage/sail.h times whatever the front hands back; here it
 * sails home round corners, and the last stretch to the goal.
 */
#ifndef SEARCH_EXPAND_H
#define SEARCH_EXPAND_H

#include "search/cells.h"
#include "search/front.h"
#include "search/label.h"
#include "voyage/fan.h"

/* Most orders tried for one label on one heading. */
enum { EXPAND_ORDERS = 4 };

/* Arrivals are kept that cost up to this much more than the best. */
#define EXPAND_NEARLY 1.01

/* What all labels of a front share. */
struct expander {
    struct voyage voyage; /* with the layer's step */
    const struct front_options *options;
    struct fan fan;
    struct position goal;
    const struct cells *cells, *open; /* `open`: the corridor; NULL: none */
    double bound_s;                   /* what is more costly is hopeless */
    uint32_t layer;                   /* that is being made */
    double calmer_s; /* of two labels at one place the later one is worth
                        keeping where it is so much less uneasy */
    /* for a metre of the way left: at a fair speed, and never less than */
    double fair_s_per_m, least_s_per_m;
};

/* A label that goes home. */
struct arrival {
    bool known;
    uint32_t crumb;                            /* the label's */
    struct vertex vertices[HOMEWARD_VERTICES]; /* from there to the goal */
    size_t count;
    struct underway boat; /* at the goal */
};

/* What comes of one label, filled by one thread. */
struct harvest {
    struct label *items; /* room: expand_most() */
    size_t count, tried;
    struct corners turned[EXPAND_ORDERS]; /* on the way home, by order */
    double closing_mps; /* how much nearer the run to the label came, for a
                           second of cost without hardship */
    size_t stopped_by[OBSTACLE_COUNT];
    bool horizon_met; /* the label lies beyond the forecast */
    struct arrival arrival;
};

size_t expand_most(const struct fan *fan);

/* Puts the label right, at `t_s`, and fills the harvest. */
void expand_label(const struct expander *expander, struct label *label,
                  double t_s, struct harvest *harvest);

/* Does what an earlier label left in its cell beat a label of layer `layer`
 * that gets there at `t_s`? It had less merit, and weather that has to pass
 * does not count for the later one. */
bool expand_is_beaten(const struct expander *expander, const struct cell *cell,
                      const struct label *label, double t_s);

/* The way left from a place to the goal, and the least that it may truly be. */
double expand_left_m(const struct expander *expander, struct position at);

#endif
