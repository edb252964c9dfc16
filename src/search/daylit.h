/* Deck work out of the dark: ways that differ from a track in when that is
 * done. On the track as it lies to do it some hours sooner or later costs more
 * than the dark; once the places have moved it may not. No small move leads
 * there, so each is a way of its own to be made better, its places first. */
#ifndef SEARCH_DAYLIT_H
#define SEARCH_DAYLIT_H

#include "search/track.h"

/* The track with one of its works in the dark done in the last light before,
 * or the first after it, for each of them: up to `most` tracks in `ways`, which
 * live in the arena. Returns how many; none where the dark is no matter. */
size_t daylit_ways(const struct voyage *voyage, const struct track *track,
                   const struct underway *start, struct track *ways,
                   size_t most, struct arena *arena);

#endif
