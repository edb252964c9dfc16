#include "report/route_gpx.h"

#include "base/units.h"
#include "exchange/gpx.h"
#include "report/compass.h"
#include "report/due.h"
#include "report/spare.h"
#include "report/waypoint.h"
#include "report/words.h"

#include <string.h>

static const char caution[] =
    "A plan is advice: the skipper decides. Charts, notices and weather come "
    "first. Not for navigation.";

/* "steer 262 deg true, spar starboard, wing-and-wing, wind on the port
 * side". */
static char *steering(struct arena *arena, const struct plan *plan,
                      const struct plan_leg *leg) {
    return arena_print(arena, "steer %s, %s, wind on the %s side",
                       compass_steer(arena, plan, leg),
                       words_rig_short(leg->deck),
                       words_side(leg->deck.wind_starboard));
}

static char *order(struct arena *arena, const struct plan *plan,
                   const struct plan_change *change) {
    char *text = arena_print(arena, "%s, wind on the %s side, %.0f kn",
                             words_order(arena, change->kind, change->to),
                             words_side(change->to.wind_starboard),
                             mps_to_kn(change->tws_mps));
    if (!change->outside_limits)
        return text;
    const char *dark = due_dark(plan, change);
    if (dark && !due_is_too_rough(plan, change))
        return arena_print(arena, "%s, %s", text, dark);
    return arena_print(arena, "%s, outside the work limits", text);
}

/* All that is done from the cockpit where a leg starts: "roll the headsail
 * away; ". */
static const char *cockpit_orders(struct arena *arena, const struct plan *plan,
                                  const struct waypoint *point) {
    const char *text = "";
    for (size_t i = 0; i < plan->change_count; i++) {
        const struct plan_change *change = &plan->changes[i];
        if (change->deck_work || change->at.unix_s != point->at.unix_s)
            continue;
        text = arena_print(arena, "%s%s; ", text,
                           words_order(arena, change->kind, change->to));
    }
    return text;
}

static const char *description(struct arena *arena, const struct plan *plan,
                               const struct waypoint *point) {
    if (!point->leg)
        return plan->summary.reached ? "finish"
                                     : "the forecast ends here, not the way";
    if (!point->starts_leg)
        return order(arena, plan, point->work);
    const char *cockpit = cockpit_orders(arena, plan, point);
    const char *steer =
        arena_print(arena, "%s%s", spare_of_leg(arena, point->leg),
                    steering(arena, plan, point->leg));
    if (!point->work)
        return arena_print(arena, "%s%s", cockpit, steer);
    const char *work = order(arena, plan, point->work);
    if (point->work->at.unix_s > point->at.unix_s)
        return arena_print(arena, "%sthen %s; %s", cockpit, work, steer);
    return arena_print(arena, "%s; %sthen %s", work, cockpit, steer);
}

static const char *type_of(const struct waypoints *points, size_t index) {
    const struct waypoint *point = &points->items[index];
    if (point->work)
        return words_change(point->work->kind);
    if (index == 0)
        return "start";
    return point->leg ? "leg" : "finish";
}

/* As the plan's display wants it for the plotter. */
static const char *shown(struct arena *arena, const struct plan *plan,
                         const char *text) {
    return plan->display.ascii && text ? words_ascii(arena, text) : text;
}

/* The name of the passage, cut before a letter that does not fit whole. */
static const char *passage_name(struct arena *arena, const struct plan *plan) {
    const char *name = shown(arena, plan, plan->name);
    size_t limit = plan->display.name_length;
    if (limit == 0 || strlen(name) <= limit)
        return name;
    while (limit > 0 && ((unsigned char)name[limit] & 0xC0) == 0x80)
        limit--;
    return arena_print(arena, "%.*s", (int)limit, name);
}

static struct gpx_line route_of(struct arena *arena, const struct plan *plan) {
    struct waypoints points = waypoints_of(plan, arena);
    struct gpx_line route = {.name = passage_name(arena, plan),
                             .description = caution,
                             .count = points.count};
    route.points = arena_alloc(arena, points.count, sizeof *route.points);
    for (size_t i = 0; i < points.count; i++) {
        const struct waypoint *point = &points.items[i];
        route.points[i] = (struct gpx_point){
            .position = point->position,
            .timed = true,
            .time = point->at,
            .variation_deg =
                compass_variation(plan, point->position, point->at),
            .name = point->name,
            .description = shown(arena, plan, description(arena, plan, point)),
            .symbol = point->work ? "Flag" : "Waypoint",
            .type = type_of(&points, i)};
    }
    return route;
}

static struct gpx_line track_of(struct arena *arena, const struct plan *plan) {
    struct gpx_line track = {.name = passage_name(arena, plan),
                             .count = plan->track_count};
    track.points = arena_alloc(arena, plan->track_count, sizeof *track.points);
    for (size_t i = 0; i < plan->track_count; i++)
        track.points[i] =
            (struct gpx_point){.position = plan->track[i].position,
                               .timed = true,
                               .time = plan->track[i].at};
    return track;
}

bool route_gpx_write(const struct plan *plan, FILE *stream,
                     struct error *error) {
    struct arena arena;
    arena_init(&arena);
    struct gpx_line route = route_of(&arena, plan);
    struct gpx_line track = track_of(&arena, plan);
    struct gpx gpx = {
        .creator = arena_print(&arena, "sparwise %s", plan->version),
        .name = passage_name(&arena, plan),
        .description = caution,
        .routes = &route,
        .route_count = 1,
        .tracks = &track,
        .track_count = plan->track_count > 0 && !plan->display.points_only};
    bool written = gpx_write(&gpx, stream, error);
    arena_free(&arena);
    return written;
}
