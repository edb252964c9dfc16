/* How light it is when the passage ends: over the whole time within which it
 * does, as it is printed, and when the sun rises and sets there. */
#ifndef REPORT_DAYLIGHT_H
#define REPORT_DAYLIGHT_H

#include "base/arena.h"
#include "plan/plan.h"

/* "by day", "at dawn", "at dusk", "at night", "dark at first", "dark at its
 * end"; "in that part of it that is light" where it is planned for daylight and
 * told to an hour or a watch that is dark in part. */
const char *daylight_on_arrival(const struct plan *plan);

/* The same as one word, for a column: "day", "dawn", "dusk", "night"; "part"
 * where it is dark in a part of that time. */
const char *daylight_word(const struct plan *plan);

/* What to do about it: ": be early, or ...", "" by day. */
const char *daylight_advice(const struct plan *plan);

/* The turns of day and night nearest to the arrival, in their order: "sunset
 * 20:05, dark from 20:36, dark until 04:41, sunrise 05:12 UTC". */
const char *daylight_turns(struct arena *arena, const struct plan *plan);

#endif
