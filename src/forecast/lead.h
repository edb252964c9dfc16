/* Lead times as the raw unit and count of a header give them.
 *
 * The GRIB library's own step is not asked: it answers 90 hours for 90
 * minutes. Code table 4 (edition 1) and 4.4 (edition 2) name the units. */
#ifndef FORECAST_LEAD_H
#define FORECAST_LEAD_H

#include "base/instant.h"
#include <stdbool.h>
#include <stdint.h>

/* Seconds of `count` units. False for units that have no fixed length (months
 * and longer), that are not known, or beyond 100 years. */
bool lead_seconds(int edition, long unit, int64_t count, int64_t *seconds);

/* From when to when a field holds; both the same for an instant. */
struct validity {
    struct instant start, end;
    bool interval;
};

/* Edition 1, code table 5: P1, P2 as single octets. NULL, or why the field is
 * of no use: "an average", "an unknown time range". */
const char *lead_edition_1(struct instant run, long unit, long indicator,
                           long p1, long p2, struct validity *validity);

#endif
