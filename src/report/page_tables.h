/* The tables of the page, and all that the schedule tells, too. */
#ifndef REPORT_PAGE_TABLES_H
#define REPORT_PAGE_TABLES_H

#include "report/waypoint.h"
#include <stdio.h>

void page_tables_write(const struct plan *plan,
                       const struct waypoints *waypoints, FILE *stream);

#endif
