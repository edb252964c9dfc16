/* The course sailed once and kept, to sail it again with one change moved or
 * left undone: from the vertex before, by the same integrator, the
 * other orders staying at their places. What comes out is what the whole course
 * costs then, to the finish.
 *
 * All changes that come after it are counted with the hardship that they have
 * in the plan: each has a margin of its own, and a crew that is some minutes
 * late keeps within that rather than wait for a place while night falls. For
 * the same reason the last stow is excused when another change makes it longer,
 * or its place be passed faster, and the spar is then not in for the landfall:
 * it is ordered so many minutes sooner, which is not counted.
 *
 * A change moves along the kept track: what is ordered at a vertex is ordered
 * sooner, on the way to it, or later, on the way from it. The mainsail comes
 * over where course and wind ask for it, then as ever. */
#ifndef PLAN_RESAIL_H
#define PLAN_RESAIL_H

#include "search/track.h"

/* One part of a change, as it was done. */
struct resail_change {
    enum change_kind kind;
    struct deck from, to;
    double t_s, seconds;
    size_t stretch; /* on which it was done; a vertex is the start of one */
    /* When and where the whole was begun: a second part comes after it. */
    double begun_s;
    struct position begun_at;
    bool unplanned; /* not ordered: wind or angle asked for it */
    bool outside_limits;
    enum light light;
};

struct resail {
    const struct voyage *voyage;
    const struct track *course;
    struct underway *arrived; /* at each vertex, before what is ordered there */
    struct underway end;
    enum obstacle obstacle; /* that stopped it; nothing below holds then */
    struct resail_change *changes;
    size_t change_count;
    int mainsails; /* times that the mainsail alone comes over */
};

/* `start`: at the first vertex (track_start). */
struct resail resail_course(const struct voyage *voyage,
                            const struct track *course,
                            const struct underway *start, struct arena *arena);

/* The same with one change elsewhere. */
struct resailed {
    bool sailed;   /* false: it can't be done then, or the rest be sailed */
    bool too_late; /* then by the landfall: it is the last stow itself */
    enum obstacle obstacle; /* that stopped her, where it is not sailed */
    bool hastened;          /* it is another; the last stow has to be ordered
                               sooner for it, and was excused */
    bool outside_limits;    /* of the change */
    enum light light;       /* at the change */
    double cost_s, t_s;     /* at the finish */
    double forbidden_s;     /* more than planned in the cost, for work that the
                               limits forbid */
    size_t stretch;         /* of a change moved: where it is done, on which */
    struct position at;     /* stretch of the course */
    double roll2, roll_s;   /* of a change left undone: integral of the squared
                               roll, degrees, while it is; and that time */
};

/* Is it a change that can be moved: an order, or the headsail rolled or
 * unrolled? */
bool resail_is_order(const struct resail_change *change);

/* Is it the stow after which the spar stays in? The landfall binds that change,
 * and no other. */
bool resail_is_last_stow(const struct resail *resail,
                         const struct resail_change *change);

/* From when to when it can be begun at all: after the change before is done,
 * and up to where the next is ordered. Seconds since departure; the later end
 * is that of the course where no other change comes. */
void resail_bounds(const struct resail *resail,
                   const struct resail_change *change, double *first_s,
                   double *last_s);

/* Moves an order to that moment, sooner or later than it was begun.
 */
struct resailed resail_moved(const struct resail *resail,
                             const struct resail_change *change, double t_s);

/* The course with that order where `moved` has it, one vertex longer unless
 * there is one at that place. What was ordered there, and is no more, stays a
 * place of the track. */
struct track resail_course_moved(const struct resail *resail,
                                 const struct resail_change *change,
                                 const struct resailed *moved,
                                 struct arena *arena);

/* Brings the mainsail over at that moment, sooner than it was begun. */
struct resailed resail_brought_over(const struct resail *resail,
                                    const struct resail_change *change,
                                    double t_s);

/* Leaves an order undone up to where the spar is next worked on, be the
 * headsail rolled or unrolled before, or the finish; one that only rolls or
 * unrolls up to the next order. Its place is that of a vertex. Not sailed where
 * no other rig is ordered there: a headsail that was rolled for a while comes
 * out by itself. */
struct resailed resail_undone(const struct resail *resail,
                              const struct resail_change *change);

/* The course itself over the same stretch: roll2 and roll_s. */
struct resailed resail_done(const struct resail *resail,
                            const struct resail_change *change);

#endif
