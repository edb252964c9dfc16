#include "plan/weather.h"

#include "base/units.h"
#include "sea/growth.h"

/* The crew's own wind counts only after the last fields were held so long. */
static const double HOLD_S = 24.0 * SECONDS_PER_HOUR;

/* Open water for the growth law: no shore in reach. */
static const double OPEN_FETCH_M = 5e6;

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

static void put_systems(struct sea *sea, const struct weather *weather) {
    sea->system[0] = weather->wind_sea;
    for (int i = 0; i < 3; i++)
        sea->system[1 + i] = weather->swell[i];
    bool partitioned = false;
    for (int i = 0; i < SEA_SYSTEMS; i++)
        partitioned = partitioned || sea->system[i].known;
    if (!partitioned)
        sea->system[0] = weather->sea;
}

/* A wind sea by growth where no system is known; its height is the combined
 * one where that is. */
static void estimate(struct sea *sea, const struct conditions *conditions) {
    if (sea->system[0].known || sea->system[1].known || sea->system[2].known ||
        sea->system[3].known)
        return;
    sea->estimated = true;
    sea->system[0] =
        growth_wind_sea(vector_length(conditions->wind),
                        vector_direction_from(conditions->wind), OPEN_FETCH_M,
                        hours_to_s(GROWTH_ASSUMED_HOURS));
    if (sea->height_known)
        sea->system[0].height_m = sea->height_m;
}

static void put_sea(struct conditions *conditions,
                    const struct weather *weather) {
    struct sea *sea = &conditions->sea;
    sea->height_known = weather->sea_height_m.known;
    sea->height_m = weather->sea_height_m.value;
    put_systems(sea, weather);
    estimate(sea, conditions);
    sea_complete(sea);
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
    if (view->after == AFTER_WIND && unix_s > view->end_unix_s + HOLD_S)
        expect_wind(&weather, view);
    *conditions = (struct conditions){
        .wind = weather.wind,
        .current = weather.current_known ? weather.current
                                         : (struct vector_mps){0.0, 0.0},
        .current_known = weather.current_known,
        .gust_mps = weather.gust_mps,
        .pressure_pa = weather.pressure_pa,
        .light = sun_light(sun_between(view, t_s), position),
        .beyond_forecast = beyond};
    put_sea(conditions, &weather);
    return OBSTACLE_NONE;
}
