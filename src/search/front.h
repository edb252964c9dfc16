/* The isochrone front over deck states.
 *
 * Every label is one way to be somewhere at the time of a layer: a place, a
 * deck state, a cost so far, a parent. A layer is made from the one before by
 * sailing each label for one time step on a fan of headings, keeping or
 * changing the deck state. One of them is the way home; near land the
 * integrator follows the waterway round its corners, too. Labels are pruned per
 * cell and deck state; the places of a layer are an isochrone.
 *
 * Pruning rules
 *   - in a cell only the label of the least merit lives: cost so far plus the
 *     time that the way left would take at a fair speed (so that of two labels
 *     in one cell the one further on its way lives);
 *   - a cell that an earlier layer reached at a lower merit is closed, but to a
 *     label that is later, less uneasy and hardly dearer: the boat that waits
 *     for weather to pass; and a label may leave its own cell, however slowly;
 *   - a label that can't beat the best arrival known, even closing
 *     with the goal as fast as any boat, dies.
 * Ties go to the label that comes first, so the result does not depend on the
 * number of threads.
 */
#ifndef SEARCH_FRONT_H
#define SEARCH_FRONT_H

#include "search/homeward.h"

/* A stretch of the earth that a front has to keep to: within `half_width_m` of
 * any of these tracks. No track: everywhere. */
struct corridor {
    const struct track *tracks;
    size_t count;
    double half_width_m;
};

struct front_options {
    double layer_s;     /* time step between isochrones */
    double step_s;      /* longest step of the integrator inside a layer */
    double cell_m;      /* well below a layer's run */
    double fan_deg;     /* between headings */
    double fair_mps;    /* a fair speed made good, for the merit */
    double bound_s;     /* cost of a way that is known; INFINITY if none */
    double top_mps;     /* no boat is faster over the ground */
    double closing_mps; /* nor comes nearer to the goal by more for a second of
                           cost, for bounds */
    double calmer_s;    /* a label that is later at a place lives where it is so
                           much less uneasy: weather may have to pass */
    bool must_stow;     /* the goal is the finish: arrive with the spar in */
    struct corridor corridor;
    const struct waterway *waterway; /* to the goal; NULL: all is open water */
};

struct isochrone {
    double t_s;
    struct position *points; /* furthest per bearing from the start */
    size_t count;
};

/* Ways that a front hands back, at most. */
enum { FRONT_WAYS = 4 };

struct front_result {
    bool reached;
    double cost_s;
    struct underway end; /* at the goal, or where the best label stands */
    /* from the seed to there, pinned at both ends; the best comes first, then
     * others that are nearly as good and lead through other waters, or turn
     * more often or less */
    struct track ways[FRONT_WAYS];
    size_t way_count;
    size_t labels;      /* that lived */
    size_t expansions;  /* runs tried */
    double closing_mps; /* the most that any label came nearer in a layer, for a
                           second of cost */
    size_t stopped_by[OBSTACLE_COUNT];
    struct isochrone *isochrones;
    size_t isochrone_count;
};

/* From a place, with the deck state of `start`, to `goal`. The result lives in
 * `arena`. Not reached: `end` is the label with the least estimated cost at
 * the horizon of the forecast, if a horizon stopped it. */
void front_run(const struct voyage *voyage, const struct underway *start,
               struct position goal, const struct front_options *options,
               struct arena *arena, struct front_result *result);

/* What stopped most courses. Land is not counted: it bars many, and closes
 * nothing where there is a way round it. OBSTACLE_NO_SPEED where there is
 * nothing else. */
enum obstacle front_main_cause(const struct front_result *result);

#endif
