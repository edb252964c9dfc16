/* Sentences of a plan (its warnings) are read in several places: in the
 * schedule, by ship's time and by the names of the points; in messages, by UTC
 * and those names; in files, by UTC and with counted legs. So a sentence holds
 * marks for times and legs, and report/marked.h puts the words in their place.
 */
#ifndef PLAN_MARKS_H
#define PLAN_MARKS_H

#include "base/arena.h"
#include "base/instant.h"
#include <stddef.h>

/* Stands before and after what is marked; in no text of the user: those are
 * printed without control characters. */
#define MARK_SIGN '\x1e'
#define MARK_TIME 't'
#define MARK_LEG 'l'

/* "\x1et1710892800\x1e", in `arena`. */
const char *mark_time(struct arena *arena, struct instant at);

/* The name alone, to come after "leg " or "legs ", by index. */
const char *mark_leg(struct arena *arena, size_t leg);

#endif
