/* Home along the waterway: a run that turns at its corners, and the last
 * stretch to the goal with the spar brought in on the way. */
#ifndef SEARCH_HOMEWARD_H
#define SEARCH_HOMEWARD_H

#include "search/track.h"
#include "search/waterway.h"

/* Places that one run may turn at: a layer's run through a crooked strait, or
 * beating up a narrow one. */
enum { HOMEWARD_CORNERS = 40 };

/* Places in order: corners ahead, or those that were turned at. */
struct homeward {
    struct position places[HOMEWARD_CORNERS];
    size_t count;
};

/* Corners from a place on; without a waterway the goal alone. */
struct homeward homeward_from(const struct waterway *waterway,
                              struct position at, struct position goal);

/* The first course of the way to its first place. */
double homeward_course_deg(const struct homeward *ahead, struct position at);

/* Sails along the corners for `seconds`, beating to windward where the wind is
 * ahead; `turned` are the places at which she turned, the last corner among
 * them. Stops before the time is over at the last corner, or after as many
 * turns as there is room for. */
enum obstacle homeward_sail(const struct voyage *voyage, struct underway *boat,
                            const struct homeward *ahead, double seconds,
                            struct homeward *turned);

/* Room for: the boat's place, the corners, one to stow at. */
enum { HOMEWARD_VERTICES = HOMEWARD_CORNERS + 2 };

/* The track from `at` to the last place of `ahead` under one order. Where
 * `must_stow`, an order with the spar out comes with one to bring it in so far
 * off that she is done before `landfall` even at `top_mps`. */
struct track homeward_ending(const struct voyage *voyage, struct position at,
                             const struct homeward *ahead, struct deck order,
                             double top_mps, bool must_stow,
                             struct vertex vertices[HOMEWARD_VERTICES]);

#endif
