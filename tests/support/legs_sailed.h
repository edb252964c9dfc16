/* A course sailed in analytic weather, and the plan that is written of it. */
#ifndef TESTS_LEGS_SAILED_H
#define TESTS_LEGS_SAILED_H

#include "analytic.h"

#include "plan/plan.h"
#include "search/track.h"

/* The plan's lists live in the arena of scratch.h. */
struct sailed {
    struct voyage voyage;
    struct plan plan;
    enum obstacle obstacle;
};

/* 30 N 40 W. */
extern const struct position start_at;

/* 2026-06-01T00:00Z, `date -u -d @1780272000` */
extern const struct instant departure;

/* 7 m/s from the east, gusts and a wind sea. */
extern const struct analytic trades;

/* A vertex ahead of a place, and where the spar is from there on. */
struct vertex place(double course_deg, double distance_nmi,
                    struct position from, enum spar_place spar);

/* West with the wind from the east: set, gybe, stow. Returns their number. */
size_t run_west(struct vertex vertices[5]);

/* From the first vertex, where the spar is stowed, at `departure`. */
void sail_boat(struct sailed *sailed, const struct boat *boat,
               const struct analytic *weather, struct vertex *vertices,
               size_t count);

/* The same with the boat of polars/wanderer-12.ini. */
void sail(struct sailed *sailed, const struct analytic *weather,
          struct vertex *vertices, size_t count);

double leg_s(const struct plan_leg *leg);

#endif
