/* The part of `sparwise boat` about the spar itself: how long it is set for
 * each headsail, and what each asks of its strength. */
#ifndef REPORT_SPAR_REPORT_H
#define REPORT_SPAR_REPORT_H

#include "boat/boat.h"
#include <stdio.h>

/* Two headed tables with their notes, as boat_report() prints. */
void spar_report(const struct boat *boat, FILE *stream);

/* One entry for each headsail that the spar is too short, too long or, within
 * its own limits, too weak for; how many. */
int spar_report_warn(const struct boat *boat, FILE *stream);

#endif
