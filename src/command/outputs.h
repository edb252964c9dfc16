/* The files of a plan: schedule.txt, route.gpx, plan.json and report.html in
 * one folder. All are drafts first and appear together, when all of them are
 * complete. */
#ifndef COMMAND_OUTPUTS_H
#define COMMAND_OUTPUTS_H

#include "base/arena.h"
#include "plan/plan.h"

/* The folder's name for a passage, in `arena`: "Trade crossing (1)" gives
 * "trade-crossing-1". Letters other than A-Z are dashes. */
char *outputs_folder(const char *passage_name, struct arena *arena);

/* Before the search: could the files be written? STATUS_WRITE: one is there
 * already and `force` is not set, or the folder can neither be used nor
 * made. */
bool outputs_check(const char *folder, bool force, struct error *error);

/* Makes the folder where it is not there. On failure no file, draft or new
 * folder is left. An interrupt waits until all are in place or gone; so does
 * another run for the same folder, whose files never mix with these. `force` as
 * for outputs_check(): another plan may have come meanwhile. */
bool outputs_write(const struct plan *plan, const char *folder, bool force,
                   struct error *error);

#endif
