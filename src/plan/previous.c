#include "plan/previous.h"

#include "base/units.h"
#include "earth/geodesic.h"

const struct previous_work *previous_next(const struct previous *previous,
                                          struct instant now) {
    for (size_t i = 0; i < previous->work_count; i++)
        if (previous->works[i].at.unix_s >= now.unix_s)
            return &previous->works[i];
    return NULL;
}

bool previous_spar(const struct previous *previous, struct instant now,
                   enum spar_place *spar) {
    for (size_t i = 0; i < previous->leg_count; i++) {
        const struct previous_leg *leg = &previous->legs[i];
        if (now.unix_s < leg->start.unix_s || now.unix_s >= leg->end.unix_s)
            continue;
        *spar = leg->spar;
        return true;
    }
    return false;
}

bool previous_check(const struct previous *previous, struct position to,
                    struct error *error) {
    double apart_m = geodesic_between(previous->to, to).distance_m;
    char at[POSITION_TEXT_SIZE];
    if (apart_m <= PREVIOUS_FINISH_M)
        return true;
    position_print(previous->to, at);
    return error_set(error, STATUS_INPUT,
                     "'%s' is a plan of another passage: it ends at %s, %.0f "
                     "nmi from the finish; give the plan that is being sailed, "
                     "or leave out --previous",
                     previous->path, at, m_to_nmi(apart_m));
}
