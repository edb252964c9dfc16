#include "plan/gybes.h"

bool gybes_are_kept(const struct voyage *voyage, const struct track *course,
                    const struct underway *start) {
    if (!change_is_deck_work(voyage->boat, CHANGE_MAINSAIL_GYBE))
        return true;
    struct voyage kept = *voyage;
    kept.gybes_kept = true;
    struct underway boat = track_start(voyage, course, start);
    return track_sail(&kept, course, &boat, NULL) == OBSTACLE_NONE;
}

bool gybes_can_be_kept(const struct voyage *voyage, const struct track *course,
                       const struct underway *start, struct arena *arena) {
    struct track bare = track_copy(arena, course);
    for (size_t i = 0; i < bare.count; i++)
        bare.vertices[i].order = (struct deck){.spar = SPAR_STOWED};
    return gybes_are_kept(voyage, &bare, start);
}

void gybes_check_told(struct plan *plan) {
    for (size_t i = 0; i < plan->change_count; i++)
        if (plan->changes[i].kind == CHANGE_MAINSAIL_GYBE &&
            plan->changes[i].outside_limits)
            plan->summary.kept_gybes_s = figure_unknown();
}
