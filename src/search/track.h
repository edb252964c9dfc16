/* A track: places to pass, and at each the deck state to sail on with.
 *
 * The order at a vertex says where the spar is and whether the headsail is
 * rolled; the wind side follows from the course. Sailing a track with `voyage`
 * gives its time and cost; a track that asks for something unfit costs, it
 * does not break: where a stretch is too near the wind, or the current stronger
 * than the boat, she creeps along it at a walking pace, and that is told in
 * `crept_s`. No finished plan creeps.
 */
#ifndef SEARCH_TRACK_H
#define SEARCH_TRACK_H

#include "base/arena.h"
#include "voyage/sail.h"
#include <stddef.h>

struct vertex {
    struct position at;
    struct deck order; /* for the stretch that starts here; not at the last */
    bool pinned;       /* must stay: start, finish, places to pass */
    bool added;        /* on the line between its neighbours, for a change */
    /* The pace, which no search sets: plan/pacing.h. */
    double wait_until_s; /* she stays here until then, what is ordered done;
                            rolling as a boat that lies hove-to */
    double pace_frac;    /* of her speed, on the stretch that starts here; 0:
                            all of it */
};

struct track {
    struct vertex *vertices; /* in order; at least 2 */
    size_t count;
};

struct track track_copy(struct arena *arena, const struct track *track);

/* The boat of `start` with the wind on the side that the first stretch asks
 * for: nothing has to be done for that before the start. */
struct underway track_start(const struct voyage *voyage,
                            const struct track *track,
                            const struct underway *start);

/* Sails straight from where `boat` is to a place, under one order. */
enum obstacle track_sail_leg(const struct voyage *voyage, struct underway *boat,
                             struct deck order, struct position to,
                             const struct sail_observer *observer);

/* The voyage at the pace of the stretch that starts at a vertex. */
struct voyage track_pace(const struct voyage *voyage,
                         const struct vertex *vertex);

/* Sails straight from where `boat` is to a place, under the order and at the
 * pace of a vertex. */
enum obstacle track_sail_paced(const struct voyage *voyage,
                               struct underway *boat,
                               const struct vertex *vertex, struct position to,
                               const struct sail_observer *observer);

/* Of a boat that lies hove-to, as she does while she waits. */
struct motion track_lying(const struct conditions *here);

/* How long she waits, who comes to a vertex now. */
double track_wait_s(const struct vertex *vertex, const struct underway *boat);

/* Sails from vertex `index`, where `boat` is, to the next one. */
enum obstacle track_sail_stretch(const struct voyage *voyage,
                                 const struct track *track, size_t index,
                                 struct underway *boat,
                                 const struct sail_observer *observer);

/* Sails the whole track from `boat` at its first vertex. */
enum obstacle track_sail(const struct voyage *voyage, const struct track *track,
                         struct underway *boat,
                         const struct sail_observer *observer);

/* The cost and the time of a track as it stands; HUGE_VAL where it can't be
 * sailed without creeping. */
double track_cost(const struct voyage *voyage, const struct track *track,
                  const struct underway *start, double *elapsed_s);

#endif
