/* The register of the boat file's keys: one table for its fixed sections, one
 * for each kind of section that has a name in its head. */
#ifndef BOAT_BOAT_KEYS_H
#define BOAT_BOAT_KEYS_H

#include "base/keys.h"
#include "boat/boat.h"

/* What the tables fill: the boat, and words that are not yet what it holds. */
struct boat_reading {
    struct boat boat;
    int preventer; /* 0 both, 1 single */
};

enum { PREVENTER_BOTH, PREVENTER_SINGLE };

/* Heads of the sections of which there may be several. */
#define HEADSAIL_SECTION "headsail NAME"
#define REEF_SECTION "reef N"

extern const struct key_table boat_keys;     /* into struct boat_reading */
extern const struct key_table headsail_keys; /* into struct headsail */
extern const struct key_table reef_keys;     /* into struct reef */

#endif
