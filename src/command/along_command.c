#include "command/command.h"

#include "command/messages.h"
#include "command/options.h"
#include "command/outputs.h"
#include "command/progress.h"
#include "command/session.h"
#include "exchange/clean.h"
#include "exchange/gpx.h"
#include "plan/passage.h"
#include "report/comparison.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* The line of a GPX file that is timed, and where it came from. */
struct chosen {
    const char *path;
    const struct gpx *gpx;
    const struct gpx_line *line;
    bool route;
};

static bool choose(struct chosen *chosen, const char *path,
                   const struct gpx *gpx, struct error *error) {
    bool route = gpx->route_count > 0;
    *chosen = (struct chosen){.path = path,
                              .gpx = gpx,
                              .line = route ? gpx->routes : gpx->tracks,
                              .route = route};
    if (chosen->line->count < 2)
        return error_set(error, STATUS_INPUT,
                         "'%s': the first %s has one point; a track needs two",
                         path, route ? "route" : "track");
    return true;
}

static void tell_choice(const struct chosen *chosen) {
    const struct gpx *gpx = chosen->gpx;
    if (gpx->route_count + gpx->track_count + gpx->waypoint_count > 1)
        message_note("timing the first %s of '%s' (routes %zu, tracks %zu, "
                     "waypoints %zu)",
                     chosen->route ? "route" : "track", chosen->path,
                     gpx->route_count, gpx->track_count, gpx->waypoint_count);
}

static const char *name_of(const struct chosen *chosen,
                           const struct request *request, struct arena *arena) {
    if (request->name)
        return request->name;
    if (chosen->line->name)
        return clean_name(arena, chosen->line->name);
    if (chosen->gpx->name)
        return clean_name(arena, chosen->gpx->name);
    const char *slash = strrchr(chosen->path, '/');
    return slash ? slash + 1 : chosen->path;
}

/* The track's own first time stands in for a departure that is not given, and
 * goes before it with --as-timed. */
static bool settle_departure(struct request *request,
                             const struct chosen *chosen, bool as_timed,
                             struct error *error) {
    const struct gpx_point *first = &chosen->line->points[0];
    if (request->depart_text && !as_timed)
        return true;
    if (!first->timed)
        return error_set(error, STATUS_INPUT,
                         "'%s': the first point has no time; give --depart%s",
                         chosen->path,
                         as_timed ? " and leave out --as-timed" : "");
    request->depart = first->time;
    request->depart_zone_given = !chosen->gpx->zone_missing;
    request->depart_by_clock = false;
    return true;
}

static void tell_unused(const struct command_line *line) {
    static const char *const unused[] = {
        "from", "to", "via", "route-points", "leg-loss", "previous"};
    for (size_t i = 0; i < line->setting_count; i++)
        for (size_t k = 0; k < sizeof unused / sizeof *unused; k++)
            if (strcmp(line->settings[i].name, unused[k]) == 0)
                message_note("'--%s' is not used: the track has its own places",
                             unused[k]);
}

static bool is_same(struct position a, struct position b) {
    return fabs(a.lat_deg - b.lat_deg) <= 0.0 &&
           fabs(a.lon_deg - b.lon_deg) <= 0.0;
}

/* The places of the line. A logged track stands still at times: a place twice
 * in a row is taken once. A route of ours is taken as it is. */
static size_t take_places(const struct gpx_line *line, bool all,
                          struct position *places) {
    size_t count = 0;
    for (size_t i = 0; i < line->count; i++) {
        struct position place = position_rounded(line->points[i].position, 7);
        if (all || count == 0 || !is_same(place, places[count - 1]))
            places[count++] = place;
    }
    return count;
}

static struct given_track track_of(const struct chosen *chosen,
                                   const struct request *request,
                                   struct arena *arena) {
    static const char ours[] = "sparwise";
    const char *creator = chosen->gpx->creator;
    bool own =
        chosen->route && creator && strncmp(creator, ours, strlen(ours)) == 0;
    struct position *places =
        arena_alloc(arena, chosen->line->count, sizeof *places);
    return (struct given_track){.name = name_of(chosen, request, arena),
                                .places = places,
                                .count = take_places(chosen->line, own, places),
                                .own_changes = own};
}

static bool is_under_way(const struct given_track *track, const char *path,
                         struct error *error) {
    if (track->count >= 2)
        return true;
    return error_set(error, STATUS_INPUT,
                     "'%s': all points are one place; a track needs two", path);
}

/* The passage is that of the track, whatever the passage file says. */
static void put_track(struct request *request,
                      const struct given_track *track) {
    request->name = track->name;
    request->from = track->places[0];
    request->to = track->places[track->count - 1];
    request->via_count = 0;
    request->track = track->places;
    request->track_count = track->count;
}

/* A track file: what it holds, and the request that it makes. */
struct given_file {
    struct gpx gpx;
    struct chosen chosen;
    struct request request;
    struct given_track track;
};

static bool take_file(struct given_file *file, const char *path,
                      const struct request *request, bool as_timed,
                      struct arena *arena, struct error *error) {
    file->request = *request;
    if (!gpx_load(&file->gpx, path, arena, error) ||
        !choose(&file->chosen, path, &file->gpx, error) ||
        !settle_departure(&file->request, &file->chosen, as_timed, error))
        return false;
    tell_choice(&file->chosen);
    file->track = track_of(&file->chosen, &file->request, arena);
    if (!is_under_way(&file->track, path, error))
        return false;
    put_track(&file->request, &file->track);
    return true;
}

static bool time_track(const struct world *world, const struct given_file *file,
                       struct arena *arena, struct plan **plan,
                       struct error *error) {
    progress_stage("timing the track");
    return plan_along(world, &file->request, &file->track, arena, plan, error);
}

/* Times the other track from the same departure. */
static bool time_other(const struct world *world, const struct plan *first,
                       const char *path, const struct request *request,
                       struct arena *arena, struct plan **second,
                       struct error *error) {
    struct given_file other;
    struct request from_then = *request;
    from_then.name = NULL;
    if (!take_file(&other, path, &from_then, false, arena, error))
        return false;
    other.request.depart = first->depart;
    return time_track(world, &other, arena, second, error);
}

bool command_along(const struct command_line *line, struct arena *arena,
                   struct error *error) {
    if (line->flags[FLAG_TEMPLATE]) {
        request_template(stdout);
        return true;
    }
    const char *path = line->operand_count > 1 ? line->operands[1] : NULL;
    const char *against = line->values[FLAG_AGAINST];
    struct request request;
    struct given_file given;
    struct plan *plan = NULL;
    if (!session_request(&request, path, line, arena, error) ||
        !take_file(&given, line->operands[0], &request,
                   line->flags[FLAG_AS_TIMED], arena, error))
        return false;
    tell_unused(line);
    if (request.out &&
        !outputs_check(request.out, line->flags[FLAG_FORCE], error))
        return false;
    /* the plan keeps pointing to the boat in it */
    struct world *world = arena_alloc(arena, 1, sizeof *world);
    progress_stage("reading the forecast");
    struct plan *second = NULL;
    bool good =
        world_load(world, &given.request, arena, error) &&
        time_track(world, &given, arena, &plan, error) &&
        (!against || line->flags[FLAG_JSON] ||
         time_other(world, plan, against, &request, arena, &second, error));
    progress_end();
    if (!good)
        return false;
    struct session_words words;
    session_begin(&words);
    good =
        session_compose(plan, line, &words, arena, error) &&
        (!second || comparison_write((struct compared){line->operands[0], plan},
                                     (struct compared){against, second},
                                     words.out.stream, error));
    return session_deliver(&words, good ? plan : NULL, request.out,
                           line->flags[FLAG_FORCE], error);
}
