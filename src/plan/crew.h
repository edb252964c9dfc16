/* Who is on watch, who is called for work on deck, and what is left to sleep.
 *
 * One person at a time has the watch, in the order of the names, without a
 * break. By ship's time: the first named has the watch that begins at the last
 * `watch_start` at or before departure.
 *
 * Work that sends someone forward takes two, one forward and one in the cockpit
 * (common practice, no source): whoever has the watch when it begins, and one
 * who is called for it: of two the other; of more the one whose own watch is
 * nearest, be it just over or about to begin.
 *
 * Rest is time under way off watch and not called. It is unbroken as long as
 * neither cuts it.
 */
#ifndef PLAN_CREW_H
#define PLAN_CREW_H

#include "base/instant.h"
#include <stdbool.h>
#include <stddef.h>

struct plan;
struct voyage;
struct track;
struct underway;

enum { CREW_PEOPLE = 12, CREW_NAME_BYTES = 24, CREW_NOBODY = -1 };

/* One alone has the watch all the time. Hers is the time without work on deck.
 */
struct crew_rest {
    double rest_s;    /* in all */
    double easy_s;    /* of it with roll not above the easy limit */
    double longest_s; /* unbroken */
    int called;       /* times, off watch, for work on deck */
};

struct crew {
    int count; /* of people; 0: the crew is not known */
    const char *names[CREW_PEOPLE];
    double watch_s;       /* > 0; one alone: as given, or 0 */
    struct instant first; /* a watch of the first named begins, not after
                             departure */
    struct crew_rest rest[CREW_PEOPLE];
};

/* Names with commas between into `names`; what is wrong with them, or NULL.
 * Lives in `arena`. */
struct arena;
const char *crew_read_names(const char *text, struct arena *arena,
                            const char *names[CREW_PEOPLE], int *count);

/* The last moment at or before departure at which it is `start_s` after
 * midnight on a clock `zone_s` ahead of UTC. */
struct instant crew_first_watch(struct instant depart, double zone_s,
                                double start_s);

/* Who has the watch; the next one begins at its end. CREW_NOBODY where no crew
 * is known. */
int crew_on_watch(const struct crew *crew, struct instant at);
struct instant crew_watch_end(const struct crew *crew, struct instant at);

/* Who is called for work that begins then; CREW_NOBODY where there is nobody
 * but the watch. */
int crew_called(const struct crew *crew, struct instant at);

/* Do the watches fall alike every day? */
bool crew_is_daily(const struct crew *crew);

/* A time under way, seconds since departure. */
struct crew_span {
    double start_s, end_s;
};

struct crew_spans {
    struct crew_span *items; /* in order of their starts */
    size_t count;
};

/* The time under way: works are on deck, easy is without too much roll; neither
 * overlaps itself. */
struct crew_time {
    struct instant depart;
    double end_s; /* since departure */
    struct crew_spans works, easy;
};

/* What one of them gets to rest between departure and the end. */
struct crew_rest crew_rest_of(const struct crew *crew, int person,
                              const struct crew_time *time);

/* Fills plan->crew.rest for a crew that is known: the course is sailed once
 * more from `boat`, for the roll of each step. */
void crew_give_rest(struct plan *plan, const struct voyage *voyage,
                    const struct track *course, struct underway *boat);

#endif
