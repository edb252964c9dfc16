/* How early or late the boat may be, against the dark. */
#ifndef REPORT_LANDFALL_H
#define REPORT_LANDFALL_H

#include "plan/plan.h"
#include <stdio.h>

/* "  Early, late  between ... and ...; dark from ...: ...": nothing where the
 * finish is not reached. */
void landfall_write(const struct plan *plan, FILE *stream);

#endif
