#include "search/lifted.h"

/* What bars for good alone: the same water without zones that open again. */
static enum obstacle blocked_for_good(const void *context, struct position from,
                                      struct position to, double start_s,
                                      double end_s) {
    (void)start_s, (void)end_s;
    const struct voyage *voyage = context;
    return voyage->blocked(voyage->water, from, to, VOYAGE_FOR_GOOD,
                           VOYAGE_FOR_GOOD);
}

bool lifted_voyage(const struct voyage *voyage, enum obstacle cause,
                   struct voyage *lifted) {
    *lifted = *voyage;
    if (cause == OBSTACLE_ZONE && voyage->blocked) {
        lifted->blocked = blocked_for_good;
        lifted->room_m = NULL;
        lifted->clear_m = NULL;
        lifted->water = voyage;
        return true;
    }
    struct figure *limit = cause == OBSTACLE_WIND   ? &lifted->max_wind_mps
                           : cause == OBSTACLE_GUST ? &lifted->max_gust_mps
                                                    : &lifted->max_wave_m;
    if (cause == OBSTACLE_ZONE || !limit->known)
        return false;
    *limit = figure_unknown();
    return true;
}
