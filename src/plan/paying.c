#include "plan/paying.h"

#include "search/track.h"

/* The plan's places, all orders stowed. */
static struct track bare_track(const struct plan *plan, struct arena *arena) {
    struct track track = {.count = plan->leg_count + 1};
    track.vertices = arena_alloc(arena, track.count, sizeof *track.vertices);
    for (size_t i = 0; i < plan->leg_count; i++)
        track.vertices[i].at = plan->legs[i].from;
    track.vertices[plan->leg_count].at = plan->legs[plan->leg_count - 1].to;
    return track;
}

/* When she passes each place; false where she can't sail the whole. */
static bool sail_bare(const struct voyage *bare, const struct track *track,
                      double *passed_s, struct underway *boat) {
    for (size_t i = 0; i + 1 < track->count; i++) {
        passed_s[i] = boat->t_s;
        if (track_sail_stretch(bare, track, i, boat, NULL) != OBSTACLE_NONE ||
            boat->crept_s > 0.0)
            return false;
    }
    passed_s[track->count - 1] = boat->t_s;
    return true;
}

/* From leg to leg with the spar out, the next such stretch from `leg` on;
 * false where there is none. */
static bool next_stretch(const struct plan *plan, size_t leg,
                         struct plan_stretch *stretch) {
    while (leg < plan->leg_count && plan->legs[leg].deck.spar == SPAR_STOWED)
        leg++;
    *stretch = (struct plan_stretch){.first = leg, .last = leg};
    for (; leg < plan->leg_count && plan->legs[leg].deck.spar != SPAR_STOWED;
         leg++) {
        stretch->last = leg;
        stretch->distance_m += plan->legs[leg].distance_m;
    }
    return stretch->first < plan->leg_count;
}

static void give_stretches(struct plan *plan, const double *passed_s,
                           struct arena *arena) {
    struct plan_stretch stretch;
    plan->stretches =
        arena_alloc(arena, plan->leg_count, sizeof *plan->stretches);
    for (size_t leg = 0; next_stretch(plan, leg, &stretch);
         leg = stretch.last + 1) {
        stretch.seconds = instant_minus(plan->legs[stretch.last].end,
                                        plan->legs[stretch.first].start);
        stretch.saved_s = passed_s[stretch.last + 1] - passed_s[stretch.first] -
                          stretch.seconds;
        plan->stretches[plan->stretch_count++] = stretch;
    }
}

void paying_give(struct plan *plan, const struct voyage *voyage,
                 struct deck start, struct arena *arena) {
    if (!plan->summary.reached || start.spar != SPAR_STOWED)
        return;
    struct voyage bare = *voyage;
    bare.spar_allowed = false;
    bare.max_wind_mps = bare.max_gust_mps = bare.max_wave_m = figure_unknown();
    struct arena scratch;
    arena_init(&scratch);
    struct track track = bare_track(plan, &scratch);
    double *passed_s = arena_alloc(&scratch, track.count, sizeof *passed_s);
    struct underway boat = sail_start(track.vertices[0].at, start);
    boat = track_start(&bare, &track, &boat);
    if (sail_bare(&bare, &track, passed_s, &boat)) {
        plan->summary.elapsed_without_spar_s = figure_of(boat.t_s);
        plan->summary.cost_without_spar_s = figure_of(boat.cost_s);
        give_stretches(plan, passed_s, arena);
    }
    arena_free(&scratch);
}
