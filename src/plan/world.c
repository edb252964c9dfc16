#include "plan/world.h"

#include "base/text.h"
#include "base/units.h"
#include "exchange/geojson.h"
#include "plan/reach.h"

static struct coast_box reach_of(const struct world *world,
                                 const struct request *request) {
    struct area area = forecast_area(world->forecast, QUANTITY_WIND);
    struct coast_box wind = {area.south_deg, area.north_deg, area.west_deg,
                             area.east_deg};
    return reach_box(request, &wind);
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
    struct coast *coast;
    world->coast_box = reach_of(world, request);
    if (!coast_load(&coast, path, &world->coast_box, arena, error))
        return false;
    world->coast = coast;
    world->mask = sea_mask_make(coast, &world->coast_box, arena);
    world->fetch = fetch_make(world->mask, &world->coast_box, arena);
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
    options.member = request->member;
    if (!forecast_load(&world->forecast, request->forecast_paths.texts,
                       request->forecast_paths.count, &options, arena, error))
        return false;
    world->max_current_mps = forecast_strongest_current_mps(world->forecast);
    if (!load_coast(world, request, arena, error) ||
        !load_zones(world, request, arena, error))
        return false;
    struct coast_box reach = reach_of(world, request);
    world->seaway = seaway_make(world->forecast, &reach, world->mask, arena);
    return true;
}

bool world_of_member(struct world *one, const struct world *world,
                     const struct request *request, struct member member,
                     struct arena *arena, struct error *error) {
    *one = *world;
    if (!forecast_of_member(&one->forecast, world->forecast, member, arena,
                            error))
        return false;
    one->max_current_mps = forecast_strongest_current_mps(one->forecast);
    struct coast_box reach = reach_of(one, request);
    one->seaway = seaway_make(one->forecast, &reach, one->mask, arena);
    return true;
}
