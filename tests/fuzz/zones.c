/* A file of keep-off zones, and questions to them. */
#include "fuzz.h"

#include "exchange/geojson.h"
#include <assert.h>
#include <math.h>

static void ask(const struct zone *zone) {
    static const double MOST_M = 100.0 * 1852.0;
    struct position at = {.lat_deg = 0.5 * (zone->south_deg + zone->north_deg),
                          .lon_deg = zone->middle_deg};
    struct position to = {.lat_deg = at.lat_deg / 2.0,
                          .lon_deg = at.lon_deg < 0.0 ? 1.0 : -1.0};
    assert(*zone->name && zone->ring_count > 0);
    assert(fabs(zone_distance_m(zone, at, MOST_M)) <= MOST_M);
    double least_m = zone_segment_distance_m(zone, at, to, MOST_M);
    assert(!zone_meets(zone, at, to) || least_m <= 0.0);
    zone_is_active(zone, 0.0, HUGE_VAL);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size) {
    struct arena arena;
    struct zones zones = {.count = 0};
    struct error error = {.text = ""};
    arena_init(&arena);
    const char *path = fuzz_file("zones.geojson", bytes, size);
    if (geojson_load_zones(&zones, path, &arena, &error))
        for (size_t i = 0; i < zones.count; i++)
            ask(&zones.items[i]);
    else
        fuzz_check_refusal(&error);
    arena_free(&arena);
    return 0;
}
