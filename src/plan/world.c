#include "plan/world.h"

#include "base/text.h"
#include "base/units.h"
#include "exchange/geojson.h"
#include "plan/reach.h"

#include <math.h>

/* Places and instants at which the strength of the current is looked up, and
 * what it may be more between them. */
enum { CURRENT_PLACES = 40, CURRENT_TIMES = 12 };
static const double CURRENT_SLACK = 1.2;

static double strongest_current(const struct forecast *forecast) {
    struct field_summary field = forecast_summary(forecast, QUANTITY_CURRENT);
    if (!field.present)
        return 0.0;
    struct area area = forecast_area(forecast, QUANTITY_CURRENT);
    double seconds = instant_minus(field.last, field.first);
    double strongest = 0.0;
    for (int k = 0; k < CURRENT_PLACES * CURRENT_PLACES * CURRENT_TIMES; k++) {
        int row = k % CURRENT_PLACES, column = k / CURRENT_PLACES;
        int time = column / CURRENT_PLACES;
        column %= CURRENT_PLACES;
        struct position place = {
            area.south_deg + (area.north_deg - area.south_deg) * row /
                                 (CURRENT_PLACES - 1.0),
            angle_wrap_longitude(area.west_deg +
                                 (area.east_deg - area.west_deg) * column /
                                     (CURRENT_PLACES - 1.0))};
        struct weather weather;
        double unix_s =
            (double)field.first.unix_s + seconds * time / (CURRENT_TIMES - 1.0);
        if (forecast_at(forecast, place, unix_s, &weather) == COVERAGE_INSIDE &&
            weather.current_known)
            strongest = fmax(strongest, vector_length(weather.current));
    }
    return CURRENT_SLACK * strongest;
}

static bool load_coast(struct world *world, const struct request *request,
                       struct arena *arena, struct error *error) {
    const char *path = request->coast_text;
    if (text_same(path, "none"))
        return true;
    if (text_same(path, "auto"))
        path = coast_installed(arena);
    if (!path)
        return true;
    struct area area = forecast_area(world->forecast, QUANTITY_WIND);
    struct coast_box wind = {area.south_deg, area.north_deg, area.west_deg,
                             area.east_deg};
    struct coast *coast;
    world->coast_box = reach_box(request, &wind);
    if (!coast_load(&coast, path, &world->coast_box, arena, error))
        return false;
    world->coast = coast;
    world->mask = sea_mask_make(coast, &world->coast_box, arena);
    return true;
}

static bool load_zones(struct world *world, const struct request *request,
                       struct arena *arena, struct error *error) {
    for (size_t i = 0; i < request->zones.count; i++)
        if (!geojson_load_zones(&world->zones, request->zones.texts[i], arena,
                                error))
            return false;
    return true;
}

bool world_load(struct world *world, const struct request *request,
                struct arena *arena, struct error *error) {
    *world = (struct world){.forecast = NULL};
    if (!boat_load(&world->boat, request->boat_path, arena, error))
        return false;
    struct forecast_options options = forecast_defaults();
    options.gap_limit_s = request->forecast_gap_s;
    options.waves_towards = request->wave_towards != 0;
    options.spared = 1U << QUANTITY_PRESSURE; /* no plan tells it yet */
    if (!forecast_load(&world->forecast, request->forecast_paths.texts,
                       request->forecast_paths.count, &options, arena, error))
        return false;
    world->max_current_mps = strongest_current(world->forecast);
    return load_coast(world, request, arena, error) &&
           load_zones(world, request, arena, error);
}
