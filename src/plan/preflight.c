#include "plan/preflight.h"

#include "base/units.h"
#include "earth/angle.h"
#include "earth/geodesic.h"
#include "earth/variation.h"
#include "plan/ask.h"
#include "plan/mistaken.h"
#include "plan/reach.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* A slow boat's speed made good, for the hours to ask for. */
static const double SLOW_FRAC = 0.4;

static int whole(double degrees) {
    return abs((int)degrees);
}

void preflight_ask(const struct world *world, const struct request *request,
                   double room_deg, char text[PREFLIGHT_ASK_SIZE]) {
    struct ask_area area = ask_area(request, room_deg);
    double top_mps = polar_top_speed(&world->boat.stowed);
    double hours = s_to_hours(ask_way_m(request) / (SLOW_FRAC * top_mps));
    char start[INSTANT_TEXT_SIZE];
    instant_print(request->depart, start);
    double east_deg = angle_wrap_longitude(area.east_deg);
    snprintf(text, PREFLIGHT_ASK_SIZE,
             "ask for %d%c to %d%c, %d%c to %d%c, from %s for %.0f h",
             whole(area.south_deg), area.south_deg < 0.0 ? 'S' : 'N',
             whole(area.north_deg), area.north_deg < 0.0 ? 'S' : 'N',
             whole(area.west_deg), area.west_deg < 0.0 ? 'W' : 'E',
             whole(east_deg), east_deg < 0.0 ? 'W' : 'E', start,
             ceil(hours / 6.0) * 6.0);
}

/* `what`, and what to do: its end is "; " or ", or ", before "ask for ...". */
static bool outside(const struct world *world, const struct request *request,
                    const char *what, struct error *error) {
    char ask[PREFLIGHT_ASK_SIZE];
    preflight_ask(world, request, PREFLIGHT_ROOM_DEG, ask);
    return error_set(error, STATUS_OUTSIDE, "%s%s", what, ask);
}

static bool check_time(const struct world *world, const struct request *request,
                       struct arena *arena, struct error *error) {
    struct field_summary wind =
        forecast_summary(world->forecast, QUANTITY_WIND);
    bool early = request->depart.unix_s < wind.first.unix_s;
    if (!early && request->depart.unix_s < wind.last.unix_s)
        return true;
    char depart[INSTANT_TEXT_SIZE], step[INSTANT_TEXT_SIZE];
    instant_print(request->depart, depart);
    instant_print(early ? wind.first : wind.last, step);
    const char *what =
        arena_print(arena, "the departure %s is %s step of the wind, %s%s",
                    depart, early ? "before the first" : "not before the last",
                    step, mistaken_departure(world, request, arena));
    return outside(world, request, what, error);
}

/* A place of the passage and what it is called. */
struct stop {
    const char *name;
    struct position at;
};

static bool check_place(const struct world *world,
                        const struct request *request, struct stop stop,
                        struct arena *arena, struct error *error) {
    struct weather weather;
    enum coverage coverage = forecast_at(
        world->forecast, stop.at, (double)request->depart.unix_s, &weather);
    if (coverage == COVERAGE_INSIDE)
        return true;
    if (coverage == COVERAGE_HOLE)
        return outside(world, request,
                       "the departure lies in a hole in time of the forecast, "
                       "longer than forecast_gap_hours; ",
                       error);
    char at[POSITION_TEXT_SIZE];
    position_print(stop.at, at);
    const char *what =
        arena_print(arena, "no wind in the forecast at the %s, %s%s", stop.name,
                    at, mistaken_place(world, request, stop.at, arena));
    return outside(world, request, what, error);
}

static bool check_places(const struct world *world,
                         const struct request *request, struct arena *arena,
                         struct error *error) {
    struct stop start = {"start", request->from},
                finish = {"finish", request->to};
    if (!check_place(world, request, start, arena, error) ||
        !check_place(world, request, finish, arena, error))
        return false;
    for (size_t i = 0; i < request->via_count; i++) {
        struct stop pass = {"place to pass", request->via[i]};
        if (!check_place(world, request, pass, arena, error))
            return false;
    }
    return true;
}

static bool is_present(const struct world *world, enum quantity quantity) {
    return forecast_summary(world->forecast, quantity).present;
}

static bool check_limits(const struct world *world,
                         const struct request *request, struct error *error) {
    if (request->max_gust_mps.known && !is_present(world, QUANTITY_GUST))
        return outside(world, request,
                       "max_gust is set but no file holds gusts; ", error);
    bool waves = is_present(world, QUANTITY_SEA) ||
                 is_present(world, QUANTITY_WIND_SEA) ||
                 is_present(world, QUANTITY_SWELL_1);
    if (request->max_wave_m.known && !waves)
        return outside(world, request,
                       "max_wave is set but no file holds waves; ", error);
    return true;
}

/* A plan that asks for magnetic courses begins in the model's years. */
static bool check_magnetic(const struct request *request, struct error *error) {
    char depart[INSTANT_TEXT_SIZE];
    if (!request->magnetic || variation_covers(request->depart))
        return true;
    instant_print(request->depart, depart);
    return error_set(error, STATUS_INPUT,
                     "the departure %s is outside the years of the magnetic "
                     "model, %d to %d; leave out 'magnetic', and courses are "
                     "true",
                     depart, VARIATION_FIRST_YEAR, VARIATION_END_YEAR - 1);
}

bool preflight_check(const struct world *world, const struct request *request,
                     struct error *error) {
    struct arena arena;
    arena_init(&arena);
    bool good = check_magnetic(request, error) &&
                check_time(world, request, &arena, error) &&
                check_places(world, request, &arena, error) &&
                check_limits(world, request, error);
    arena_free(&arena);
    return good;
}

bool preflight_stays(const struct request *request) {
    return request->via_count == 0 &&
           geodesic_between(request->from, request->to).distance_m <=
               PREFLIGHT_SAME_PLACE_M;
}

bool preflight_way(const struct request *request, struct position from,
                   struct position to, struct error *error) {
    double way_m = request->via_count > 0
                       ? reach_great_circle_m(request)
                       : geodesic_between(from, to).distance_m;
    bool stowed = request->start.spar == SPAR_STOWED;
    if (way_m > PREFLIGHT_SAME_PLACE_M || (preflight_stays(request) && stowed))
        return true;
    char at[POSITION_TEXT_SIZE];
    position_print(request->from, at);
    return error_set(error, STATUS_INPUT,
                     "the start and the finish are one place, %s; give "
                     "another, or a place to pass on the way with --via",
                     at);
}

bool preflight_track(const char *name, const struct position *places,
                     size_t count, struct error *error) {
    if (count > PREFLIGHT_TRACK_POINTS)
        return error_set(error, STATUS_INPUT,
                         "'%s' has %zu points, and more than %d are not timed; "
                         "thin the track out",
                         name, count, PREFLIGHT_TRACK_POINTS);
    double way_m = 0.0;
    for (size_t i = 0; i + 1 < count; i++)
        way_m += geodesic_between(places[i], places[i + 1]).distance_m;
    if (way_m > PREFLIGHT_SAME_PLACE_M)
        return request_check_way(way_m, error);
    return error_set(error, STATUS_INPUT,
                     "the points of '%s' are all one place; a track leads "
                     "somewhere",
                     name);
}
