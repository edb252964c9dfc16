/* The figures of a plan for the page's script: numbers and fixed words only, no
 * name out of any file, so that nothing in it can end the block. */
#ifndef REPORT_PAGE_DATA_H
#define REPORT_PAGE_DATA_H

#include "report/waypoint.h"
#include <stdio.h>

/* <script type="application/json" id="figures">; nothing without samples. */
void page_data_write(const struct plan *plan, const struct waypoints *waypoints,
                     FILE *stream);

#endif
