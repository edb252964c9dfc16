/* Ways in a current that is stronger than the boat.
 *
 * There few courses over the ground can be made good, all near to that of the
 * current, and the best heading lies across it. Where the current turns as
 * well, it takes thousands of straight stretches to keep to such a way, and
 * none of their places can be moved alone. So the fastest way is looked for by
 * its headings: rays (search/ray.h) leave in all directions at once, the first
 * two that the goal lies between are drawn together, and the one between them
 * that meets it is written down as a track, its places as close as it takes for
 * straight stretches to be as fast.
 *
 * Rays know time alone, sail with the spar stowed and end at land and limits.
 * What they find is one more known way, judged by its cost like all others.
 */
#ifndef SEARCH_RAYS_H
#define SEARCH_RAYS_H

#include "search/search.h"

/* Is there a current, anywhere, that no heading stems? */
bool rays_are_needed(const struct voyage *voyage);

/* The way from stop to stop, which takes `about_s` seconds, more or less, and
 * is of no use beyond `most_s`. In `arena`; no vertices where there is none. */
struct track rays_track(const struct voyage *voyage,
                        const struct search_request *request, double about_s,
                        double most_s, struct arena *arena);

#endif
