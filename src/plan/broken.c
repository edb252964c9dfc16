#include "plan/broken.h"

#include "search/track.h"

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

static struct figure sail_rest(const struct plan *plan, size_t index,
                               const struct voyage *bare, struct arena *arena) {
    const struct plan_leg *leg = &plan->legs[index];
    struct track rest = rest_of(plan, index, arena);
    struct underway boat =
        sail_start(leg->from, (struct deck){.spar = SPAR_STOWED});
    boat.t_s = instant_minus(leg->start, plan->depart);
    if (index > 0)
        boat.deck.wind_starboard = plan->legs[index - 1].deck.wind_starboard;
    else
        boat = track_start(bare, &rest, &boat);
    enum obstacle obstacle = track_sail(bare, &rest, &boat, NULL);
    if (obstacle != OBSTACLE_NONE || boat.crept_s > 0.0)
        return figure_unknown();
    return figure_of(boat.t_s);
}

void broken_give(struct plan *plan, const struct voyage *voyage) {
    if (!plan->summary.reached)
        return;
    struct voyage bare = *voyage;
    struct arena arena;
    struct figure next_s = figure_of(plan->summary.elapsed_s);
    size_t first = plan->leg_count > BROKEN_LEGS ? 1 : plan->leg_count;
    bare.spar_allowed = false;
    bare.max_wind_mps = bare.max_gust_mps = bare.max_wave_m = figure_unknown();
    arena_init(&arena);
    for (size_t i = first; i-- > 0;) {
        if (first < plan->leg_count || !is_bare(plan, i))
            next_s = sail_rest(plan, i, &bare, &arena);
        plan->legs[i].broken_s = next_s;
    }
    arena_free(&arena);
}
