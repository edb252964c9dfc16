#include "plan/passage.h"

#include "base/text.h"
#include "base/units.h"
#include "earth/geodesic.h"
#include "plan/arrival.h"
#include "plan/barred.h"
#include "plan/berth.h"
#include "plan/broken.h"
#include "plan/charted.h"
#include "plan/closed.h"
#include "plan/course.h"
#include "plan/engine.h"
#include "plan/fallback.h"
#include "plan/gybes.h"
#include "plan/hazards.h"
#include "plan/keeping.h"
#include "plan/legs.h"
#include "plan/margins.h"
#include "plan/moving.h"
#include "plan/orders.h"
#include "plan/paying.h"
#include "plan/preflight.h"
#include "plan/reach.h"
#include "plan/reasons.h"
#include "plan/retime.h"
#include "plan/signs.h"
#include "plan/trust.h"
#include "plan/warnings.h"
#include "plan/ways.h"
#include "plan/weather.h"

#include <math.h>

/* A search keeps so much more off the land: places are rounded, and printed to
 * a hundredth of a minute, and what is told has to hold for them. */
static const double ROUNDING_M = 15.0;

/* Everything that both ways of planning share. */
struct story {
    const struct world *world;
    const struct request *request;
    struct arena *arena;
    struct weather_view weather;
    struct water water;
    struct berth from, to; /* where the way begins and ends in the sea */
    struct arrival_light light;
    struct voyage voyage;
    struct underway start;
    struct plan *plan;
};

/* As the choices of the request are numbered. */
static const enum work_rule work_rules[] = {WORK_ANY, WORK_DAYLIGHT_FIRST,
                                            WORK_DAYLIGHT_ONLY};

static void begin(struct story *story, const struct world *world,
                  const struct request *request, struct arena *arena) {
    *story = (struct story){
        .world = world,
        .request = request,
        .arena = arena,
        .weather = weather_view(world, request),
        .from = {.at = request->from},
        .to = {.at = request->to},
        .plan = arena_alloc(arena, 1, sizeof *story->plan),
    };
    story->water = (struct water){
        .coast = world->coast,
        .mask = world->mask,
        .box = world->coast_box,
        .zones = world->zones,
        .clearance_m = request->clearance_m,
        .approach_m = request->approach_m,
        .start = request->from,
        .finish = request->to,
        .depart_unix_s = (double)request->depart.unix_s,
    };
    water_prepare(&story->water, arena);
    bool bars = world->coast || world->zones.count > 0;
    story->voyage = (struct voyage){
        .boat = &world->boat,
        .work_rule = work_rules[request->deck_work],
        .ease = request->ease,
        .motoring = engine_of(&world->boat),
        .spar_allowed = true,
        .max_wind_mps = request->max_wind_mps,
        .max_gust_mps = request->max_gust_mps,
        .max_wave_m = request->max_wave_m,
        .finish = request->to,
        .starts_near_finish =
            geodesic_between(request->from, request->to).distance_m <
            world->boat.spar.landfall_m,
        .step_s = VOYAGE_STEP_S,
        .max_current_mps = world->max_current_mps,
        .grain = world->grain,
        .conditions = weather_conditions,
        .light = weather_light,
        .weather = &story->weather,
        .clear_m = bars ? water_clear_m : NULL,
        .water = &story->water,
    };
    story->light = (struct arrival_light){request->to, request->depart};
    if (request->arrive == ARRIVE_DAYLIGHT) {
        story->voyage.arrival_wait_s = arrival_wait_s;
        story->voyage.arrival = &story->light;
    }
    story->start = sail_start(request->from, request->start);
}

/* No room for more places in a searched route is none in what is added; a given
 * track has what it has. */
static struct pacing_options pacing_of(const struct story *story) {
    const struct request *request = story->request;
    return (struct pacing_options){
        .circle_m =
            fmax(request->approach_m, story->world->boat.spar.landfall_m),
        .most_points =
            story->plan->timed_only ? SIZE_MAX : (size_t)request->route_points};
}

/* Land and zones bar the way; a start or finish on land is brought to the sea.
 */
static bool keep_to_water(struct story *story, struct error *error) {
    const struct request *request = story->request;
    struct water *water = &story->water;
    struct voyage *voyage = &story->voyage;
    if (!berth_find(&story->from, water, "from", request->from, error) ||
        !berth_find(&story->to, water, "to", request->to, error))
        return false;
    water->start = story->from.at;
    water->finish = voyage->finish = story->to.at;
    story->start = sail_start(water->start, request->start);
    if (water->coast || water->zones.count > 0) {
        voyage->blocked = water_blocked;
        voyage->room_m = water_room_m;
    }
    water->rounding_m = ROUNDING_M;
    return berth_check_stops(water, request->via, request->via_count, error);
}

static bool find_ports(struct story *story, struct error *error) {
    return fallback_find(story->plan, story->request, &story->water,
                         story->arena, error);
}

static void put_coast(struct story *story) {
    const struct coast *coast = story->world->coast;
    struct plan_coast *told = &story->plan->coast;
    *told = (struct plan_coast){.clearance_m = story->request->clearance_m,
                                .approach_m = story->water.approach_m,
                                .start_moved_m = story->from.moved_m,
                                .finish_moved_m = story->to.moved_m};
    told->switched_off = text_same(story->request->coast_text, "none");
    if (!coast)
        return;
    told->name = coast_name(coast);
    told->coarse =
        coast_resolution(coast) == 'l' || coast_resolution(coast) == 'c';
}

static void put_head(struct story *story) {
    const struct request *request = story->request;
    const struct forecast *forecast = story->world->forecast;
    struct field_summary wind = forecast_summary(forecast, QUANTITY_WIND);
    struct plan *plan = story->plan;
    plan->version = SPARWISE_VERSION;
    plan->name = request->name;
    plan->boat = &story->world->boat;
    plan->boat_name = plan->boat->name;
    plan->from = request->from;
    plan->to = request->to;
    plan->depart = request->depart;
    plan->start = request->start;
    plan->forecast_run = forecast_run(forecast);
    plan->forecast_start = wind.first;
    plan->forecast_end = wind.last;
    plan->good_until = trust_ends(plan, TRUST_GOOD_S);
    plan->fair_until = trust_ends(plan, TRUST_FAIR_S);
    plan->ease = request->ease;
    plan->arrive_by_day = request->arrive == ARRIVE_DAYLIGHT;
    plan->daylight_only = story->voyage.work_rule == WORK_DAYLIGHT_ONLY;
    plan->max_wind_mps = request->max_wind_mps;
    plan->max_gust_mps = request->max_gust_mps;
    plan->display =
        (struct plan_display){.zone_s = hours_to_s(request->zone_hours),
                              .magnetic = request->magnetic != 0,
                              .points_only = request->points_only != 0,
                              .ascii = request->ascii != 0,
                              .name_length = (size_t)request->name_length};
    plan->summary.great_circle_m = reach_great_circle_m(request);
    put_coast(story);
}

static void put_zones(struct story *story) {
    const struct request *request = story->request;
    size_t count = 0;
    struct position *places =
        arena_alloc(story->arena, request->via_count + 2, sizeof *places);
    places[count++] = story->from.at;
    for (size_t i = 0; i < request->via_count; i++)
        places[count++] = request->via[i];
    places[count++] = story->to.at;
    hazards_find_zones(story->plan, &story->water,
                       (struct stops){places, count}, story->arena);
}

static void put_crew(struct story *story) {
    const struct request *request = story->request;
    struct crew *crew = &story->plan->crew;
    double zone_s = hours_to_s(request->zone_hours);
    *crew = (struct crew){
        .count = request->crew_count,
        .watch_s = request->watch_s.value,
        .first =
            crew_first_watch(request->depart, zone_s, request->watch_start_s),
    };
    for (int i = 0; i < crew->count; i++)
        crew->names[i] = request->crew[i];
}

/* What is told beside the legs: rest, arrival, what if. */
static void put_rest(struct story *story, const struct track *course) {
    struct plan *plan = story->plan;
    struct underway boat = track_start(&story->voyage, course, &story->start);
    put_crew(story);
    crew_give_rest(plan, &story->voyage, course, &boat);
    arrival_give(plan);
    broken_give(plan, &story->voyage);
    fallback_give(plan, &story->voyage, &story->water, story->arena);
}

/* Where the crew would rather have its deck work, on a passage so long. */
static struct moving wish_of(const struct request *request, double elapsed_s) {
    struct instant watch =
        crew_first_watch(request->depart, hours_to_s(request->zone_hours),
                         request->watch_start_s);
    return (struct moving){
        .margin_s = margins_cost_s(request->margin_s, elapsed_s),
        .watch_s = request->watch_s,
        .first_watch_s = instant_minus(watch, request->depart),
        .most_points = (size_t)request->route_points};
}

/* A course that reaches the finish, at the pace that brings her there by day
 * where that is wanted, and with its deck work moved to where the crew would
 * rather have it. */
static struct moved_course move_work(const struct story *story,
                                     const struct track *course) {
    double elapsed_s;
    struct pacing_options pacing = pacing_of(story);
    struct track paced = pacing_course(&story->voyage, course, &story->start,
                                       &pacing, story->arena);
    track_cost(&story->voyage, &paced, &story->start, &elapsed_s);
    struct moving wish = wish_of(story->request, elapsed_s);
    struct voyage held = story->voyage;
    held.gybes_kept = gybes_are_kept(&story->voyage, &paced, &story->start);
    struct moved_course moved =
        moving_course(&held, &paced, &story->start, &wish, story->arena);
    if (moved.list.count > 0)
        moved.track = pacing_course(&story->voyage, &moved.track, &story->start,
                                    &pacing, story->arena);
    return moved;
}

/* The engine as the course is sailed in the end; `along` finds the same. */
static void hold_to_fuel(struct story *story, const struct track *course) {
    struct voyage held = story->voyage;
    double elapsed_s;
    held.motoring = engine_of(held.boat);
    if (isfinite(engine_fit(&held, course, &story->start, &elapsed_s)))
        story->voyage.motoring = held.motoring;
}

/* Sails the course once more and writes the plan. `reaches`: the course ends
 * at the finish, not where the forecast does. */
static void write_down(struct story *story, const struct track *given,
                       bool reaches) {
    struct plan *plan = story->plan;
    enum obstacle obstacle;
    struct moved_course moved = {.track = *given};
    if (reaches) {
        moved = move_work(story, given);
        hold_to_fuel(story, &moved.track);
    }
    const struct track *course = &moved.track;
    struct underway boat = track_start(&story->voyage, course, &story->start);
    struct resail resail =
        resail_course(&story->voyage, course, &boat, story->arena);
    put_head(story);
    legs_sail(&story->voyage, course, &boat, story->arena, plan, &obstacle);
    plan->summary.arrive = instant_plus(plan->depart, boat.t_s);
    plan->summary.reached = reaches && obstacle == OBSTACLE_NONE;
    margins_find(&resail, margins_cost_s(story->request->margin_s, boat.t_s),
                 fmax(0.0, moved.list.spent_s), plan);
    reasons_give(plan, story->arena);
    moving_tell(&moved.list, plan, story->arena);
    signs_give(plan, &moved.list);
    put_rest(story, course);
    put_zones(story);
    plan->sailed = retime_keep(&story->voyage, &story->water, &story->start,
                               course, story->arena);
    struct warned warned = {story->world, story->request, &story->water};
    warnings_give(plan, &warned, story->arena);
    charted_fill(plan,
                 &(struct charting){story->world, story->request,
                                    &story->voyage, &story->water},
                 story->arena);
}

/* --- plan ----------------------------------------------------------------- */

/* `*open`: false where no search can find a way. */
static struct search_request request_of(const struct story *story, bool *open) {
    const struct request *request = story->request;
    struct search_request asked = {.from = story->from.at,
                                   .via = request->via,
                                   .via_count = request->via_count,
                                   .to = story->to.at,
                                   .start = request->start};
    *open = true;
    asked.ways = story->world->ways;
    if (!asked.ways)
        asked.ways = search_ways(&story->voyage, &asked, story->arena, open);
    return asked;
}

static void find_ways(const struct story *story,
                      const struct search_request *asked,
                      const struct plan_progress *progress, struct way *with,
                      struct way *without) {
    const struct request *request = story->request;
    struct ways_ask ask = {
        .voyage = &story->voyage,
        .start = &story->start,
        .asked = asked,
        .cut = {.leg_loss_frac = request->leg_loss_frac,
                .most_points = (size_t)request->route_points},
        .pacing = pacing_of(story),
        .arena = story->arena};
    if (progress)
        ask.told = (struct search_progress){.report = progress->report,
                                            .context = progress->context};
    ways_find(&ask, with, without);
    story->plan->fewer = ways_fewer(&ask, with, without);
    story->plan->summary.kept_gybes_s = ways_kept_gybes_s(&ask, with, without);
}

/* A larger area than that of the passage, by this and by its own length. */
static const double MORE_ROOM_DEG = 10.0;

static bool closed_for_good(const struct story *story,
                            const struct search_request *asked,
                            struct error *error) {
    char ask[PREFLIGHT_ASK_SIZE];
    double room_deg =
        reach_great_circle_m(story->request) / (60.0 * METRES_PER_NMI);
    preflight_ask(story->world, story->request, fmax(room_deg, MORE_ROOM_DEG),
                  ask);
    return closed_tell(&story->voyage, asked, ask, story->arena, error);
}

/* Sailed as far as the forecast goes, not up to one of the crew's limits. */
static bool is_cut_short(const struct search_result *found) {
    return found->sailed && found->cause != OBSTACLE_WIND &&
           found->cause != OBSTACLE_GUST && found->cause != OBSTACLE_WAVE;
}

static void put_isochrones(struct plan *plan, const struct search_result *found,
                           struct arena *arena) {
    plan->isochrone_count = found->isochrone_count;
    plan->isochrones = arena_alloc(arena, found->isochrone_count + 1,
                                   sizeof *plan->isochrones);
    for (size_t i = 0; i < found->isochrone_count; i++)
        plan->isochrones[i] = (struct plan_isochrone){
            .at = instant_plus(plan->depart, found->isochrones[i].t_s),
            .points = found->isochrones[i].points,
            .count = found->isochrones[i].count};
}

static void put_search(struct plan *plan, const struct search_result *found) {
    plan->search =
        (struct plan_search){.labels = found->labels,
                             .runs = found->expansions,
                             .front_cost_s = found->cost_s + found->refined_s,
                             .refined_cost_s = found->cost_s};
}

static void compare(struct plan *plan, const struct way *without) {
    if (isinf(without->cost_s))
        return;
    plan->summary.elapsed_without_spar_s = figure_of(without->elapsed_s);
    plan->summary.cost_without_spar_s = figure_of(without->cost_s);
}

/* An earlier plan stands beside this one. */
static void set_against(const struct story *story) {
    const struct request *request = story->request;
    struct plan *plan = story->plan;
    if (!request->previous)
        return;
    struct moving wish = wish_of(request, plan->summary.elapsed_s);
    keeping_give(plan, &story->voyage, &story->start, &wish, request->previous,
                 story->arena);
}

/* Orders make no gybe beyond the work limits where the track asks for none. */
static enum obstacle give_orders(const struct story *story, bool own_changes,
                                 struct track *track) {
    struct voyage held = story->voyage;
    held.gybes_kept =
        gybes_can_be_kept(&story->voyage, track, &story->start, story->arena);
    struct orders_options options = {.own_changes = own_changes,
                                     .pacing = pacing_of(story)};
    return orders_give(&held, track, &story->start, &options, story->arena);
}

/* As it would be rigged where it is timed again: on a course that was found
 * without the spar it may still pay, and one found in a hurry or with too
 * little fuel is judged anew. */
static void rig_again(struct story *story, struct track *course) {
    struct track rigged = *course;
    struct motoring found = story->voyage.motoring;
    story->voyage.motoring = engine_of(&story->world->boat);
    if (give_orders(story, true, &rigged) == OBSTACLE_NONE)
        *course = rigged;
    story->voyage.motoring = found;
    hold_to_fuel(story, course);
}

/* What was found has to be sailed to its end once more, as it is written. */
static bool check_written(const struct plan *plan, const struct way *best,
                          struct error *error) {
    return !best->found.reached || plan->summary.reached ||
           error_set(error, STATUS_BUG,
                     "the route that was found can't be sailed as it would be "
                     "written; nothing is written: report this passage");
}

/* A schedule of no miles, for the moment of the departure. */
static void stay_here(struct story *story) {
    struct vertex ends[] = {{.at = story->from.at, .pinned = true},
                            {.at = story->from.at, .pinned = true}};
    struct track course = {.vertices = ends, .count = 2};
    course = track_copy(story->arena, &course);
    write_down(story, &course, true);
}

bool plan_passage(const struct world *world, const struct request *request,
                  const struct plan_progress *progress, struct arena *arena,
                  struct plan **plan, struct error *error) {
    struct story story;
    struct way with = {.cost_s = HUGE_VAL}, without = {.cost_s = HUGE_VAL};
    bool open;
    if (!preflight_check(world, request, error))
        return false;
    begin(&story, world, request, arena);
    if (!keep_to_water(&story, error) ||
        !preflight_way(request, story.from.at, story.to.at, error) ||
        !find_ports(&story, error))
        return false;
    if (preflight_stays(request)) {
        stay_here(&story);
        *plan = story.plan;
        return true;
    }
    struct search_request asked = request_of(&story, &open);
    if (!open)
        return closed_for_good(&story, &asked, error);
    find_ways(&story, &asked, progress, &with, &without);
    bool spar_pays = !ways_is_better(&story.voyage, &without, &with);
    const struct way *best = spar_pays ? &with : &without;
    bool known = best->found.reached ||
                 (request->after == AFTER_STOP && is_cut_short(&best->found));
    if (known) {
        struct track course = best->course;
        story.voyage.motoring = best->motoring;
        if (!spar_pays || best->rationed || story.voyage.arrival_wait_s)
            rig_again(&story, &course);
        write_down(&story, &course, best->found.reached);
        put_isochrones(story.plan, &with.found, arena);
        put_search(story.plan, &best->found);
        compare(story.plan, &without);
        gybes_check_told(story.plan);
        set_against(&story);
        *plan = story.plan;
        return check_written(story.plan, best, error) &&
               barred_check(story.plan, error);
    }
    return closed_by(&story.voyage, &asked, with.found.cause, arena, error);
}

/* --- many ----------------------------------------------------------------- */

/* A zone that closes for good at a time of its own bars some departures for
 * good and others not. */
static bool is_timeless(const struct zones *zones) {
    for (size_t i = 0; i < zones->count; i++)
        if (zones->items[i].from_known && !zones->items[i].until_known)
            return false;
    return true;
}

void plan_prepare(struct world *world, const struct request *request,
                  struct arena *arena) {
    struct story *story = arena_alloc(arena, 1, sizeof *story);
    struct error error;
    bool open;
    if (!is_timeless(&world->zones))
        return;
    begin(story, world, request, arena);
    if (preflight_stays(request) || !keep_to_water(story, &error) ||
        !preflight_way(request, story->from.at, story->to.at, &error))
        return;
    struct search_request asked = request_of(story, &open);
    if (open)
        world->ways = asked.ways;
}

/* --- along ---------------------------------------------------------------- */

static struct track track_given(const struct story *story,
                                const struct given_track *given) {
    struct track track = {.count = given->count};
    track.vertices =
        arena_alloc(story->arena, given->count, sizeof *track.vertices);
    for (size_t i = 0; i < given->count; i++)
        track.vertices[i] =
            (struct vertex){.at = given->places[i], .pinned = true};
    return track;
}

/* Sails stretch by stretch up to the first that can't be; its index. */
static size_t first_unsailed(const struct story *story,
                             const struct track *track, enum obstacle *why) {
    struct underway boat = track_start(&story->voyage, track, &story->start);
    for (size_t i = 0; i + 1 < track->count; i++) {
        *why = track_sail_stretch(&story->voyage, track, i, &boat, NULL);
        if (*why == OBSTACLE_NONE && boat.crept_s > 0.0)
            *why = OBSTACLE_NO_SPEED;
        if (*why != OBSTACLE_NONE)
            return i;
    }
    return track->count;
}

static bool not_sailed(const struct track *track, size_t index,
                       enum obstacle why, struct error *error) {
    bool outside = why == OBSTACLE_AREA || why == OBSTACLE_HORIZON;
    char at[POSITION_TEXT_SIZE];
    position_print(track->vertices[index].at, at);
    return error_set(error, outside ? STATUS_OUTSIDE : STATUS_NO_ROUTE,
                     "the leg from %s can't be sailed: stopped by %s; move "
                     "its ends or depart at another time",
                     at, obstacle_name(why));
}

static bool not_fuelled(const struct boat *boat, struct error *error) {
    return error_set(error, STATUS_NO_ROUTE,
                     "the track can't be sailed: %s, %.0f litres without the "
                     "reserve; move its points or depart at another time",
                     obstacle_name(OBSTACLE_FUEL), engine_usable_litres(boat));
}

bool plan_along(const struct world *world, const struct request *request,
                const struct given_track *given, struct arena *arena,
                struct plan **plan, struct error *error) {
    struct story story;
    if (!preflight_track(given->name, given->places, given->count, error) ||
        !preflight_check(world, request, error))
        return false;
    begin(&story, world, request, arena);
    struct voyage *voyage = &story.voyage;
    voyage->max_wind_mps = voyage->max_gust_mps = voyage->max_wave_m =
        figure_unknown();
    if (!find_ports(&story, error))
        return false;
    story.plan->timed_only = true;
    struct track course = track_given(&story, given);
    enum obstacle why,
        unrigged = give_orders(&story, given->own_changes, &course);
    size_t unsailed = first_unsailed(&story, &course, &why);
    if (unsailed < course.count)
        return not_sailed(&course, unsailed, why, error);
    double elapsed_s;
    if (isinf(engine_fit(voyage, &course, &story.start, &elapsed_s)))
        return not_fuelled(&world->boat, error);
    if (unrigged != OBSTACLE_NONE)
        story.plan->unrigged = obstacle_name(unrigged);
    write_down(&story, &course, true);
    paying_give(story.plan, voyage, request->start, arena);
    *plan = story.plan;
    return true;
}
