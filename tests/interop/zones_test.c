/* Our zones against GDAL's reading of the same file: is the place in the
 * polygon? GDAL takes longitude and latitude as a plane, as RFC 7946 does. */
#include "../support/check.h"

#include "earth/angle.h"
#include "exchange/geojson.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { ZONES = 40, PLACES = 4000, CORNERS = 60, TEXT = 1 << 20 };

static struct arena arena;
static struct plane_point places[PLACES]; /* degrees, x up to 200 */
static bool gdal_says[PLACES];            /* place i is in zone i % ZONES */

/* A star with a hole, both by angle round one middle, so that nothing crosses.
 */
static char *put_star(char *at, struct seed *seed, double lon, double lat) {
    double size = seed_between(seed, 0.2, 8.0);
    for (int ring = 0; ring < 2; ring++) {
        char first[64] = "";
        at += sprintf(at, "%s[", ring ? "," : "");
        for (int i = 0; i < CORNERS; i++) {
            double s, c;
            double r = size * (ring ? seed_between(seed, 0.1, 0.3)
                                    : seed_between(seed, 0.4, 1.0));
            sincos_deg(360.0 * i / CORNERS, &s, &c);
            char corner[64];
            snprintf(corner, sizeof corner, "[%.6f,%.6f]", lon + r * c,
                     lat + r * s);
            at += sprintf(at, "%s,", corner);
            if (i == 0)
                memcpy(first, corner, sizeof first);
        }
        at += sprintf(at, "%s]", first);
    }
    return at;
}

static const char *write_zones(struct seed *seed) {
    char *text = malloc(TEXT), *at = text;
    assert_non_null(text);
    at += sprintf(at, "{\"type\":\"FeatureCollection\",\"features\":[");
    for (int i = 0; i < ZONES; i++) {
        at +=
            sprintf(at,
                    "%s{\"type\":\"Feature\",\"properties\":{\"name\":\"%d\"},"
                    "\"geometry\":{\"type\":\"Polygon\",\"coordinates\":[",
                    i ? "," : "", i);
        at = put_star(at, seed, seed_between(seed, -170, 184),
                      seed_between(seed, -72, 72));
        at += sprintf(at, "]}}");
        assert_true(at - text < TEXT - 8192);
    }
    sprintf(at, "]}");
    const char *path = check_write("stars.geojson", text);
    free(text);
    return path;
}

/* All over the boxes of the zones. */
static void write_places(struct seed *seed, const struct zones *zones) {
    char *text = malloc(TEXT), *at = text;
    assert_non_null(text);
    at += sprintf(at, "id,lon,lat\n");
    for (int i = 0; i < PLACES; i++) {
        const struct zone *zone = &zones->items[i % ZONES];
        double middle = 0.5 * (zone->south_deg + zone->north_deg);
        double lon =
            zone->middle_deg < -172 ? zone->middle_deg + 360 : zone->middle_deg;
        places[i] = (struct plane_point){
            lon + seed_between(seed, -1, 1) * zone->half_deg,
            middle + seed_between(seed, -1, 1) * (zone->north_deg - middle)};
        at += sprintf(at, "%d,%.9f,%.9f\n", i, places[i].x, places[i].y);
    }
    check_write("places.csv", text);
    free(text);
}

/* Each place is asked about one zone. */
static bool ask_gdal(void) {
    char line[2048];
    const char *folder = check_folder();
    snprintf(line, sizeof line,
             "ogr2ogr -f CSV /vsistdout/ '%s/stars.geojson' -dialect SQLite "
             "-sql \"SELECT p.id FROM stars z CROSS JOIN "
             "'%s/places.csv'.places p "
             "WHERE CAST(p.id AS INTEGER) %% %d = CAST(z.name AS INTEGER) AND "
             "ST_Intersects(z.geometry, MakePoint(CAST(p.lon AS REAL), "
             "CAST(p.lat AS REAL)))\"",
             folder, folder, ZONES);
    struct ran ran = check_shell(line);
    if (ran.status != 0) {
        print_message("skipped: no GDAL with SpatiaLite: %s\n", ran.err);
        return false;
    }
    char *at = strchr(ran.out, '\n');
    int place;
    while (at && sscanf(at, "\n\"%d\"", &place) == 1 && place < PLACES) {
        gdal_says[place] = true;
        at = strchr(at + 1, '\n');
    }
    return true;
}

static void every_place_is_where_gdal_puts_it(void **state) {
    (void)state;
    struct seed seed = {77};
    struct zones zones = {.count = 0};
    struct error error;
    arena_init(&arena);
    if (!geojson_load_zones(&zones, write_zones(&seed), &arena, &error))
        fail_msg("%s", error.text);
    assert_int_equal(zones.count, ZONES);
    write_places(&seed, &zones);
    if (!ask_gdal()) {
        arena_free(&arena);
        skip();
    }
    int inside = 0, on_edge = 0;
    for (int i = 0; i < PLACES; i++) {
        const struct zone *zone = &zones.items[i % ZONES];
        struct position at = {places[i].y, angle_wrap_longitude(places[i].x)};
        bool ours = zone_meets(zone, at, at);
        inside += ours;
        if (ours == gdal_says[i])
            continue;
        /* the pieces of a line may be 2 m off it */
        assert_near(zone_distance_m(zone, at, 1e4), 0.0, 2.0);
        on_edge++;
    }
    print_message("%d of %d places inside, %d on an edge\n", inside, PLACES,
                  on_edge);
    assert_true(inside > PLACES / 4 && inside < PLACES);
    assert_true(on_edge < 5);
    arena_free(&arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_place_is_where_gdal_puts_it),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
