/* What the crew saw the boat roll, told in one line:
 *
 *     TWA 170, 16 kn, 2 m 7 s from 065, spar stowed: often 10
 *
 * Clauses in any order with commas between, then a colon and how far she
 * rolled to one side, degrees; docs/files.md lists them. What a line leaves out
 * is taken in the way a sailor would, and kept as a fact for the report:
 *   - side of the wind: the starboard side;
 *   - direction of the wind sea: the wind's own;
 *   - heading and wind direction, both left out: the wind's direction is the
 *     wind sea's, and the heading follows from TWA. */
#ifndef BOAT_ROLL_SEEN_H
#define BOAT_ROLL_SEEN_H

#include "base/arena.h"
#include "base/error.h"
#include "boat/boat.h"
#include "sea/roll.h"
#include <stdbool.h>

enum { ROLL_SEEN_BYTES = 300 }; /* longest line */

/* How far, as multiples of the RMS roll. */
enum roll_measure { ROLL_OFTEN = 2, ROLL_AT_TIMES = 3 };

enum spar_seen { SPAR_SEEN_STOWED, SPAR_SEEN_WINDWARD, SPAR_SEEN_LEEWARD };

/* Where the directions come from. */
enum bearing_seen {
    BEARING_TOLD,    /* a heading or a wind direction was given */
    BEARING_OF_SEA,  /* the wind taken from where the wind sea comes from */
    BEARING_OF_NONE, /* no direction at all: the wind taken from 000 */
};

struct roll_seen {
    const char *text; /* the line itself */
    double twa_deg;   /* (-180, 180] */
    bool wind_starboard, side_told;
    double tws_mps; /* over the water, > 0 */
    double heading_deg, wind_from_deg;
    enum bearing_seen bearing;
    struct sea sea;     /* wind sea first, where there is one; then swells */
    bool sea_with_wind; /* a wind sea without a direction of its own */
    enum spar_seen spar;
    enum roll_measure measure;
    double roll_deg; /* as told: `measure` times the RMS */
};

/* Reads a line. STATUS_USAGE: a clause that is not understood, given twice or
 * out of range, one that is missing, a swell that can't be placed, a byte that
 * is not plain ASCII, a line over ROLL_SEEN_BYTES. `text` is kept. */
bool roll_seen_read(struct roll_seen *seen, const char *text,
                    struct arena *arena, struct error *error);

double roll_seen_rms_deg(const struct roll_seen *seen);

/* What the boat was doing: speed by her polars, by day, apparent wind from the
 * triangle. STATUS_USAGE: her polars give no speed there. */
bool roll_seen_course(const struct roll_seen *seen, const struct boat *boat,
                      struct roll_course *course, struct error *error);

#endif
