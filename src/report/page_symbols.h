/* Signs on the page's chart, and the weather drawn with them. Wind barbs are
 * those of the World Meteorological Organization: the shaft towards where the
 * wind comes from, a pennant for 50 kn, a full barb for 10, half a barb for 5,
 * on the side of the low pressure; a ring for calm. */
#ifndef REPORT_PAGE_SYMBOLS_H
#define REPORT_PAGE_SYMBOLS_H

#include "plan/plan.h"
#include <stdio.h>

/* Barbs are drawn up to this; what blows harder is drawn so, too. */
enum { PAGE_BARB_MOST_KN = 120 };

/* The number of the barb for a wind, in knots: to the nearest 5. */
int page_barb(double tws_mps);

/* "N" or "S": whose hemisphere's. */
char page_barb_side(struct position at);

/* <defs>: #n0 to #n120, #s0 to #s120, #wave, #boat. */
void page_symbols_write(FILE *stream);

/* <g id="weather">, one group for each spot, as it is at departure. */
void page_symbols_weather(const struct plan *plan, FILE *stream);

/* A group at a place of the chart that keeps its size, whatever the zoom;
 * `name` is a class of its own. */
void page_fixed_begin(FILE *stream, const char *name, double x, double y);
void page_fixed_end(FILE *stream);

#endif
