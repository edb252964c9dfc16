/* A plan that was made before, as far as a new one is set against it. It comes
 * out of a plan.json (report/plan_read.h). */
#ifndef PLAN_PREVIOUS_H
#define PLAN_PREVIOUS_H

#include "base/error.h"
#include "base/instant.h"
#include "earth/position.h"
#include "voyage/deck.h"
#include <stdbool.h>
#include <stddef.h>

struct previous_leg {
    struct instant start, end;
    struct position from, to;
    enum spar_place spar;
};

/* Work that sends someone forward. */
struct previous_work {
    enum change_kind kind;
    struct instant at;
    struct deck to;
};

struct previous {
    const char *path, *name;
    struct position to;
    struct instant depart;
    bool reached; /* else `arrive` does not count */
    struct instant arrive;
    struct previous_leg *legs;
    size_t leg_count;            /* at least 1 */
    struct previous_work *works; /* in order of time */
    size_t work_count;
};

/* A plan whose finish is further than this from that of another is one of
 * another passage. */
#define PREVIOUS_FINISH_M (10.0 * METRES_PER_NMI)

/* The first work on deck that it has from then on, or NULL. */
const struct previous_work *previous_next(const struct previous *previous,
                                          struct instant now);

/* How she is rigged by it at that time; false before its departure and after
 * its end. */
bool previous_spar(const struct previous *previous, struct instant now,
                   enum spar_place *spar);

/* STATUS_INPUT where it ends at another place than `to`. */
bool previous_check(const struct previous *previous, struct position to,
                    struct error *error);

#endif
