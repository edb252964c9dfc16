/* Boards in another order, or one less: ways that differ from a track in when
 * she turns. What is sailed on one side of the wind in two boards, with one on
 * the other side between, may be one board and cost two turns less. No small
 * move leads there, so each is a way of its own to be made better. */
#ifndef SEARCH_BOARDS_H
#define SEARCH_BOARDS_H

#include "search/track.h"

/* The track with two neighbouring boards exchanged, or without one of them, its
 * part taken by the next: the cheapest of these as they stand, up to `most`,
 * in `ways`, which live in the arena. Returns how many; none that moves a
 * pinned place or costs too much more to be worth moves, none at all where the
 * track can't be sailed. They may creep. */
size_t boards_ways(const struct voyage *voyage, const struct track *track,
                   const struct underway *start, struct track *ways,
                   size_t most, struct arena *arena);

#endif
