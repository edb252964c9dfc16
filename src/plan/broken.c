#include "plan/broken.h"

#include "base/units.h"
#include "plan/homing.h"

#include <math.h>

/* Nothing was to be done with a spar from there to the end of the leg. */
static bool is_bare(const struct plan *plan, size_t index) {
    if (plan->legs[index].deck.spar != SPAR_STOWED)
        return false;
    for (size_t i = 0; i < plan->change_count; i++) {
        const struct plan_change *change = &plan->changes[i];
        bool spar =
            change->from.spar != SPAR_STOWED || change->to.spar != SPAR_STOWED;
        if (change->leg == index && spar)
            return false;
    }
    return true;
}

/* From where a leg starts to the finish, all orders stowed. */
static struct track rest_of(const struct plan *plan, size_t index,
                            struct arena *arena) {
    struct track rest = {.count = plan->leg_count - index + 1};
    rest.vertices = arena_alloc(arena, rest.count, sizeof *rest.vertices);
    for (size_t i = index; i < plan->leg_count; i++)
        rest.vertices[i - index].at = plan->legs[i].from;
    rest.vertices[rest.count - 1].at = plan->legs[plan->leg_count - 1].to;
    return rest;
}

/* A leg that takes longer by beating is no way. */
static const double MOST_S = 30.0 * 24.0 * SECONDS_PER_HOUR;

/* To windward, to where the leg ends. */
static enum obstacle beat_to(const struct voyage *bare, struct underway *boat,
                             struct position end) {
    struct homeward way = homeward_from(NULL, boat->at, end);
    double end_s = boat->t_s + MOST_S;
    enum obstacle why = homing_sail(bare, boat, &way, MOST_S);
    bool late = why == OBSTACLE_NONE && boat->t_s >= end_s - 1.0;
    return late ? OBSTACLE_NO_SPEED : why;
}

/* One leg as it lies; OBSTACLE_NO_SPEED where she would creep. */
static enum obstacle sail_leg(const struct voyage *bare,
                              const struct track *rest, size_t index,
                              struct underway *boat) {
    enum obstacle why = track_sail_stretch(bare, rest, index, boat, NULL);
    bool crept = why == OBSTACLE_NONE && boat->crept_s > 0.0;
    return crept ? OBSTACLE_NO_SPEED : why;
}

/* From departure to the finish, if it breaks where a leg starts. */
struct ending {
    struct figure broken_s;
    struct plan_heading heading;
};

static struct ending sail_rest(const struct plan *plan, size_t index,
                               const struct voyage *bare, struct arena *arena) {
    const struct plan_leg *leg = &plan->legs[index];
    struct track rest = rest_of(plan, index, arena);
    struct ending ending = {.broken_s = figure_unknown()};
    struct plan_heading *heading = &ending.heading;
    struct underway boat =
        sail_start(leg->from, (struct deck){.spar = SPAR_STOWED});
    boat.t_s = instant_minus(leg->start, plan->depart);
    if (index > 0)
        boat.deck.wind_starboard = plan->legs[index - 1].deck.wind_starboard;
    else
        boat = track_start(bare, &rest, &boat);
    for (size_t i = 0; i + 1 < rest.count; i++) {
        struct underway laid = boat;
        heading->why = sail_leg(bare, &rest, i, &boat);
        bool heads = heading->why == OBSTACLE_NO_SPEED;
        if (heads && !heading->headed)
            *heading = (struct plan_heading){true, index + i, heading->why};
        if (heads && !plan->timed_only) {
            boat = laid;
            heading->why = beat_to(bare, &boat, rest.vertices[i + 1].at);
        }
        if (heading->why != OBSTACLE_NONE) {
            heading->leg = index + i;
            return ending;
        }
    }
    ending.broken_s =
        figure_of(boat.t_s + voyage_arrival_wait_s(bare, boat.t_s));
    return ending;
}

void broken_give(struct plan *plan, const struct voyage *voyage) {
    if (!plan->summary.reached)
        return;
    struct voyage bare = *voyage;
    struct arena arena;
    struct ending next = {.broken_s = figure_of(plan->summary.elapsed_s)};
    size_t first = plan->leg_count > BROKEN_LEGS ? 1 : plan->leg_count;
    bare.spar_allowed = false;
    bare.max_wind_mps = bare.max_gust_mps = bare.max_wave_m = figure_unknown();
    arena_init(&arena);
    for (size_t i = first; i-- > 0;) {
        if (first < plan->leg_count || !is_bare(plan, i))
            next = sail_rest(plan, i, &bare, &arena);
        plan->legs[i].broken_s = next.broken_s;
        plan->legs[i].broken = next.heading;
    }
    arena_free(&arena);
}
