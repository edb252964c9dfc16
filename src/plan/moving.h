/* Deck work is moved to a change of watch, when both are up, or into daylight,
 * where that costs no more than the margin: docs/method-margins.md. */
#ifndef PLAN_MOVING_H
#define PLAN_MOVING_H

#include "plan/plan.h"
#include "plan/resail.h"

/* What the crew would rather have. */
struct moving {
    double margin_s;       /* all moves together cost no more */
    struct figure watch_s; /* length of a watch; unknown: there are none */
    double first_watch_s;  /* one begins then, seconds since departure */
    size_t most_points;    /* of the course */
};

enum moved_to { MOVED_TO_WATCH, MOVED_TO_DAY };

enum { MOVED_MOST = 32 };

struct moved_work {
    struct position at;
    enum moved_to to;
};

struct moved_list {
    struct moved_work items[MOVED_MOST];
    size_t count;
    double spent_s; /* what all of it costs; below 0 where it gains */
};

/* A course with its deck work moved, and what was. */
struct moved_course {
    struct track track;
    struct moved_list list;
};

/* The course itself where nothing is moved. Work in the dark goes first, then
 * work by day, each in order of time; each move is kept if all that are kept
 * cost no more than the margin together, and none brings another back into the
 * dark or off its change of watch. A course that would be moved otherwise if it
 * were read from its own route file, and rigged anew, gives up its last moves
 * until that is not so. */
struct moved_course moving_course(const struct voyage *voyage,
                                  const struct track *course,
                                  const struct underway *start,
                                  const struct moving *wish,
                                  struct arena *arena);

/* Says so in the reasons of the plan's changes. */
void moving_tell(const struct moved_list *list, struct plan *plan,
                 struct arena *arena);

#endif
