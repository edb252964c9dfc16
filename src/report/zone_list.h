/* The schedule's zones to keep out of: how far off each of them is, and when it
 * is closed. Nothing where the files hold none. */
#ifndef REPORT_ZONE_LIST_H
#define REPORT_ZONE_LIST_H

#include "plan/plan.h"

#include <stdio.h>

void zone_list_write(const struct plan *plan, FILE *stream);

#endif
