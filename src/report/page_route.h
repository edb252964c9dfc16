/* The route on the page's chart: legs by the state of the spar, deck work with
 * its margin, the boat; and what the signs mean. */
#ifndef REPORT_PAGE_ROUTE_H
#define REPORT_PAGE_ROUTE_H

#include "report/waypoint.h"
#include <stdio.h>

/* Classes of a deck state, for colour and line: "stowed", "port wing",
 * "starboard reach", "port rolled". */
const char *page_route_class(struct deck deck);

/* What stands beside the colour: "P", "S", or "in" for stowed. */
const char *page_route_letter(struct deck deck);

void page_route_write(const struct plan *plan,
                      const struct waypoints *waypoints, FILE *stream);
void page_route_key(const struct plan *plan, FILE *stream);

#endif
