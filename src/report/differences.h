/* What one plan has that another has not, told from their figures alone: "31 h
 * more with the spar drawing, no deck work at night (2 there)". */
#ifndef REPORT_DIFFERENCES_H
#define REPORT_DIFFERENCES_H

#include "base/arena.h"
#include "plan/plan.h"

/* In `arena`. What the first has better, then, after "; but ", what it has
 * worse; "no difference worth telling" where there is none. Smaller ones than a
 * column of a table would show are left out, and so is what one of the two does
 * not know. */
const char *differences_tell(struct arena *arena,
                             const struct plan_summary *first,
                             const struct plan_summary *second);

/* In `arena`. Of what the second costs more, the parts: " (time +0.5 h, roll
 * -0.1 h)", roll and deck work as `ease`, that of both, weighs them. Empty
 * where the time is all of it, and where no part is a tenth of an hour. */
const char *differences_weighed(struct arena *arena, double ease,
                                const struct plan_summary *first,
                                const struct plan_summary *second);

/* Hours for a column of four or a sentence: "131", "9.6", "0", "<0.1". */
enum { HOURS_TEXT_SIZE = 24 };
void differences_hours(double seconds, char text[HOURS_TEXT_SIZE]);

#endif
