/* The crew: who has the watch, who is called for work on deck, who sleeps how
 * much. What is not known of the crew is said once, in the section. */
#ifndef REPORT_WATCHES_H
#define REPORT_WATCHES_H

#include "report/waypoint.h"
#include <stdio.h>

/* "  Watch     Ann to 08:00, then Bo to 12:00 UTC". */
void watches_write_departure(const struct plan *plan, FILE *stream);

/* "  Hands     Ann has the watch, Bo is called". */
void watches_write_hands(const struct plan *plan,
                         const struct plan_change *change, FILE *stream);

/* WATCHES AND REST: the watches, what falls in them, each one's rest. */
void watches_write(const struct plan *plan, const struct waypoints *waypoints,
                   FILE *stream);

#endif
