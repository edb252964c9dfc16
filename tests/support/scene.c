#include "scene.h"

#include "check.h"
#include "grib_maker.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { POINTS_LIMIT = 4000 };

enum kind {
    WIND_EAST,
    WIND_NORTH,
    GUST,
    SEA_HEIGHT,
    SEA_PERIOD,
    SEA_FROM,
    WIND_SEA_HEIGHT,
    WIND_SEA_PERIOD,
    WIND_SEA_FROM,
    SWELL_HEIGHT,
    SWELL_PERIOD,
    SWELL_FROM,
    CURRENT_EAST,
    CURRENT_NORTH,
    KINDS
};

/* Discipline, category, number, level type, level: WMO code tables 4.2. */
static const int codes[KINDS][5] = {
    {0, 2, 2, 103, 10}, {0, 2, 3, 103, 10}, {0, 2, 22, 103, 10},
    {10, 0, 3, 1, 0},   {10, 0, 11, 1, 0},  {10, 0, 10, 1, 0},
    {10, 0, 5, 1, 0},   {10, 0, 6, 1, 0},   {10, 0, 4, 1, 0},
    {10, 0, 8, 241, 1}, {10, 0, 9, 241, 1}, {10, 0, 7, 241, 1},
    {10, 1, 2, 1, 0},   {10, 1, 3, 1, 0},
};

static double value_of(const struct conditions *here, enum kind kind) {
    const struct wave_system *wind_sea = &here->sea.system[0];
    const struct wave_system *swell = &here->sea.system[1];
    switch (kind) {
    case WIND_EAST:
        return here->wind.east;
    case WIND_NORTH:
        return here->wind.north;
    case GUST:
        return here->gust_mps.value;
    case SEA_HEIGHT:
        return here->sea.height_m;
    case SEA_PERIOD:
        return here->sea.period_s;
    case SEA_FROM:
        return here->sea.from_deg;
    case WIND_SEA_HEIGHT:
        return wind_sea->height_m;
    case WIND_SEA_PERIOD:
        return wind_sea->period_s;
    case WIND_SEA_FROM:
        return wind_sea->from_deg;
    case SWELL_HEIGHT:
        return swell->height_m;
    case SWELL_PERIOD:
        return swell->period_s;
    case SWELL_FROM:
        return swell->from_deg;
    case CURRENT_EAST:
        return here->current.east;
    case CURRENT_NORTH:
        return here->current.north;
    case KINDS:
        break;
    }
    abort();
}

static bool has_kind(const struct scene *scene, enum kind kind) {
    if (kind == GUST)
        return !scene->no_gust;
    if (kind == SEA_HEIGHT)
        return scene->sea != SCENE_NO_SEA && scene->sea != SCENE_SWELL;
    if (kind == SEA_PERIOD || kind == SEA_FROM)
        return scene->sea == SCENE_COMBINED || scene->sea == SCENE_WIND_SEA;
    if (kind >= WIND_SEA_HEIGHT && kind <= WIND_SEA_FROM)
        return scene->sea == SCENE_APART || scene->sea == SCENE_WIND_SEA;
    if (kind >= SWELL_HEIGHT && kind <= SWELL_FROM)
        return scene->sea == SCENE_APART || scene->sea == SCENE_SWELL;
    if (kind >= CURRENT_EAST)
        return scene->weather.current_at ||
               vector_length(scene->weather.current) > 0.0;
    return true;
}

/* Stands for a value that the bitmap leaves out. */
static const double HOLE = 9999.0;

static bool is_sea(enum kind kind) {
    return kind >= SEA_HEIGHT && kind <= SWELL_FROM;
}

static bool is_masked(const struct scene *scene, enum kind kind,
                      struct position place) {
    return scene->no_sea_north && is_sea(kind) &&
           place.lat_deg > scene->sea_north_deg;
}

static void add_field(struct grib_bytes *bytes, const struct scene *scene,
                      enum kind kind, int hour) {
    double values[POINTS_LIMIT];
    double step = scene->step_deg;
    int ni = (int)lround((scene->east_deg - scene->west_deg) / step) + 1;
    int nj = (int)lround((scene->north_deg - scene->south_deg) / step) + 1;
    if (ni * nj > POINTS_LIMIT)
        abort();
    for (int k = 0; k < ni * nj; k++) {
        struct position place = {
            scene->north_deg - step * (k / ni),
            angle_wrap_longitude(scene->west_deg + step * (k % ni))};
        struct conditions here;
        analytic_conditions(&scene->weather, place, hour * 3600.0, &here);
        values[k] =
            is_masked(scene, kind, place) ? HOLE : value_of(&here, kind);
    }
    struct grib_spec spec = {.edition = 2,
                             .discipline = codes[kind][0],
                             .category = codes[kind][1],
                             .number = codes[kind][2],
                             .level_type = codes[kind][3],
                             .level = codes[kind][4],
                             .run = {2026, 6, 1, 0, 0, 0},
                             .lead = hour,
                             .ni = ni,
                             .nj = nj,
                             .first_lat = scene->north_deg,
                             .first_lon = scene->west_deg,
                             .last_lat = scene->south_deg,
                             .last_lon = scene->east_deg,
                             .values = values,
                             .masked = scene->no_sea_north && is_sea(kind),
                             .hole = HOLE,
                             .bits = 16};
    grib_add(bytes, &spec);
}

const char *scene_write(const struct scene *scene) {
    struct grib_bytes bytes = {0};
    char name[200];
    for (int hour = 0; hour <= scene->hours; hour += scene->every) {
        if (scene->skip_to_h > 0 && hour >= scene->skip_from_h &&
            hour <= scene->skip_to_h)
            continue;
        for (int kind = 0; kind < KINDS; kind++)
            if (has_kind(scene, (enum kind)kind))
                add_field(&bytes, scene, (enum kind)kind, hour);
    }
    snprintf(name, sizeof name, "%s.grib2", scene->name);
    const char *path = check_write(name, "");
    grib_save(&bytes, path);
    grib_free(&bytes);
    return path;
}

struct world scene_world(const struct scene *scene, const char *boat,
                         struct arena *arena) {
    struct request request;
    struct world world = {.forecast = NULL};
    struct error error;
    char boat_path[256];
    const char *path = scene_write(scene);
    snprintf(boat_path, sizeof boat_path, "polars/%s.ini", boat);
    if (!request_load(&request, NULL, arena, &error) ||
        !request_option(&request, "boat", boat_path, arena, &error) ||
        !request_option(&request, "forecast", path, arena, &error) ||
        !request_option(&request, "coast", "none", arena, &error) ||
        !world_load(&world, &request, arena, &error))
        fail_msg("%s", error.text);
    return world;
}

struct request scene_request(const char *from, const char *to,
                             const char *depart, struct arena *arena) {
    struct request request;
    struct error error;
    if (!request_load(&request, NULL, arena, &error) ||
        !request_option(&request, "boat", "-", arena, &error) ||
        !request_option(&request, "forecast", "-", arena, &error) ||
        !request_option(&request, "name", "scene", arena, &error) ||
        !request_option(&request, "coast", "none", arena, &error) ||
        !request_option(&request, "from", from, arena, &error) ||
        !request_option(&request, "to", to, arena, &error) ||
        !request_option(&request, "depart", depart, arena, &error) ||
        !request_resolve(&request, false, arena, &error))
        fail_msg("%s", error.text);
    return request;
}
