#include "plan/weather.h"

#include "base/units.h"
#include "sea/growth.h"

#include <math.h>

struct weather_view weather_view(const struct world *world,
                                 const struct request *request) {
    struct field_summary wind =
        forecast_summary(world->forecast, QUANTITY_WIND);
    struct weather_view view = {.forecast = world->forecast,
                                .depart_unix_s = (double)request->depart.unix_s,
                                .end_unix_s = (double)wind.last.unix_s,
                                .after = request->after,
                                .expected_from_deg =
                                    request->after_wind_from_deg,
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

static struct wave_system wind_sea_of(const struct conditions *conditions) {
    return growth_wind_sea(vector_length(conditions->wind),
                           vector_direction_from(conditions->wind),
                           GROWTH_OPEN_WATER_M,
                           hours_to_s(GROWTH_ASSUMED_HOURS));
}

static bool is_any_known(const struct sea *sea) {
    for (int i = 0; i < SEA_SYSTEMS; i++)
        if (sea->system[i].known)
            return true;
    return false;
}

/* All the height of a combined sea at its one peak, that of the swell as a
 * rule, would leave no wind sea to roll in. So a wind sea is split off, as high
 * as the wind raises one, and the rest is swell: heights add in squares. A wind
 * sea that is held lower than it would grow is younger, and shorter: of the
 * same steepness, period goes as the root of height. */
static void split_combined(struct sea *sea, const struct wave_system *combined,
                           const struct conditions *conditions) {
    struct wave_system grown = wind_sea_of(conditions);
    if (!combined->known || grown.height_m <= 0.0)
        return;
    double part = combined->height_m < grown.height_m
                      ? combined->height_m / grown.height_m
                      : 1.0;
    double wind_m = part * grown.height_m;
    double rest2_m2 = combined->height_m * combined->height_m - wind_m * wind_m;
    sea->split = true;
    sea->system[0] =
        (struct wave_system){.known = true,
                             .height_m = wind_m,
                             .period_s = grown.period_s * sqrt(part),
                             .from_deg = grown.from_deg};
    sea->system[1] = *combined;
    sea->system[1].height_m = rest2_m2 > 0.0 ? sqrt(rest2_m2) : 0.0;
}

static void put_systems(struct conditions *conditions,
                        const struct weather *weather) {
    struct sea *sea = &conditions->sea;
    sea->system[0] = weather->wind_sea;
    for (int i = 0; i < 3; i++)
        sea->system[1 + i] = weather->swell[i];
    if (is_any_known(sea))
        return;
    sea->system[0] = weather->sea;
    split_combined(sea, &weather->sea, conditions);
}

/* A wind sea by growth; its height is the combined one where that is known. */
static void estimate(struct sea *sea, const struct conditions *conditions) {
    sea->estimated = true;
    sea->height_estimated = !sea->height_known;
    sea->system[0] = wind_sea_of(conditions);
    if (sea->height_known)
        sea->system[0].height_m = sea->height_m;
}

/* `expected`: the wind is the crew's own, so its sea is in no file, though the
 * swell of the last step runs on. */
static void put_sea(struct conditions *conditions,
                    const struct weather *weather, bool expected) {
    struct sea *sea = &conditions->sea;
    sea->height_known = weather->sea_height_m.known;
    sea->height_m = weather->sea_height_m.value;
    sea->period_s = sea->from_deg = 0.0;
    sea->estimated = sea->height_estimated = sea->split = false;
    put_systems(conditions, weather);
    if (expected || !is_any_known(sea))
        estimate(sea, conditions);
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
    conditions->light = sun_light(sun_between(view, t_s), position);
    conditions->beyond_forecast = beyond;
    put_sea(conditions, &weather, expected);
    return OBSTACLE_NONE;
}
