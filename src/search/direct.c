/* The direct way from stop to stop, over open water. */
#include "search/search.h"

#include "earth/geodesic.h"
#include "search/sight.h"

/* Corners that the direct way may have from one stop to the next. */
enum { DIRECT_CORNERS = 400 };

size_t search_stop_count(const struct search_request *request) {
    return request->via_count + 1;
}

struct position search_stop_at(const struct search_request *request,
                               size_t index) {
    return index < request->via_count ? request->via[index] : request->to;
}

const struct waterway *const *search_ways(const struct voyage *voyage,
                                          const struct search_request *request,
                                          struct arena *arena, bool *open) {
    *open = true;
    if (!voyage->room_m)
        return NULL;
    const struct waterway **ways =
        arena_alloc(arena, search_stop_count(request), sizeof(void *));
    struct position from = request->from;
    for (size_t stop = 0; stop < search_stop_count(request); stop++) {
        struct position to = search_stop_at(request, stop);
        ways[stop] = waterway_make(voyage, from, to, arena);
        *open = *open && waterway_reaches(ways[stop]);
        from = to;
    }
    return ways;
}

/* The places at which the way from stop to stop turns, in `corners`. */
static size_t list_corners(const struct waterway *way, struct position from,
                           struct position to, struct position *corners) {
    size_t count = way ? waterway_path(way, from, corners, DIRECT_CORNERS) : 0;
    if (count == 0)
        count = 1;
    corners[count - 1] = to; /* also where there are more than have room */
    return count;
}

/* A track that is being made. */
struct draft {
    struct track track;
    size_t capacity;
    struct arena *arena;
};

static void add_vertex(struct draft *draft, struct vertex vertex) {
    struct track *track = &draft->track;
    track->vertices = arena_room(draft->arena, track->vertices, track->count,
                                 &draft->capacity, sizeof *track->vertices);
    track->vertices[track->count++] = vertex;
}

/* The geodesic to a place, without that place itself. */
static void add_geodesic(struct draft *draft, struct vertex from,
                         struct position to) {
    struct geodesic line = geodesic_between(from.at, to);
    int stretches = sight_stretches(&line);
    add_vertex(draft, from);
    for (int i = 1; i < stretches; i++)
        add_vertex(draft, (struct vertex){
                              .at = sight_place(from.at, &line, i, stretches)});
}

struct track search_direct_track(const struct search_request *request,
                                 struct arena *arena) {
    struct draft draft = {.arena = arena};
    struct position *corners =
        arena_alloc(arena, DIRECT_CORNERS, sizeof *corners);
    struct position from = request->from;
    for (size_t stop = 0; stop < search_stop_count(request); stop++) {
        const struct waterway *way = request->ways ? request->ways[stop] : NULL;
        size_t count =
            list_corners(way, from, search_stop_at(request, stop), corners);
        for (size_t i = 0; i < count; from = corners[i++])
            add_geodesic(&draft, (struct vertex){.at = from, .pinned = i == 0},
                         corners[i]);
    }
    add_vertex(&draft, (struct vertex){.at = request->to, .pinned = true});
    return draft.track;
}
