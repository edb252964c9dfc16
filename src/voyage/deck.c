#include "voyage/deck.h"

#include <assert.h>

/* One row per deck state less the wind side; states 2i and 2i+1 are row i
 * with the wind on the port and on the starboard side. */
static const struct deck rows[DECK_STATES / 2] = {
    {.spar = SPAR_STOWED},
    {.spar = SPAR_PORT, .rolled = false},
    {.spar = SPAR_PORT, .rolled = true},
    {.spar = SPAR_STARBOARD, .rolled = false},
    {.spar = SPAR_STARBOARD, .rolled = true},
};

struct deck deck_at(int index) {
    assert(index >= 0 && index < DECK_STATES);
    struct deck deck = rows[index / 2];
    deck.wind_starboard = index % 2 == 1;
    return deck;
}

int deck_index(struct deck deck) {
    int row = 0;
    if (deck.spar != SPAR_STOWED)
        row = (deck.spar == SPAR_PORT ? 1 : 3) + (deck.rolled ? 1 : 0);
    return 2 * row + (deck.wind_starboard ? 1 : 0);
}

enum sail_mode deck_mode(struct deck deck) {
    if (deck.spar == SPAR_STOWED)
        return MODE_STOWED;
    if (deck.rolled)
        return MODE_ROLLED;
    bool to_windward = (deck.spar == SPAR_STARBOARD) == deck.wind_starboard;
    return to_windward ? MODE_WING : MODE_POLED_REACH;
}

static void add_part(struct deck_change *change, enum change_kind kind,
                     double seconds, bool deck_work) {
    change->kind[change->count] = kind;
    change->seconds[change->count] = seconds;
    change->count++;
    change->deck_work = change->deck_work || deck_work;
}

bool change_is_deck_work(const struct boat *boat, enum change_kind kind) {
    return kind == CHANGE_SET || kind == CHANGE_GYBE || kind == CHANGE_ACROSS ||
           kind == CHANGE_STOW ||
           (kind == CHANGE_MAINSAIL_GYBE && boat->handling.single_preventer);
}

static void add_spar_part(struct deck_change *change, const struct spar *spar,
                          struct deck from, struct deck to, bool gybes) {
    if (from.spar == to.spar) {
        if (from.rolled != to.rolled)
            add_part(change, to.rolled ? CHANGE_ROLL : CHANGE_UNROLL,
                     spar->roll_s, false);
    } else if (from.spar == SPAR_STOWED) {
        add_part(change, CHANGE_SET, spar->set_s, true);
    } else if (to.spar == SPAR_STOWED) {
        add_part(change, CHANGE_STOW, spar->stow_s, true);
    } else {
        add_part(change, gybes ? CHANGE_GYBE : CHANGE_ACROSS, spar->gybe_s,
                 true);
    }
}

static void add_mainsail_part(struct deck_change *change,
                              const struct boat *boat, bool tacks) {
    if (tacks)
        add_part(change, CHANGE_TACK, boat->handling.tack_s, false);
    else
        add_part(change, CHANGE_MAINSAIL_GYBE, boat->handling.mainsail_gybe_s,
                 change_is_deck_work(boat, CHANGE_MAINSAIL_GYBE));
}

struct deck_change deck_change_between(const struct boat *boat,
                                       struct deck from, struct deck to,
                                       bool tacks) {
    struct deck_change change = {.count = 0};
    bool turns = from.wind_starboard != to.wind_starboard;
    bool drawing = deck_is_drawing(from) || deck_is_drawing(to);
    if (turns && tacks && drawing)
        return (struct deck_change){.count = -1};
    bool crosses = from.spar != SPAR_STOWED && to.spar != SPAR_STOWED &&
                   from.spar != to.spar;
    bool mainsail = turns && (tacks || !crosses);
    bool rolls = from.spar == to.spar && to.rolled && !from.rolled;
    if (mainsail && !rolls)
        add_mainsail_part(&change, boat, tacks);
    add_spar_part(&change, &boat->spar, from, to, turns && !tacks);
    if (mainsail && rolls)
        add_mainsail_part(&change, boat, tacks);
    return change;
}
