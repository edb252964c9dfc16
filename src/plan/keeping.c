#include "plan/keeping.h"

#include "base/units.h"
#include "earth/angle.h"
#include "earth/geodesic.h"
#include "earth/rhumb.h"
#include "plan/engine.h"
#include "plan/orders.h"
#include "plan/retime.h"

#include <math.h>

/* An end of a leg nearer than this is passed already. */
static const double PASSED_M = 0.1 * METRES_PER_NMI;

/* About so fast she sails to the old track: zones are looked at in that
 * time. */
static const double JOIN_MPS = 3.0;

/* --- where it is joined --------------------------------------------------- */

/* On the leg, the place nearest to `here`. The first guess is that of a flat
 * earth; from its foot the next is nearly right. */
static struct position nearest_on(const struct previous_leg *leg,
                                  struct position here) {
    enum { LOOKS = 4 };
    struct rhumb whole = rhumb_between(leg->from, leg->to);
    struct position foot = leg->from;
    double along_m = 0.0;
    for (int i = 0; i < LOOKS; i++) {
        struct geodesic to = geodesic_between(foot, here);
        double s, c;
        sincos_deg(to.course_start_deg - whole.course_deg, &s, &c);
        along_m =
            fmin(fmax(along_m + to.distance_m * c, 0.0), whole.distance_m);
        foot = rhumb_ahead(leg->from, whole.course_deg, along_m);
    }
    return foot;
}

static size_t nearest_leg(const struct previous *previous, struct position here,
                          double *off_m) {
    size_t nearest = 0;
    *off_m = HUGE_VAL;
    for (size_t i = 0; i < previous->leg_count; i++) {
        struct position at = nearest_on(&previous->legs[i], here);
        double distance_m = geodesic_between(here, at).distance_m;
        /* of two that meet there the later one: the first is sailed */
        if (distance_m > *off_m + PASSED_M)
            continue;
        *off_m = distance_m;
        nearest = i;
    }
    return nearest;
}

static bool lies_ahead(const struct previous_leg *leg, struct position here) {
    struct rhumb there = rhumb_between(here, leg->to);
    double turn_deg = angle_turn(rhumb_between(leg->from, leg->to).course_deg,
                                 there.course_deg);
    return there.distance_m > PASSED_M && fabs(turn_deg) <= KEEPING_TURN_DEG;
}

static enum obstacle blocked(const struct voyage *voyage,
                             const struct underway *start,
                             struct position place) {
    double seconds = rhumb_between(start->at, place).distance_m / JOIN_MPS;
    return voyage->blocked ? voyage->blocked(voyage->water, start->at, place,
                                             start->t_s, start->t_s + seconds)
                           : OBSTACLE_NONE;
}

/* The leg at whose end the track is joined; the last where none is better. */
static size_t joining_leg(const struct voyage *voyage,
                          const struct underway *start,
                          const struct previous *previous, double *off_m) {
    size_t last = previous->leg_count - 1;
    size_t leg = nearest_leg(previous, start->at, off_m);
    for (; leg < last; leg++)
        if (lies_ahead(&previous->legs[leg], start->at) &&
            blocked(voyage, start, previous->legs[leg].to) == OBSTACLE_NONE)
            break;
    return leg;
}

/* From here to the end of that leg, and on; to the new plan's own finish, if
 * that is another berth. */
static struct track rest_of(const struct previous *previous, size_t leg,
                            const struct voyage *voyage,
                            const struct underway *start, struct arena *arena) {
    size_t count = previous->leg_count - leg + 1;
    struct track rest = {.count = count};
    rest.vertices = arena_alloc(arena, count, sizeof *rest.vertices);
    rest.vertices[0] = (struct vertex){.at = start->at, .pinned = true};
    for (size_t i = 1; i < count; i++)
        rest.vertices[i] = (struct vertex){.at = previous->legs[leg + i - 1].to,
                                           .pinned = true};
    rest.vertices[count - 1].at = voyage->finish;
    return rest;
}

/* --- what it costs -------------------------------------------------------- */

static void count_work(const struct plan *plan, int sign,
                       struct plan_keeping *keeping) {
    for (size_t i = 0; i < plan->change_count; i++) {
        const struct plan_change *change = &plan->changes[i];
        if (change->deck_work)
            keeping->more_work[change->kind][change->light == LIGHT_NIGHT] +=
                sign;
    }
}

static bool is_barred(const struct plan *plan) {
    for (size_t i = 0; i < plan->change_count; i++)
        if (plan->changes[i].barred)
            return true;
    return false;
}

/* With orders of its own, and the engine held to the fuel that is there now:
 * the new plan may spend it elsewhere. */
static struct track order_rest(struct voyage *held, const struct track *rest,
                               const struct underway *start,
                               const struct moving *wish, struct arena *arena) {
    const struct orders_options options = {.own_changes = false};
    struct track course = *rest;
    double elapsed_s;
    held->motoring = engine_of(held->boat);
    struct voyage ordered = *held, fitted = *held;
    ordered.arrival_wait_s = NULL;
    orders_give(&ordered, &course, start, &options, arena);
    double cost_s = engine_fit(&fitted, &course, start, &elapsed_s);
    struct track moved =
        moving_course(&fitted, &course, start, wish, arena).track;
    double moved_s = engine_fit(held, &moved, start, &elapsed_s);
    if (moved_s <= cost_s + wish->margin_s)
        return moved;
    *held = fitted;
    return course;
}

void keeping_give(struct plan *plan, const struct voyage *voyage,
                  const struct underway *start, const struct moving *wish,
                  const struct previous *previous, struct arena *arena) {
    struct plan_keeping *keeping = arena_alloc(arena, 1, sizeof *keeping);
    *keeping = (struct plan_keeping){.previous = previous};
    size_t leg = joining_leg(voyage, start, previous, &keeping->off_m);
    struct track rest = rest_of(previous, leg, voyage, start, arena);
    keeping->joined = rest.vertices[1].at;
    keeping->to_join_m = rhumb_between(start->at, keeping->joined).distance_m;
    struct voyage held = *voyage;
    struct track course = order_rest(&held, &rest, start, wish, arena);
    const struct plan *kept =
        retime_course(plan, &held, start, &course, arena, &keeping->why);
    if (keeping->why == OBSTACLE_NONE &&
        !engine_is_within(&held, &course, start))
        keeping->why = OBSTACLE_FUEL;
    keeping->known = keeping->why == OBSTACLE_NONE;
    keeping->barred = is_barred(kept);
    keeping->summary = kept->summary;
    count_work(kept, 1, keeping);
    count_work(plan, -1, keeping);
    plan->keeping = keeping;
}
