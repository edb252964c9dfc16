/* What `sparwise boat --roll-seen` prints: how each observation was taken, what
 * it tells, the roll before and after the fit, and the keys to paste. */
#ifndef REPORT_ROLL_SEEN_REPORT_H
#define REPORT_ROLL_SEEN_REPORT_H

#include "boat/boat.h"
#include "boat/roll_fit.h"
#include "boat/roll_seen.h"
#include <stdio.h>

/* The observations and what roll_fit() made of them, `count` of each. */
struct roll_sheet {
    const struct boat *boat;
    const struct roll_seen *seen;
    const struct roll_case *cases;
    const struct roll_fit_case *each;
    size_t count;
    const struct roll_fit *fit;
};

/* Plain ASCII text of at most 80 columns. */
void roll_seen_report(const struct roll_sheet *sheet, FILE *stream);

#endif
