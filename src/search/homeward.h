/* Home along the waterway: a run that turns at its corners, and the last
 * stretch to the goal with the spar brought in on the way. */
#ifndef SEARCH_HOMEWARD_H
#define SEARCH_HOMEWARD_H

#include "search/track.h"
#include "search/waterway.h"

/* Places that one run may turn at: a layer's run through a crooked strait, or
 * beating up a narrow one. */
enum { HOMEWARD_CORNERS = 40 };

/* Places in order, at least one. */
struct corners {
    struct position places[HOMEWARD_CORNERS];
    size_t count;
};

/* The way home from a place. */
struct homeward {
    const struct waterway *waterway; /* NULL: all is open water */
    struct position goal;
    struct corners ahead;
};

/* Without a waterway the goal alone is ahead. */
struct homeward homeward_from(const struct waterway *waterway,
                              struct position at, struct position goal);

/* The first course of that way. */
double homeward_course_deg(const struct homeward *way, struct position at);

/* Do these places end at the goal? */
bool homeward_arrives(const struct homeward *way,
                      const struct corners *corners);

/* Sails home for `seconds`, beating to windward where the wind is ahead,
 * bearing away for some minutes where it shifts ahead within a step, and asking
 * the waterway anew where that led out of sight of the next corner. `turned`
 * are the places at which she turned, the goal among them. Stops before the
 * time is over there, and after as many turns as there is room for. */
enum obstacle homeward_sail(const struct voyage *voyage, struct underway *boat,
                            const struct homeward *way, double seconds,
                            struct corners *turned);

/* Room for: the boat's place, the corners, one to stow at. */
enum { HOMEWARD_VERTICES = HOMEWARD_CORNERS + 2 };

/* The track from `at` to the last place of `ahead` under one order. Where
 * `must_stow`, an order with the spar out comes with one to bring it in so far
 * off that she is done before `landfall` even at `top_mps`. */
struct track homeward_ending(const struct voyage *voyage, struct position at,
                             const struct corners *ahead, struct deck order,
                             double top_mps, bool must_stow,
                             struct vertex vertices[HOMEWARD_VERTICES]);

#endif
