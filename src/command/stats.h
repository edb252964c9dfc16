/* What the run took: for --stats, on standard error. */
#ifndef COMMAND_STATS_H
#define COMMAND_STATS_H

#include "base/arena.h"

void stats_print(const struct arena *arena);

#endif
