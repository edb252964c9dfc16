/* Deck states and the changes between them: one table for everybody.
 *
 * The spar is stowed, or out to port or starboard; out, the headsail draws on
 * it or is rolled away while the spar stands on its lines. Each of the five
 * exists with the wind on either side: ten states.
 *
 * A change from one state to another is made of parts: what is done with the
 * spar or the headsail (set, gybe, stow, roll, unroll) and what the wind side
 * asks of the mainsail (gybe or tack). The mainsail comes first: the boat takes
 * the new course at once, and the wind must not stand by the lee while hands
 * are at the spar. Only a headsail that may not draw on the new side is rolled
 * away before. A gybe of the spar covers the mainsail
 * and the preventer; all other parts that fall together add up. With the wind
 * on its side still the spar goes across alone and the boom stays: a poled
 * reach becomes wing-and-wing, or back.
 */
#ifndef VOYAGE_DECK_H
#define VOYAGE_DECK_H

#include "boat/boat.h"
#include <stdbool.h>

enum spar_place { SPAR_STOWED, SPAR_PORT, SPAR_STARBOARD };

struct deck {
    enum spar_place spar;
    bool rolled;         /* the headsail, on a standing spar; stowed: false */
    bool wind_starboard; /* the side that the wind is on */
};

enum { DECK_STATES = 10 };

struct deck deck_at(int index);
int deck_index(struct deck deck);

static inline bool deck_is_drawing(struct deck deck) {
    return deck.spar != SPAR_STOWED && !deck.rolled;
}

/* Spar and headsail alike, on whichever side the wind is. */
static inline bool deck_same_rig(struct deck a, struct deck b) {
    return a.spar == b.spar && a.rolled == b.rolled;
}

/* How the headsail is carried. */
enum sail_mode { MODE_STOWED, MODE_WING, MODE_POLED_REACH, MODE_ROLLED };
enum sail_mode deck_mode(struct deck deck);

enum change_kind {
    CHANGE_SET,
    CHANGE_GYBE,   /* spar and boom to the other sides */
    CHANGE_ACROSS, /* the spar to the other side, the boom stays */
    CHANGE_STOW,
    CHANGE_MAINSAIL_GYBE,
    CHANGE_TACK,
    CHANGE_ROLL,
    CHANGE_UNROLL,
    CHANGE_KINDS
};

/* What it takes to go from one deck state to another. */
struct deck_change {
    int count; /* parts, 0..2, in the order in which they are done */
    enum change_kind kind[2];
    double seconds[2]; /* of each part, by day */
    bool deck_work;    /* someone goes forward */
};

/* `tacks`: the wind passes the bow, not the stern. With the spar out and
 * drawing the boat never tacks: such a change has count -1. */
struct deck_change deck_change_between(const struct boat *boat,
                                       struct deck from, struct deck to,
                                       bool tacks);

/* True if that part sends someone forward. */
bool change_is_deck_work(const struct boat *boat, enum change_kind kind);

#endif
