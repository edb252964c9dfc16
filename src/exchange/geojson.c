#include "exchange/geojson.h"

#include "base/heap.h"
#include "base/text.h"
#include "base/units.h"
#include "exchange/clean.h"
#include <assert.h>
#include <jansson.h>
#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

struct reader {
    struct zones *zones;
    const char *path;
    struct arena *arena;
    struct error *error;
    size_t feature;       /* from 1; 0: the file is one geometry */
    struct zone zone;     /* the one being read */
    bool named;           /* by its property */
    size_t polygon, ring; /* from 1 */
    size_t corners;       /* of the file so far */
    size_t edges;         /* of all zones so far */
};

static bool refuse(const struct reader *reader, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* "zones.geojson: feature 3 ('Long Shoal'): ...". Returns false. */
static bool refuse(const struct reader *reader, const char *format, ...) {
    char text[ERROR_TEXT_SIZE];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    error_set(reader->error, STATUS_INPUT, "%s", text);
    if (reader->feature && reader->named)
        error_at(reader->error, "feature %zu ('%s')", reader->feature,
                 reader->zone.name);
    else if (reader->feature)
        error_at(reader->error, "feature %zu", reader->feature);
    return error_at(reader->error, "%s", reader->path);
}

/* NULL where it is absent, null, or no text. */
static const char *text_of(const json_t *object, const char *key) {
    return json_string_value(json_object_get(object, key));
}

/* The word behind "type", or "". */
static const char *type_of(const json_t *object) {
    const char *type = text_of(object, "type");
    return type ? type : "";
}

/* --- rings -------------------------------------------------------------- */

static bool refuse_ring(const struct reader *reader, const char *flaw) {
    return refuse(reader, "polygon %zu, ring %zu %s", reader->polygon,
                  reader->ring, flaw);
}

/* Longitude first; a height behind it is passed over. */
static bool read_position(const struct reader *reader, const json_t *json,
                          struct position *position) {
    const json_t *lon = json_array_get(json, 0), *lat = json_array_get(json, 1);
    if (!json_is_number(lon) || !json_is_number(lat))
        return refuse(reader, "a position is not two numbers; longitude first, "
                              "then latitude");
    *position = (struct position){.lat_deg = json_number_value(lat),
                                  .lon_deg = json_number_value(lon)};
    if (!(fabs(position->lat_deg) <= 90.0))
        return refuse(reader,
                      "latitude %g is beyond 90 degrees; longitude comes first",
                      position->lat_deg);
    if (!(fabs(position->lon_deg) <= 360.0))
        return refuse(reader, "longitude %g is beyond 360 degrees",
                      position->lon_deg);
    return true;
}

static bool same_place(struct position a, struct position b) {
    return !(a.lat_deg < b.lat_deg) && !(a.lat_deg > b.lat_deg) &&
           !(a.lon_deg < b.lon_deg) && !(a.lon_deg > b.lon_deg);
}

static bool read_corners(struct reader *reader, const json_t *json,
                         struct position **corners, size_t *count) {
    size_t n = json_array_size(json);
    if (!json_is_array(json) || n < 4)
        return refuse_ring(reader, "has fewer than 4 positions");
    if (n > GEOJSON_CORNER_LIMIT - reader->corners)
        return refuse(reader, "there are more than %d positions in the file",
                      GEOJSON_CORNER_LIMIT);
    reader->corners += n;
    *corners = arena_alloc(reader->arena, n, sizeof **corners);
    for (size_t i = 0; i < n; i++)
        if (!read_position(reader, json_array_get(json, i), &(*corners)[i]))
            return false;
    if (!same_place((*corners)[0], (*corners)[n - 1]))
        return refuse_ring(
            reader, "is not closed; repeat its first position at its end");
    *count = n - 1;
    return true;
}

/* After each ring or circle: how many pieces there are by now. */
static bool count_edges(struct reader *reader) {
    const struct zone *zone = &reader->zone;
    reader->edges += zone->rings[zone->ring_count - 1].outline.count;
    if (reader->edges > GEOJSON_EDGE_LIMIT)
        return refuse(reader,
                      "the zones are too large: their lines come in more than "
                      "%d pieces",
                      GEOJSON_EDGE_LIMIT);
    return true;
}

static bool read_ring(struct reader *reader, const json_t *json) {
    struct position *corners = NULL;
    size_t count = 0;
    if (!read_corners(reader, json, &corners, &count))
        return false;
    const char *flaw = zone_add_ring(&reader->zone, corners, count,
                                     reader->ring > 1, reader->arena);
    return flaw ? refuse_ring(reader, flaw) : count_edges(reader);
}

static bool read_polygon(struct reader *reader, const json_t *coordinates) {
    reader->polygon++;
    reader->ring = 0;
    if (json_array_size(coordinates) == 0)
        return refuse(reader, "polygon %zu has no ring", reader->polygon);
    for (size_t i = 0; i < json_array_size(coordinates); i++) {
        reader->ring++;
        if (!read_ring(reader, json_array_get(coordinates, i)))
            return false;
    }
    return true;
}

static bool read_polygons(struct reader *reader, const json_t *coordinates) {
    if (json_array_size(coordinates) == 0)
        return refuse(reader, "the MultiPolygon has no polygon");
    for (size_t i = 0; i < json_array_size(coordinates); i++)
        if (!read_polygon(reader, json_array_get(coordinates, i)))
            return false;
    return true;
}

/* --- circles ------------------------------------------------------------ */

static bool read_circle(struct reader *reader, const json_t *coordinates,
                        const json_t *properties) {
    struct position centre;
    if (!read_position(reader, coordinates, &centre))
        return false;
    const json_t *radius = json_object_get(properties, "radius_nmi");
    if (!json_is_number(radius))
        return refuse(reader, "a Point needs a property 'radius_nmi', a number "
                              "of nautical miles");
    double radius_m = nmi_to_m(json_number_value(radius));
    if (!(radius_m > 0.0 && radius_m <= ZONE_RADIUS_M))
        return refuse(reader,
                      "radius_nmi is %g; it has to be above 0 and at "
                      "most %g",
                      m_to_nmi(radius_m), m_to_nmi(ZONE_RADIUS_M));
    const char *flaw =
        zone_add_circle(&reader->zone, centre, radius_m, reader->arena);
    return flaw ? refuse(reader, "the circle %s", flaw) : count_edges(reader);
}

/* --- features ----------------------------------------------------------- */

static bool read_geometry(struct reader *reader, const json_t *geometry,
                          const json_t *properties) {
    const char *type = type_of(geometry);
    const json_t *coordinates = json_object_get(geometry, "coordinates");
    if (text_same(type, "Polygon"))
        return read_polygon(reader, coordinates);
    if (text_same(type, "MultiPolygon"))
        return read_polygons(reader, coordinates);
    if (text_same(type, "Point"))
        return read_circle(reader, coordinates, properties);
    if (!*type)
        return refuse(reader, "has no geometry");
    return refuse(reader,
                  "'%s' is no area; a zone is a Polygon, a "
                  "MultiPolygon, or a Point with 'radius_nmi'",
                  type);
}

static bool read_time(struct reader *reader, const json_t *properties,
                      const char *key, struct instant *instant, bool *known) {
    const json_t *json = json_object_get(properties, key);
    if (!json || json_is_null(json))
        return true;
    const char *text = json_string_value(json);
    bool zone_given;
    if (!text || !instant_parse(text, instant, &zone_given))
        return refuse(reader, "'%s' is no time; write 2026-03-10T06:00Z", key);
    if (!zone_given)
        return refuse(reader, "'%s' has no time zone; add Z for UTC", key);
    *known = true;
    return true;
}

static bool read_times(struct reader *reader, const json_t *properties) {
    struct zone *zone = &reader->zone;
    if (!read_time(reader, properties, "from", &zone->from,
                   &zone->from_known) ||
        !read_time(reader, properties, "until", &zone->until,
                   &zone->until_known))
        return false;
    if (zone->from_known && zone->until_known &&
        zone->until.unix_s <= zone->from.unix_s)
        return refuse(reader, "'until' is not after 'from'");
    return true;
}

static bool read_name(struct reader *reader, const json_t *properties) {
    const json_t *json = json_object_get(properties, "name");
    if (json && !json_is_null(json) && !json_is_string(json))
        return refuse(reader, "'name' is no text");
    const char *name = json_string_value(json);
    if (name)
        name = clean_name(reader->arena, name);
    reader->named = name && *name;
    reader->zone.name = reader->named ? name
                                      : arena_print(reader->arena, "zone %zu",
                                                    reader->zones->count + 1);
    return true;
}

static bool read_zone(struct reader *reader, const json_t *geometry,
                      const json_t *properties) {
    struct zones *zones = reader->zones;
    reader->zone = (struct zone){.name = NULL};
    reader->named = false;
    reader->polygon = 0;
    if (zones->count >= GEOJSON_ZONE_LIMIT)
        return refuse(reader, "there are more than %d zones",
                      GEOJSON_ZONE_LIMIT);
    if (!read_name(reader, properties) || !read_times(reader, properties) ||
        !read_geometry(reader, geometry, properties))
        return false;
    zones->items = arena_room(reader->arena, zones->items, zones->count,
                              &zones->capacity, sizeof *zones->items);
    zones->items[zones->count++] = reader->zone;
    return true;
}

static bool read_feature(struct reader *reader, const json_t *feature) {
    reader->feature++;
    reader->named = false;
    if (!text_same(type_of(feature), "Feature"))
        return refuse(reader, "is no Feature");
    return read_zone(reader, json_object_get(feature, "geometry"),
                     json_object_get(feature, "properties"));
}

static bool read_collection(struct reader *reader, const json_t *features) {
    if (json_array_size(features) == 0)
        return refuse(reader, "there is no feature in it; leave the file out");
    for (size_t i = 0; i < json_array_size(features); i++)
        if (!read_feature(reader, json_array_get(features, i)))
            return false;
    return true;
}

/* --- the file ----------------------------------------------------------- */

/* RFC 7946 has one reference system only; older files may name one, and theirs
 * is the same where it is called CRS84 or EPSG 4326. */
static bool check_system(const struct reader *reader, const json_t *root) {
    const json_t *system = json_object_get(root, "crs");
    if (!system || json_is_null(system))
        return true;
    const char *name = text_of(json_object_get(system, "properties"), "name");
    if (name && (strstr(name, "CRS84") || strstr(name, "EPSG::4326") ||
                 strstr(name, "EPSG:4326")))
        return true;
    return refuse(reader, "its 'crs' is not longitude and latitude in WGS84");
}

static bool read_root(struct reader *reader, const json_t *root) {
    const char *type = type_of(root);
    if (!*type)
        return refuse(reader, "is not GeoJSON; it has no 'type'");
    if (!check_system(reader, root))
        return false;
    if (text_same(type, "FeatureCollection"))
        return read_collection(reader, json_object_get(root, "features"));
    if (text_same(type, "Feature"))
        return read_feature(reader, root);
    return read_zone(reader, root, NULL);
}

static size_t edges_of(const struct zones *zones) {
    size_t edges = 0;
    for (size_t i = 0; i < zones->count; i++)
        for (size_t k = 0; k < zones->items[i].ring_count; k++)
            edges += zones->items[i].rings[k].outline.count;
    return edges;
}

bool geojson_load_zones(struct zones *zones, const char *path,
                        struct arena *arena, struct error *error) {
    struct arena scratch;
    json_set_alloc_funcs(heap_take, free);
    arena_init(&scratch);
    char *text = text_load(&scratch, path, GEOJSON_SIZE_LIMIT, error);
    json_error_t fault;
    json_t *root = NULL;
    if (text)
        root = json_loads(text, JSON_REJECT_DUPLICATES, &fault);
    if (text && !root) {
        error_set(error, STATUS_INPUT, "not JSON: %s", fault.text);
        error_at(error, "%s:%d", path, fault.line);
    }
    arena_free(&scratch);
    struct reader reader = {.zones = zones,
                            .path = path,
                            .arena = arena,
                            .error = error,
                            .edges = edges_of(zones)};
    bool done = root && read_root(&reader, root);
    json_decref(root);
    return done;
}
