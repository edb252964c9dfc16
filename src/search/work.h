/* Deck work at a label: what it takes and weighs, and whether it is within the
 * work limits, with a little to spare. */
#ifndef SEARCH_WORK_H
#define SEARCH_WORK_H

#include "search/spot.h"

/* Does the roll on that heading, with the deck as it is, allow work? */
bool work_roll_allows(const struct spot *spot,
                      const struct fan_heading *heading);

/* Where gybes are kept within the work limits: do roll and weather allow one of
 * the mainsail? True where they are not kept. */
bool work_may_gybe(const struct spot *spot, const struct fan_heading *heading);

/* The change from the label's deck to `to`. */
void work_ask(const struct spot *spot, struct deck to, bool tacks,
              struct work *work);

#endif
