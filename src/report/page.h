/* report.html: the plan as a page that stands alone. It asks the network for
 * nothing and forbids itself to; the drawing, the tables and the texts are
 * there without its script, which only moves the boat and the weather. */
#ifndef REPORT_PAGE_H
#define REPORT_PAGE_H

#include "plan/plan.h"
#include <stdio.h>

/* False (STATUS_WRITE) where the stream can't be written. */
bool page_write(const struct plan *plan, FILE *stream, struct error *error);

/* What stands between <body> and the scripts. */
void page_body_write(const struct plan *plan, FILE *stream);

#endif
