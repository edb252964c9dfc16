#include "analytic.h"

#include "check.h"
#include "sea/growth.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double DAY_S = 86400.0;

static bool is_outside(const struct analytic *weather,
                       struct position position) {
    bool bounded = weather->north_deg > weather->south_deg;
    return bounded && (position.lat_deg < weather->south_deg ||
                       position.lat_deg > weather->north_deg ||
                       position.lon_deg < weather->west_deg ||
                       position.lon_deg > weather->east_deg);
}

static struct vector_mps current_of(const struct analytic *weather,
                                    struct position position, double t_s) {
    return weather->current_at
               ? weather->current_at(weather->flow, position, t_s)
               : weather->current;
}

/* From day to night in no less time than anywhere on earth. */
static const double DUSK_S = 1240.0;

static enum light light_of(const struct analytic *weather, double t_s) {
    if (weather->night_every_s <= 0.0)
        return LIGHT_DAY;
    double since_s = fmod(t_s, weather->night_every_s) - weather->night_from_s;
    if (since_s >= 0.0)
        return LIGHT_NIGHT;
    return since_s >= -DUSK_S ? LIGHT_TWILIGHT : LIGHT_DAY;
}

enum obstacle analytic_conditions(const void *context, struct position position,
                                  double t_s, struct conditions *conditions) {
    const struct analytic *weather = context;
    if (is_outside(weather, position))
        return OBSTACLE_AREA;
    if (weather->horizon_s > 0.0 && t_s > weather->horizon_s)
        return OBSTACLE_HORIZON;
    double days = t_s / DAY_S;
    double north_deg = position.lat_deg - weather->lat_deg;
    double from_deg = angle_wrap_360(weather->wind_from_deg +
                                     weather->veer_deg_per_day * days +
                                     weather->veer_deg_per_lat_deg * north_deg);
    double speed = weather->wind_mps + weather->rise_mps_per_day * days +
                   weather->rise_mps_per_lat_deg * north_deg;
    struct vector_mps current = current_of(weather, position, t_s);
    *conditions = (struct conditions){
        .wind = vector_from(from_deg, speed),
        .current = current,
        .current_known = weather->current_at || vector_length(current) > 0.0,
        .gust_mps = weather->gust_frac.known
                        ? figure_of(weather->gust_frac.value * speed)
                        : figure_unknown(),
    };
    conditions->light = light_of(weather, t_s);
    struct sea *sea = &conditions->sea;
    sea->system[0] = (struct wave_system){.known = weather->wave_m > 0.0,
                                          .height_m = weather->wave_m,
                                          .period_s = weather->wave_period_s,
                                          .from_deg = from_deg};
    sea->system[1] = weather->swell;
    sea_complete(sea);
    return OBSTACLE_NONE;
}

/* Boats and polars live to the end of the program. */
static struct arena arena;

struct polar analytic_polar(double (*speed_mps)(double twa_deg),
                            double first_deg) {
    static const double winds_mps[] = {0.1, 100.0};
    struct polar polar = {.angles = (size_t)(180.0 - first_deg) + 1,
                          .winds = 2};
    polar.angle_deg = arena_alloc(&arena, polar.angles, sizeof(double));
    polar.wind_mps = arena_alloc(&arena, polar.winds, sizeof(double));
    polar.speed_mps =
        arena_alloc(&arena, polar.angles * polar.winds, sizeof(double));
    for (size_t i = 0; i < polar.angles; i++) {
        polar.angle_deg[i] = first_deg + (double)i;
        for (size_t j = 0; j < polar.winds; j++) {
            polar.wind_mps[j] = winds_mps[j];
            polar.speed_mps[i * polar.winds + j] =
                speed_mps(polar.angle_deg[i]);
        }
    }
    return polar;
}

void analytic_in_proportion(struct polar *polar) {
    double frac = polar->wind_mps[0] / polar->wind_mps[1];
    for (size_t i = 0; i < polar->angles; i++)
        polar->speed_mps[i * 2] = frac * polar->speed_mps[i * 2 + 1];
}

void analytic_widen_limits(struct boat *boat) {
    const double far_mps = 1000.0;
    struct spar *spar = &boat->spar;
    spar->wing_max_wind_mps = spar->wing_max_gust_mps = far_mps;
    spar->reach_max_wind_mps = spar->reach_max_gust_mps = far_mps;
    struct work_limits *work = &boat->work;
    work->max_wind_mps = work->max_gust_mps = far_mps;
    work->stow_max_wind_mps = work->stow_max_gust_mps = far_mps;
    work->max_wave_m = work->max_roll_deg = far_mps;
}

void analytic_free_changes(struct boat *boat) {
    struct spar *spar = &boat->spar;
    spar->set_s = spar->gybe_s = spar->stow_s = spar->roll_s = 0.0;
    boat->handling.mainsail_gybe_s = boat->handling.tack_s = 0.0;
}

struct boat *analytic_boat_copy(const char *name) {
    struct error error;
    char path[256];
    struct boat *boat = arena_alloc(&arena, 1, sizeof *boat);
    snprintf(path, sizeof path, "polars/%s.ini", name);
    if (!boat_load(boat, path, &arena, &error)) {
        print_error("%s\n", error.text);
        abort();
    }
    return boat;
}

struct boat *analytic_free_boat(double (*speed_mps)(double twa_deg)) {
    struct boat *boat = analytic_boat_copy("wanderer-12");
    boat->stowed = boat->spar_out = analytic_polar(speed_mps, 0.0);
    analytic_free_changes(boat);
    return boat;
}

const struct boat *analytic_boat(const char *name) {
    enum { BOATS = 8 };
    static struct {
        const char *name;
        const struct boat *boat;
    } read[BOATS];
    int i = 0;
    while (read[i].name && strcmp(read[i].name, name) != 0)
        i++;
    if (!read[i].name) {
        assert(i + 1 < BOATS);
        read[i].name = name;
        read[i].boat = analytic_boat_copy(name);
    }
    return read[i].boat;
}

struct voyage analytic_voyage(const struct boat *boat,
                              const struct analytic *weather,
                              struct position finish) {
    return (struct voyage){
        .boat = boat,
        .spar_allowed = true,
        .finish = finish,
        .step_s = VOYAGE_STEP_S,
        .max_current_mps = weather->current_at
                               ? weather->max_current_mps
                               : vector_length(weather->current),
        .conditions = analytic_conditions,
        .weather = weather,
    };
}
