/* From the search's track to the course that the crew steers: as few rhumb
 * lines as the leg loss allows, every change at a place of its own, all places
 * rounded as they are written to the plotter. What is timed here is what a
 * route file gives when it is timed again. */
#ifndef PLAN_COURSE_H
#define PLAN_COURSE_H

#include "search/search.h"

struct course_options {
    double leg_loss_frac;
    size_t most_points;
};

/* Cuts `track` into legs, losing no more than the leg loss of what it costs as
 * it is, except where that takes more than the most points. The result, in
 * `arena`, is the final track; its orders are those of the dynamic programme
 * over its own places. */
struct track course_cut(const struct voyage *voyage, const struct track *track,
                        const struct underway *start,
                        const struct course_options *options,
                        struct arena *arena);

/* Chooses the orders for a track whose places are given, changes at its places
 * only. */
enum obstacle course_rig(const struct voyage *voyage, struct track *track,
                         const struct underway *start, struct arena *arena);

/* The same, and more places: one for every change that the crew would make on
 * the way along a leg. Where no orders can be chosen the track keeps those that
 * it had, and the obstacle is told. */
enum obstacle course_with_changes(const struct voyage *voyage,
                                  struct track *track,
                                  const struct underway *start,
                                  struct arena *arena);

/* What a course costs as it is to be sailed: with what she waits for light at
 * the finish. HUGE_VAL where it can't be sailed without creeping. */
double course_cost_s(const struct voyage *voyage, const struct track *course,
                     const struct underway *start);

/* Moves the end of a track on, or back, along its course to where the forecast
 * ends; leaves it alone where something else is in the way. */
void course_run_out(const struct voyage *voyage, struct track *track,
                    const struct underway *start);

#endif
