#include "plan/weather.h"

#include "base/units.h"
#include "sea/growth.h"

#include <math.h>

static bool has_any(const struct forecast *forecast, enum quantity first,
                    enum quantity last) {
    for (int i = (int)first; i <= (int)last; i++)
        if (forecast_summary(forecast, (enum quantity)i).present)
            return true;
    return false;
}

struct weather_view weather_view(const struct world *world,
                                 const struct request *request) {
    struct field_summary wind =
        forecast_summary(world->forecast, QUANTITY_WIND);
    struct weather_view view = {
        .forecast = world->forecast,
        .seaway = world->seaway,
        .fetch = world->fetch,
        .has_wind_sea =
            has_any(world->forecast, QUANTITY_WIND_SEA, QUANTITY_WIND_SEA),
        .has_swell =
            has_any(world->forecast, QUANTITY_SWELL_1, QUANTITY_SWELL_3),
        .depart_unix_s = (double)request->depart.unix_s,
        .end_unix_s = (double)wind.last.unix_s,
        .after = request->after,
        .expected_from_deg = request->after_wind_from_deg,
        .expected_mps = request->after_wind_mps};
    for (int i = 0; i <= WEATHER_SUNS; i++)
        view.suns[i] = sun_at(view.depart_unix_s + i * WEATHER_SUN_S);
    return view;
}

/* The sun between two of the table: declination and hour angle move evenly
 * over six hours to 0.0001 degree. */
static struct sun sun_between(const struct weather_view *view, double t_s) {
    double place = t_s / WEATHER_SUN_S;
    if (place >= WEATHER_SUNS)
        return sun_at(view->depart_unix_s + t_s);
    int index = (int)place;
    double part = place - index;
    struct sun a = view->suns[index], b = view->suns[index + 1];
    double turn =
        angle_turn(a.greenwich_hour_angle_deg, b.greenwich_hour_angle_deg);
    return (struct sun){
        .declination_deg =
            a.declination_deg + part * (b.declination_deg - a.declination_deg),
        .greenwich_hour_angle_deg = a.greenwich_hour_angle_deg + part * turn};
}

/* --- the sea that the wind raises -------------------------------------------
 */

/* Where and when, of what is asked. */
struct moment {
    const struct weather_view *view;
    struct position at;
    double unix_s; /* of what is sampled */
    bool expected; /* the wind is the crew's own: it has no past */
};

/* A sea left behind that is lower is none. */
static const double LEFT_LEAST_M = 0.1;

static struct wave_system wave_system_of(const struct standing_system *system) {
    return (struct wave_system){.known = true,
                                .height_m = system->height_m,
                                .period_s = system->period_s,
                                .from_deg =
                                    vector_direction_towards(system->from)};
}

/* By the growth law height goes as the root of the fetch, period as the cube
 * root. */
static void shelter(const struct fetch *fetch, const struct fetch_fan *fan,
                    struct standing_system *system) {
    double length = vector_length(system->from);
    if (system->height_m <= 0.0 || length <= 0.0)
        return;
    struct vector_mps from = {system->from.east / length,
                              system->from.north / length};
    double fetch_m = fetch_effective_m(fetch, fan, from, system->fetch_m);
    double part = fetch_m / system->fetch_m;
    system->height_m *= sqrt(part);
    system->period_s *= cbrt(part);
}

/* The wind sea, and what an earlier wind left behind if `left` is given: it
 * stays as it is where there is none. */
static struct wave_system raise_sea(const struct moment *moment,
                                    const struct conditions *conditions,
                                    struct wave_system *left) {
    const struct weather_view *view = moment->view;
    struct standing_system wind_sea, earlier = {.height_m = 0.0};
    struct seaway_mix mix;
    struct fetch_fan fan;
    if (!moment->expected && view->seaway &&
        seaway_at(view->seaway, moment->at, moment->unix_s, &mix)) {
        wind_sea = seaway_wind_sea(&mix);
        if (left)
            earlier = seaway_left(&mix);
    } else {
        wind_sea =
            standing_begin(conditions->wind, hours_to_s(GROWTH_ASSUMED_HOURS))
                .wind_sea;
    }
    if (view->fetch && fetch_fan_at(view->fetch, moment->at, &fan)) {
        shelter(view->fetch, &fan, &wind_sea);
        shelter(view->fetch, &fan, &earlier);
    }
    if (left && earlier.height_m >= LEFT_LEAST_M)
        *left = wave_system_of(&earlier);
    return wave_system_of(&wind_sea);
}

/* --- the sea of the files, and what completes it ----------------------------
 */

static bool is_any_known(const struct sea *sea) {
    for (int i = 0; i < SEA_SYSTEMS; i++)
        if (sea->system[i].known)
            return true;
    return false;
}

/* Of another height but the same steepness: period goes as the root of height.
 */
static void set_height(struct wave_system *system, double height_m) {
    if (system->height_m > 0.0)
        system->period_s *= sqrt(height_m / system->height_m);
    system->height_m = height_m;
}

/* What a sea of that height holds beside a part of it: energies add. */
static double rest_m(double height_m, double part_m) {
    double rest_m2 = height_m * height_m - part_m * part_m;
    return rest_m2 > 0.0 ? sqrt(rest_m2) : 0.0;
}

/* All the height of a combined sea at its one peak, that of the swell as a
 * rule, would leave no wind sea to roll in. So a wind sea is split off, as high
 * as the wind raises one, and the rest is swell. A wind sea that is held lower
 * than it would grow is younger, and shorter. */
static void split_combined(const struct moment *moment, struct sea *sea,
                           const struct wave_system *combined,
                           const struct conditions *conditions) {
    struct wave_system grown = raise_sea(moment, conditions, NULL);
    if (grown.height_m <= 0.0)
        return;
    if (combined->height_m < grown.height_m)
        set_height(&grown, combined->height_m);
    sea->split = true;
    sea->origin[0] = sea->origin[1] = WAVE_SPLIT;
    sea->system[0] = grown;
    sea->system[1] = *combined;
    sea->system[1].height_m = rest_m(combined->height_m, grown.height_m);
}

/* The files have a wind sea and the whole, but no swell: it is the rest. */
static void add_rest(struct sea *sea, const struct wave_system *combined) {
    double swell_m = rest_m(combined->height_m, sea->system[0].height_m);
    sea->split = true;
    sea->origin[1] = WAVE_SPLIT;
    sea->system[1] = *combined;
    sea->system[1].height_m = swell_m;
}

/* The files have swell, but no wind sea anywhere: it is as high as the wind
 * raises one, and the whole, where it is known, leaves room for. */
static void add_wind_sea(const struct moment *moment, struct sea *sea,
                         const struct conditions *conditions) {
    struct wave_system grown = raise_sea(moment, conditions, NULL);
    double room_m = sea->height_m;
    for (int i = 1; i < SEA_SYSTEMS; i++)
        if (sea->system[i].known)
            room_m = rest_m(room_m, sea->system[i].height_m);
    if (sea->height_known && room_m < grown.height_m)
        set_height(&grown, room_m);
    sea->estimated = true;
    sea->height_estimated = !sea->height_known;
    sea->origin[0] = WAVE_ESTIMATED;
    sea->system[0] = grown;
}

static void put_systems(const struct moment *moment,
                        struct conditions *conditions,
                        const struct weather *weather) {
    struct sea *sea = &conditions->sea;
    const struct weather_view *view = moment->view;
    sea->system[0] = weather->wind_sea;
    for (int i = 0; i < 3; i++)
        sea->system[1 + i] = weather->swell[i];
    if (!is_any_known(sea)) {
        sea->system[0] = weather->sea;
        if (weather->sea.known)
            split_combined(moment, sea, &weather->sea, conditions);
    } else if (!view->has_swell && weather->sea.known) {
        add_rest(sea, &weather->sea);
    } else if (!view->has_wind_sea && !moment->expected) {
        add_wind_sea(moment, sea, conditions);
    }
}

/* All of the sea from the wind; a height that is known is that of the wind sea,
 * for nothing tells whose else it is. A swell of the files stays. */
static void estimate(const struct moment *moment, struct sea *sea,
                     const struct conditions *conditions) {
    bool alone = !sea->height_known && !sea->system[1].known;
    sea->estimated = true;
    sea->height_estimated = !sea->height_known;
    sea->system[0] =
        raise_sea(moment, conditions, alone ? &sea->system[1] : NULL);
    sea->origin[0] = WAVE_ESTIMATED;
    if (alone)
        sea->origin[1] = WAVE_ESTIMATED;
    if (sea->height_known)
        set_height(&sea->system[0], sea->height_m);
}

/* A wind that is the crew's own has its sea in no file, though the swell of the
 * last step runs on. */
static void put_sea(const struct moment *moment, struct conditions *conditions,
                    const struct weather *weather) {
    struct sea *sea = &conditions->sea;
    sea->height_known = weather->sea_height_m.known;
    sea->height_m = weather->sea_height_m.value;
    sea->period_s = sea->from_deg = 0.0;
    sea->estimated = sea->height_estimated = sea->split = false;
    for (int i = 0; i < SEA_SYSTEMS; i++)
        sea->origin[i] = WAVE_FORECAST;
    put_systems(moment, conditions, weather);
    if (moment->expected || !is_any_known(sea))
        estimate(moment, sea, conditions);
    sea_complete(sea);
    if (sea->split) { /* the whole is known */
        sea->period_s = weather->sea.period_s;
        sea->from_deg = weather->sea.from_deg;
    }
}

static void expect_wind(struct weather *weather,
                        const struct weather_view *view) {
    weather->wind = vector_from(view->expected_from_deg, view->expected_mps);
    weather->gust_mps = figure_unknown();
    weather->wind_sea.known = false;
    weather->sea.known = false;
    weather->sea_height_m = figure_unknown();
}

enum light weather_light(const void *context, struct position position,
                         double t_s) {
    return sun_light(sun_between(context, t_s), position);
}

enum obstacle weather_conditions(const void *context, struct position position,
                                 double t_s, struct conditions *conditions) {
    const struct weather_view *view = context;
    double unix_s = view->depart_unix_s + t_s;
    bool beyond = unix_s > view->end_unix_s;
    if (beyond && view->after == AFTER_STOP)
        return OBSTACLE_HORIZON;
    struct weather weather;
    double sampled_s = beyond ? view->end_unix_s : unix_s;
    if (forecast_at(view->forecast, position, sampled_s, &weather) !=
        COVERAGE_INSIDE)
        return OBSTACLE_AREA;
    bool expected =
        view->after == AFTER_WIND && unix_s > view->end_unix_s + WEATHER_HOLD_S;
    if (expected)
        expect_wind(&weather, view);
    /* every figure is set: clearing all before takes as long again */
    conditions->wind = weather.wind;
    conditions->tws_mps = conditions->twd_deg = 0.0;
    conditions->roll_sea.count = 0;
    conditions->current = weather.current;
    conditions->current_known = weather.current_known;
    conditions->gust_mps = weather.gust_mps;
    conditions->light = weather_light(view, position, t_s);
    conditions->beyond_forecast = beyond;
    const struct moment moment = {view, position, sampled_s, expected};
    put_sea(&moment, conditions, &weather);
    return OBSTACLE_NONE;
}
