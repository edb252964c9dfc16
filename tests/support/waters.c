#include "waters.h"

#include "check.h"

bool waters_load(struct water *water, struct coast_box box,
                 struct arena *arena) {
    struct error error;
    struct coast *coast;
    *water = (struct water){.box = box};
    const char *path = coast_installed(arena);
    if (!path) {
        print_message("skipped: no shorelines on this machine\n");
        return false;
    }
    if (!coast_load(&coast, path, &box, arena, &error))
        fail_msg("%s", error.text);
    water->coast = coast;
    water->mask = sea_mask_make(coast, &box, arena);
    water_prepare(water, arena);
    return true;
}

static struct zone *add(struct water *water, struct arena *arena) {
    struct zones *zones = &water->zones;
    zones->items = arena_room(arena, zones->items, zones->count,
                              &zones->capacity, sizeof *zones->items);
    struct zone *zone = &zones->items[zones->count++];
    *zone = (struct zone){.name = arena_print(arena, "zone %zu", zones->count)};
    return zone;
}

struct zone *waters_add_square(struct water *water, struct position south_west,
                               struct position north_east,
                               struct arena *arena) {
    const struct position corners[] = {
        south_west,
        {south_west.lat_deg, north_east.lon_deg},
        north_east,
        {north_east.lat_deg, south_west.lon_deg}};
    struct zone *zone = add(water, arena);
    assert_null(zone_add_ring(zone, corners, 4, false, arena));
    water_prepare(water, arena);
    return zone;
}

struct zone *waters_add_circle(struct water *water, struct position centre,
                               double radius_m, struct arena *arena) {
    struct zone *zone = add(water, arena);
    assert_null(zone_add_circle(zone, centre, radius_m, arena));
    water_prepare(water, arena);
    return zone;
}
