/* The chart of the page, as it stands at departure: a drawing that needs no
 * script. What moves has a class or an id that src/report/page/page.js knows.
 */
#ifndef REPORT_PAGE_CHART_H
#define REPORT_PAGE_CHART_H

#include "report/waypoint.h"
#include <stdio.h>

/* A <figure>; nothing where the plan has no chart. */
void page_chart_write(const struct plan *plan,
                      const struct waypoints *waypoints, FILE *stream);

/* The outline of the night, sun more than 6 degrees below the horizon, at a
 * moment: the value of a path's `d`, "" where there is none. */
void page_chart_night(const struct plan *plan, struct instant at, FILE *stream);

#endif
