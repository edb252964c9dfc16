/* The last pass: moves the places of a track continuously, with the exact
 * integrator, until its cost stops falling.
 *
 * In one round every free vertex may stay or go a step to either side of the
 * track and, where she turns or changes her rig, ahead or astern. The best of
 * all these ways together is found by dynamic programming from vertex to
 * vertex, the cheapest boat kept at each place (discrete differential dynamic
 * programming: Heidari, Chow, Kokotovic, Meredith 1971, from memory); the step
 * shrinks when a round gains too little. A vertex at which only the deck
 * state changes is one of them, so change-over instants are variables of their
 * own. Where no single vertex may leave its leg, on a limit of the spar, a bend
 * can still move with its legs: `bends`. */
#ifndef SEARCH_REFINE_H
#define SEARCH_REFINE_H

#include "search/track.h"

struct refine_options {
    double first_step_m, last_step_m;
    double worth_frac; /* of the cost; where a round gains no more, the next
                          makes shorter moves */
    bool bends; /* each round moves those alone first, and their legs along */
    int rounds; /* at most */
};

/* Moves the free vertices of `track` in place; returns the cost of the track
 * sailed from `start`, never above that at the beginning; nor does it creep
 * more. INFINITY where the track can't be sailed at all. */
double refine_track(const struct voyage *voyage, struct track *track,
                    const struct underway *start,
                    const struct refine_options *options,
                    struct arena *scratch);

/* Takes out vertices without which the way to the next one costs no more. */
void refine_prune(const struct voyage *voyage, struct track *track,
                  const struct underway *start);

/* Takes out vertices, the least needed first, as long as the cost stays within
 * `loss_frac` of the least on the way, or more than `most` are left. Forbidden
 * work does not count: deck states are to be chosen anew afterwards. A
 * vertex where the deck state changes stays, and one without which the track
 * would creep more. Returns the cost, forbidden work left out. */
double refine_simplify(const struct voyage *voyage, struct track *track,
                       const struct underway *start, double loss_frac,
                       size_t most, struct arena *scratch);

#endif
