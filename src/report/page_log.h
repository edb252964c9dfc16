/* The head of the page, and the log beside its chart: what comes next on deck,
 * and what the boat meets at the chosen time, at first at departure. */
#ifndef REPORT_PAGE_LOG_H
#define REPORT_PAGE_LOG_H

#include "report/waypoint.h"
#include <stdio.h>

/* <header>: name, boat, from where to where, departure and arrival, and the
 * choice of looks. */
void page_log_head(const struct plan *plan, FILE *stream);

/* <aside>: the next work on deck, the time slider, the read-outs. */
void page_log_write(const struct plan *plan, const struct waypoints *waypoints,
                    FILE *stream);

/* <section>: every work on deck, as many <li> as there are. */
void page_log_works(const struct plan *plan, const struct waypoints *waypoints,
                    FILE *stream);

#endif
