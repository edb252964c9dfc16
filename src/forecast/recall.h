/* Headers that were read already.
 *
 * In a forecast file nearly every message is one that was there before, but for
 * its lead time and its values. The library takes longer to open a message and
 * to answer our forty questions than its values take to unpack; so it is asked
 * once, and where the lead time stands, too. Another message with the same
 * bytes in all sections that say what it is, but for those of the lead time, is
 * answered from memory.
 *
 * Instants of edition 2 only: an interval has its end written elsewhere. */
#ifndef FORECAST_RECALL_H
#define FORECAST_RECALL_H

#include "forecast/cut.h"
#include "forecast/grib.h"

enum { RECALL_HEADERS = 64, RECALL_BYTES = 320 };

/* Zeroed at first. */
struct recall {
    struct recalled {
        uint8_t bytes[RECALL_BYTES]; /* discipline, sections 1 to 4 */
        size_t length;
        size_t lead_at; /* the lead time's four bytes */
        struct grib_field field;
    } headers[RECALL_HEADERS];
    size_t count, next;
};

/* Fills all of `field` but its values. False where the header is new. */
bool recall_header(const struct recall *recall, const struct cutter *cutter,
                   struct grib_field *field);

/* Keeps what the library said of the field that the cutter stands at. */
void recall_keep(struct recall *recall, const struct cutter *cutter,
                 const struct grib_field *field);

#endif
