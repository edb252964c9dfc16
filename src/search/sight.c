#include "search/sight.h"

#include "earth/sphere.h"

static const double STRETCH_M = 60.0 * METRES_PER_NMI;

int sight_stretches(const struct geodesic *line) {
    return 1 + (int)(line->distance_m / STRETCH_M);
}

struct position sight_place(struct position from, const struct geodesic *line,
                            int index, int stretches) {
    if (index == 0)
        return from;
    return geodesic_ahead(from, line->course_start_deg,
                          line->distance_m * index / stretches);
}

static bool is_open(const struct voyage *voyage, struct position from,
                    struct position to) {
    return voyage->blocked(voyage->water, from, to, VOYAGE_FOR_GOOD,
                           VOYAGE_FOR_GOOD) == OBSTACLE_NONE;
}

bool sight_is_clear(const struct voyage *voyage, struct position from,
                    struct position to) {
    double about_m = sphere_distance_m(sphere_point(from), sphere_point(to));
    if (about_m < SPHERE_SAFE_FRAC * STRETCH_M) /* no need of the geodesic */
        return is_open(voyage, from, to);
    struct geodesic line = geodesic_between(from, to);
    int stretches = sight_stretches(&line);
    struct position last = from;
    for (int i = 1; i <= stretches; i++) {
        struct position next =
            i == stretches ? to : sight_place(from, &line, i, stretches);
        if (!is_open(voyage, last, next))
            return false;
        last = next;
    }
    return true;
}
