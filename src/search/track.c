#include "search/track.h"

#include "earth/rhumb.h"

#include <string.h>

/* Two vertices may be one place, where two things are done there. */
static const double SAME_PLACE_M = 0.01;

struct track track_copy(struct arena *arena, const struct track *track) {
    struct track copy = {.count = track->count};
    copy.vertices = arena_alloc(arena, track->count, sizeof *copy.vertices);
    memcpy(copy.vertices, track->vertices,
           track->count * sizeof *copy.vertices);
    return copy;
}

enum obstacle track_sail_stretch(const struct voyage *voyage,
                                 const struct track *track, size_t index,
                                 struct underway *boat,
                                 const struct sail_observer *observer) {
    const struct vertex *here = &track->vertices[index];
    struct position to = track->vertices[index + 1].at;
    struct rhumb line = rhumb_between(boat->at, to);
    if (line.distance_m <= SAME_PLACE_M)
        return OBSTACLE_NONE;
    enum obstacle obstacle =
        sail_change_deck(voyage, boat, line.course_deg, here->order, observer);
    if (obstacle != OBSTACLE_NONE)
        return obstacle;
    return sail_to(voyage, boat, to, observer);
}

enum obstacle track_sail(const struct voyage *voyage, const struct track *track,
                         struct underway *boat,
                         const struct sail_observer *observer) {
    for (size_t i = 0; i + 1 < track->count; i++) {
        enum obstacle obstacle =
            track_sail_stretch(voyage, track, i, boat, observer);
        if (obstacle != OBSTACLE_NONE)
            return obstacle;
    }
    return OBSTACLE_NONE;
}
