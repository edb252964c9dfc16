#include "plan/marks.h"

const char *mark_time(struct arena *arena, struct instant at) {
    return arena_print(arena, "%c%c%lld%c", MARK_SIGN, MARK_TIME,
                       (long long)at.unix_s, MARK_SIGN);
}

const char *mark_leg(struct arena *arena, size_t leg) {
    return arena_print(arena, "%c%c%zu%c", MARK_SIGN, MARK_LEG, leg, MARK_SIGN);
}
