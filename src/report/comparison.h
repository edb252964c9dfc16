/* Two tracks beside one another: what each takes, and the difference. */
#ifndef REPORT_COMPARISON_H
#define REPORT_COMPARISON_H

#include "base/error.h"
#include "plan/plan.h"
#include <stdio.h>

struct compared {
    const char *label; /* its file, say */
    const struct plan *plan;
};

/* A table of at most 80 columns, ASCII: the first plan, the second, and how
 * much more or less the second takes; then leg by leg (report/abreast.h). Both
 * depart at one time. */
bool comparison_write(struct compared first, struct compared second,
                      FILE *stream, struct error *error);

#endif
