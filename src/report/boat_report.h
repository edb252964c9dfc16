/* What `sparwise boat` prints: how the boat file and its polars were read,
 * where the spar is worth setting, and what in the files looks wrong. */
#ifndef REPORT_BOAT_REPORT_H
#define REPORT_BOAT_REPORT_H

#include "boat/boat.h"
#include <stdio.h>

/* Plain text of at most 80 columns, ASCII but for names out of the boat file.
 * The same boat gives the same bytes. */
void boat_report(const struct boat *boat, FILE *stream);

#endif
