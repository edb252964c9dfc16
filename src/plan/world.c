#include "plan/world.h"

#include "base/text.h"
#include "base/units.h"
#include "exchange/geojson.h"
#include "plan/reach.h"

#include <math.h>

static struct coast_box reach_of(const struct world *world,
                                 const struct request *request) {
    struct area area = forecast_area(world->forecast, QUANTITY_WIND);
    struct coast_box wind = {area.south_deg, area.north_deg, area.west_deg,
                             area.east_deg};
    return reach_box(request, &wind);
}

/* Beyond the coast's box she can't go; one of more than half round is all
 * round. */
static double max_current_of(const struct world *world) {
    const struct coast_box *box = &world->coast_box;
    struct grid_bounds reach = {-90.0, 90.0, -180.0, 180.0};
    if (world->coast && box->east_deg - box->west_deg <= 180.0)
        reach = (struct grid_bounds){box->south_deg, box->north_deg,
                                     box->west_deg, box->east_deg};
    return forecast_strongest_current_mps(world->forecast, &reach);
}

/* A degree of longitude is shortest at the highest latitude of all stops. */
static struct grain grain_of(const struct forecast *forecast,
                             const struct request *request) {
    struct grain grain = {HUGE_VAL, HUGE_VAL};
    double lat_deg =
        fmax(fabs(request->from.lat_deg), fabs(request->to.lat_deg));
    for (size_t i = 0; i < request->via_count; i++)
        lat_deg = fmax(lat_deg, fabs(request->via[i].lat_deg));
    double narrowing = cos(lat_deg * RADIANS_PER_DEGREE);
    for (int i = 0; i < QUANTITY_COUNT; i++) {
        enum quantity quantity = (enum quantity)i;
        struct field_summary summary = forecast_summary(forecast, quantity);
        struct area area = forecast_area(forecast, quantity);
        double step_deg =
            fmin(area.lat_step_deg, area.lon_step_deg * narrowing);
        if (!summary.present || quantity == QUANTITY_PRESSURE)
            continue;
        grain.metres = fmin(grain.metres, 60.0 * METRES_PER_NMI * step_deg);
        if (summary.steps > 1)
            grain.seconds = fmin(grain.seconds, summary.shortest_gap_s);
    }
    return grain;
}

/* NULL: none is wanted, or none installed. */
static const char *coast_path(const struct request *request,
                              struct arena *arena) {
    if (text_same(request->coast_text, "none"))
        return NULL;
    if (text_same(request->coast_text, "auto"))
        return coast_installed(arena);
    return request->coast_text;
}

static bool load_coast(struct world *world, const struct request *request,
                       const char *path, struct arena *arena,
                       struct error *error) {
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

/* What is made while the forecast is decoded. */
struct roll_table_work {
    struct boat *boat;
    struct arena *arena;
};

static void make_roll_table(void *context) {
    const struct roll_table_work *work = context;
    boat_make_roll_table(work->boat, work->arena);
}

/* A plan goes no further than the coast is loaded; without one, as far as the
 * forecast does. */
static bool load_forecast(struct world *world, const struct request *request,
                          bool has_coast, struct arena *arena,
                          struct error *error) {
    struct roll_table_work work = {&world->boat, arena};
    struct grid_bounds wanted = reach_weather(request);
    struct forecast_options options = forecast_defaults();
    options.gap_limit_s = request->forecast_gap_s;
    options.waves_towards = request->wave_towards != 0;
    options.spared = 1U << QUANTITY_PRESSURE; /* no plan tells it yet */
    options.member = request->member;
    options.wanted = has_coast ? &wanted : NULL;
    options.meanwhile = make_roll_table;
    options.context = &work;
    return forecast_load(&world->forecast, request->forecast_paths.texts,
                         request->forecast_paths.count, &options, arena, error);
}

bool world_load(struct world *world, const struct request *request,
                struct arena *arena, struct error *error) {
    *world = (struct world){.forecast = NULL};
    if (!boat_read(&world->boat, request->boat_path, arena, error))
        return false;
    const char *path = coast_path(request, arena);
    if (!load_forecast(world, request, path != NULL, arena, error))
        return false;
    if ((path && !load_coast(world, request, path, arena, error)) ||
        !load_zones(world, request, arena, error))
        return false;
    world->max_current_mps = max_current_of(world);
    world->grain = grain_of(world->forecast, request);
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
    one->max_current_mps = max_current_of(one);
    struct coast_box reach = reach_of(one, request);
    one->seaway = seaway_make(one->forecast, &reach, one->mask, arena);
    return true;
}
