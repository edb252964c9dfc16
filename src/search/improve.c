#include "search/improve.h"

#include "search/refine.h"
#include "search/rig.h"

#include <math.h>

/* Rounds of moves in one turn, at most. */
enum { MOVE_ROUNDS = 40 };

/* Deck states that gain less than this part of the cost are left at that. */
static const double LAST_GAIN_FRAC = 2e-5;

/* The track rigged anew, where that makes it cheaper; all in `arena`. */
static bool rig_anew(const struct voyage *voyage, struct track *track,
                     const struct underway *start, double spacing_m,
                     struct arena *arena) {
    *track = rig_divide(voyage, track, spacing_m, arena);
    double rigged_s;
    if (rig_track(voyage, track, start, arena, &rigged_s) != OBSTACLE_NONE)
        return false;
    *track = rig_thin(track, arena);
    return true;
}

/* What is tried takes megabytes, what is kept little: the first is given back
 * at once. */
double improve_rig(const struct voyage *voyage, struct track *track,
                   const struct underway *start, double spacing_m,
                   double cost_s, struct arena *arena) {
    struct arena scratch;
    struct track thin = *track;
    arena_init(&scratch);
    bool rigged = rig_anew(voyage, &thin, start, spacing_m, &scratch);
    struct underway boat = track_start(voyage, &thin, start);
    if (rigged && track_sail(voyage, &thin, &boat, NULL) == OBSTACLE_NONE &&
        boat.cost_s < cost_s) {
        *track = track_copy(arena, &thin);
        cost_s = boat.cost_s;
    }
    arena_free(&scratch);
    return cost_s;
}

/* The cost after that by the integrator's usual step. */
static double move_places(const struct voyage *voyage, struct track *track,
                          const struct underway *start,
                          const struct improve_options *options,
                          struct arena *arena) {
    struct voyage coarse = *voyage;
    struct refine_options moves = {.first_step_m = options->first_step_m,
                                   .last_step_m = options->last_step_m,
                                   .worth_frac = options->worth_frac,
                                   .bends = options->bends,
                                   .rounds = MOVE_ROUNDS};
    double elapsed_s;
    coarse.step_s *= options->coarse;
    refine_prune(voyage, track, start);
    refine_track(&coarse, track, start, &moves, arena);
    return track_cost(voyage, track, start, &elapsed_s);
}

void improve_track(const struct voyage *voyage, struct track *track,
                   const struct underway *start,
                   const struct improve_options *options, struct arena *arena) {
    double elapsed_s;
    double cost_s = track_cost(voyage, track, start, &elapsed_s);
    if (options->keeps_rig)
        cost_s = move_places(voyage, track, start, options, arena);
    else if (!options->rigged)
        cost_s = improve_rig(voyage, track, start, options->spacing_m, cost_s,
                             arena);
    for (int turn = 0; turn < options->turns; turn++) {
        struct track trial = track_copy(arena, track);
        double moved_s = move_places(voyage, &trial, start, options, arena);
        double rigged_s = improve_rig(voyage, &trial, start, options->spacing_m,
                                      moved_s, arena);
        if (rigged_s >= cost_s)
            break;
        *track = trial;
        cost_s = rigged_s;
        if (moved_s - rigged_s < LAST_GAIN_FRAC * cost_s)
            break;
    }
}
