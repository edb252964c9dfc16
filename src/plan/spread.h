/* A plan against every member of its ensemble: its own track sailed in the
 * weather of each, and the best way that each has. What lies apart is how
 * little the plan can be known.
 *
 * All that was decoded stays, as it was packed; what is unpacked for a member
 * goes when it is done, so that there is at any time as much of that as there
 * are threads. Members are worked out side by side, one thread each, and told
 * in the order of the forecast: the control first, then by number.
 */
#ifndef PLAN_SPREAD_H
#define PLAN_SPREAD_H

#include "base/arena.h"
#include "base/error.h"
#include "plan/plan.h"
#include "plan/quantile.h"

struct world;
struct request;
struct plan_progress; /* plan/passage.h */

/* Fewest and most members that are set beside one another. The largest
 * ensembles that are given out have about a hundred (from memory); more are
 * more likely a mistake than a forecast. */
enum { SPREAD_LEAST = 2, SPREAD_MOST = 128 };

/* What a forecast is of: no ensemble, its control, or a member by number. */
struct spread_member {
    enum { SPREAD_PLAIN, SPREAD_CONTROL, SPREAD_NUMBERED } kind;
    int number;
};

/* One way, sailed in the weather of one member. */
struct spread_way {
    bool arrives;
    const char *why;      /* where it does not: what the track is stopped by, an
                             error's text for the own best */
    enum obstacle broken; /* of the crew's limits the first that the plan's
                             track breaks; it is sailed on */
    double elapsed_s;     /* to the finish, or as far as she comes */
    double beyond_s;      /* sailed beyond the member's last step */
    struct figure gust_mps; /* the greatest; unknown where nothing is sailed */
    bool gust_estimated;    /* 1.4 x the mean wind: no gust field */
};

/* A piece of the plan's deck work in one member. */
struct spread_seen {
    bool done; /* on the plan's track */
    double done_s;
    bool inside_margin, inside_limits;
    bool own; /* the member's own best has it, too: then */
    double own_s;
};

struct spread_row {
    struct spread_member member;
    struct spread_way track, own;
    struct spread_seen *seen; /* one for each work */
};

/* A piece of deck work over all members. */
struct spread_work {
    const struct plan_change *change; /* of the plan */
    struct quantiles own;             /* its times in the members' own bests */
    size_t done;                      /* on the plan's track */
    bool margin_known;
    size_t inside_margin, inside_limits; /* on the plan's track */
};

/* One of both ways over all members. */
struct spread_sum {
    struct quantiles arrive; /* of those that do */
    struct figure gust_mps;  /* the worst */
    bool gust_estimated;
    struct spread_member gust_of; /* the first member that has it */
    size_t broken, beyond;        /* members */
};

struct spread {
    const struct plan *plan;
    struct spread_member used; /* what the plan is made with */
    struct spread_row *rows;
    size_t count; /* members */
    struct spread_work *works;
    size_t work_count;
    struct spread_sum track, own;
};

/* False: as plan_passage() for the plan; STATUS_INPUT for too few or too many
 * members; STATUS_OUTSIDE where the plan does not reach the finish. All in
 * `arena`. A member whose weather can't be used is a row that says so. */
bool spread_make(struct spread **spread, const struct world *world,
                 const struct request *request,
                 const struct plan_progress *progress, struct arena *arena,
                 struct error *error);

/* What follows from the rows: works and sums. */
void spread_sum_up(struct spread *spread, struct arena *arena);

/* --- for a plan that is made by others ------------------------------------ */

/* A world for each member of the forecast, in its order; NULL, `*count` 0,
 * where there are fewer than SPREAD_LEAST or more than SPREAD_MOST, or the
 * weather of one can't be used. They live in `arena`. */
const struct world *spread_worlds(const struct world *world,
                                  const struct request *request, size_t *count,
                                  struct arena *arena);

/* Times of arrival of the plan's own track over these worlds: those that
 * arrive count, within the crew's limits or not. `request` is the plan's. */
struct quantiles spread_arrivals(const struct plan *plan,
                                 const struct request *request,
                                 const struct world *worlds, size_t count);

#endif
