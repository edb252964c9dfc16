#include "plan/window.h"

#include "plan/spread.h"

#include <math.h>
#include <stdio.h>

/* Part of a step by which the last departure may be missed. */
static const double SAME_STEP = 1e-9;

/* The first departure, which may be told by either key. */
static bool settle_first(struct request *request, struct arena *arena,
                         struct error *error) {
    if (request->earliest_text) {
        request->depart_text = request->earliest_text;
        request->depart = request->earliest;
        request->depart_zone_given = request->earliest_zone_given;
        request->depart_by_clock = false;
    }
    return request->depart_text != NULL ||
           request_missing(request, "earliest", arena, error);
}

bool window_count(struct request *request, size_t *count, struct arena *arena,
                  struct error *error) {
    if (!settle_first(request, arena, error))
        return false;
    if (!request->latest_text)
        return request_missing(request, "latest", arena, error);
    double span_s = instant_minus(request->latest, request->depart);
    if (span_s < 0.0)
        return error_set(error, STATUS_INPUT,
                         "the latest departure, '%s', is before the earliest, "
                         "'%s'; give a later one",
                         request->latest_text, request->depart_text);
    double steps = floor(span_s / request->every_s + SAME_STEP);
    if (steps >= WINDOW_DEPARTURES)
        return error_set(error, STATUS_INPUT,
                         "the window has %.0f departures, and %d is the most; "
                         "give a longer 'every', or take it in parts",
                         steps + 1.0, WINDOW_DEPARTURES);
    *count = (size_t)steps + 1;
    return true;
}

/* No row tells ports to run to, which take a search each. */
static struct request *requests_of(const struct request *request, size_t count,
                                   struct arena *arena) {
    struct request *requests = arena_alloc(arena, count, sizeof *requests);
    for (size_t i = 0; i < count; i++) {
        requests[i] = *request;
        requests[i].depart =
            instant_plus(request->depart, (double)i * request->every_s);
        requests[i].port_count = 0;
    }
    return requests;
}

static double cost_s(const struct window *window, size_t rank) {
    return window->rows[window->ranked[rank]].plan.summary.cost_s;
}

void window_rank(struct window *window, struct arena *arena) {
    window->ranked = arena_alloc(arena, window->count, sizeof *window->ranked);
    window->ranked_count = 0;
    for (size_t i = 0; i < window->count; i++) {
        const struct many_row *row = &window->rows[i];
        if (!row->planned || !row->plan.summary.reached)
            continue;
        size_t place = window->ranked_count++;
        for (;
             place > 0 && cost_s(window, place - 1) > row->plan.summary.cost_s;
             place--)
            window->ranked[place] = window->ranked[place - 1];
        window->ranked[place] = i;
    }
}

struct window *window_plan(const struct world *world,
                           const struct request *request, size_t count,
                           const struct plan_progress *progress,
                           struct arena *arena) {
    struct window *window = arena_alloc(arena, 1, sizeof *window);
    *window =
        (struct window){.request = request,
                        .rows = arena_alloc(arena, count, sizeof *window->rows),
                        .count = count};
    struct many many = {.world = world,
                        .requests = requests_of(request, count, arena),
                        .count = count,
                        .progress = progress};
    many.members = spread_worlds(world, request, &many.member_count, arena);
    many_plan(&many, window->rows);
    window_rank(window, arena);
    return window;
}

bool window_check(const struct window *window, struct error *error) {
    for (size_t i = 0; i < window->count; i++)
        if (window->rows[i].planned)
            return true;
    *error = window->rows[0].error;
    if (window->count > 1)
        error_at(error, "none of %zu departures can be planned; the first",
                 window->count);
    return false;
}
