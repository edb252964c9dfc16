/* The last pass: moves the places of a track continuously, with the exact
 * integrator, until its cost stops falling.
 *
 * A pattern search: every free vertex is tried a step to each side of the track
 * and along it; the step halves when a whole round gains nothing. A vertex at
 * which only the deck state changes is one of them, so change-over instants are
 * variables of their own. */
#ifndef SEARCH_REFINE_H
#define SEARCH_REFINE_H

#include "search/track.h"

struct refine_options {
    double first_step_m, last_step_m;
    int rounds; /* at most */
};

/* Moves the free vertices of `track` in place; returns the cost of the track
 * sailed from `start`, never above that at the beginning; nor does it creep
 * more. INFINITY where the track can't be sailed at all. */
double refine_track(const struct voyage *voyage, struct track *track,
                    const struct underway *start,
                    const struct refine_options *options,
                    struct arena *scratch);

/* Takes out vertices, the least needed first, as long as the cost stays within
 * `loss_frac` of that of the given track, or more than `most` are left. A
 * vertex where the deck state changes stays, and one without which the track
 * would creep more. Returns the cost. */
double refine_simplify(const struct voyage *voyage, struct track *track,
                       const struct underway *start, double loss_frac,
                       size_t most, struct arena *scratch);

#endif
