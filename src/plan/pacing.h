/* How a boat that would arrive in the dark spends the time until it is light.
 *
 * First she slows down: reefed or with less headsail any boat can sail at a
 * part of her speed, down to half of it (common practice, no source). She
 * begins twelve hours before first light, or sooner where half her speed asks
 * for it: too soon, and the weather may yet make her late by itself; too late,
 * and she has to be held back harder than she need. What slowing can't take up,
 * on a short passage, she waits for: in open water outside the circle round the
 * finish, the spar in, hove-to or standing off and on. Track and orders stay as
 * they are, but where work would then be asked for that nobody may do.
 */
#ifndef PLAN_PACING_H
#define PLAN_PACING_H

#include "plan/haste.h"
#include "search/track.h"

#define PACING_LEAST_FRAC 0.5
#define PACING_WINDOW_S (12.0 * SECONDS_PER_HOUR)

/* She is after first light by no more than this. */
#define PACING_SHARP_S 60.0

struct pacing_options {
    double circle_m;    /* round the finish: no waiting in there */
    size_t most_points; /* of the course, where places may be added to it */
};

/* The course, whatever its pace, at the pace that suits; no pace where nothing
 * has to be spent or it can't be sailed. The result lives in `arena`. */
struct track pacing_course(const struct voyage *voyage,
                           const struct track *course,
                           const struct underway *start,
                           const struct pacing_options *options,
                           struct arena *arena);

/* A course at full speed, and what it costs at the pace that suits. What she
 * waits because she can't be slowed down counts twice: no way is taken for the
 * rest that it brings. */
struct haste_tried pacing_judge(const struct voyage *voyage,
                                const struct track *course,
                                const struct underway *start,
                                const struct pacing_options *options,
                                struct arena *arena);

#endif
