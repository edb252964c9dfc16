/* A track made as good as it gets near where it lies: the deck states chosen
 * anew, its places moved, by turns until the cost stops falling. */
#ifndef SEARCH_IMPROVE_H
#define SEARCH_IMPROVE_H

#include "search/track.h"

struct improve_options {
    double first_step_m, last_step_m; /* of the moves: refine.h */
    double worth_frac;                /* likewise */
    double spacing_m;                 /* between places for change-overs */
    double coarse;  /* the integrator's step, times its usual one */
    bool bends;     /* likewise */
    bool keeps_rig; /* the places are moved before the deck states */
    bool rigged;    /* it is rigged by that spacing already */
    int turns;      /* at most */
};

/* Sailed from `start`, which stands at its first vertex. The track never costs
 * more than it did. The result lives in `arena`. */
void improve_track(const struct voyage *voyage, struct track *track,
                   const struct underway *start,
                   const struct improve_options *options, struct arena *arena);

/* Chooses the deck states of a track anew. Returns the cost of the track with
 * its new orders; `*track` is left alone where that is not below `cost_s`, its
 * own. */
double improve_rig(const struct voyage *voyage, struct track *track,
                   const struct underway *start, double spacing_m,
                   double cost_s, struct arena *arena);

#endif
