/* A change of the deck as it is done, part by part: what that takes and weighs,
 * and whether the crew may. */
#ifndef VOYAGE_DOING_H
#define VOYAGE_DOING_H

#include "voyage/sail.h"

/* How a change is being done: what it was ordered as and who watches. */
struct doing {
    const struct motion *motion; /* before the change, on the new course */
    double course_deg;
    struct deck to;
    bool unplanned;
    const struct sail_observer *observer;
};

/* To `doing->to`; to tack with the spar drawing is forbidden work, and done
 * without (sail_change_deck). On an obstacle the boat is as she was. */
enum obstacle doing_carry_out(const struct voyage *voyage,
                              struct underway *boat, const struct doing *doing,
                              bool tacks);

#endif
