/* Strips over the time of the passage, one above the other: spar, wind, angles,
 * sea, roll, speed, with the night behind them. */
#ifndef REPORT_PAGE_STRIPS_H
#define REPORT_PAGE_STRIPS_H

#include "plan/plan.h"
#include <stdio.h>

/* A <section>; nothing where there are no samples. */
void page_strips_write(const struct plan *plan, FILE *stream);

#endif
