/* plan.json read again: an earlier plan, for a new one to be set against. */
#ifndef REPORT_PLAN_READ_H
#define REPORT_PLAN_READ_H

#include "base/arena.h"
#include "plan/previous.h"

/* Larger than any that we write: 1000 points of a route and the changes between
 * them, all isochrones. */
enum { PLAN_READ_LIMIT = 32 << 20, PLAN_READ_LEGS = 4096 };

/* STATUS_INPUT, with the file: it can't be read, is no JSON (one that was cut
 * on the way is none), no plan of ours, of another format, has more than
 * PLAN_READ_LEGS legs, or a part of it is missing or no such value (which is
 * named). Keys that are not needed don't
 * count. The result lives in `arena`. */
bool plan_read(struct previous *previous, const char *path, struct arena *arena,
               struct error *error);

#endif
