/* Keep-off zones out of GeoJSON (RFC 7946), through jansson.
 *
 * A FeatureCollection, a Feature or a bare geometry. Geometry: Polygon and
 * MultiPolygon, with holes, or Point with the property "radius_nmi". Further
 * properties: "name" ("zone N" where it is left out, N counting all zones),
 * "from" and "until", ISO 8601 with a zone; others are passed over.
 *
 * Across 180 degrees both ways of writing are taken: split there, as RFC 7946
 * section 3.1.9 wants it, or one ring whose longitudes jump (179, then -179) or
 * go on (179, then 181). A line always goes the shorter way round; see
 * earth/ring.h. The order of a ring's corners does not matter.
 */
#ifndef EXCHANGE_GEOJSON_H
#define EXCHANGE_GEOJSON_H

#include "base/arena.h"
#include "base/error.h"
#include "earth/zone.h"
#include <stdbool.h>

/* A larger file is refused before it is read; so are more positions in one
 * file, more zones in all files together, and more pieces of their lines. */
enum {
    GEOJSON_SIZE_LIMIT = 4 << 20,
    GEOJSON_ZONE_LIMIT = 5000,
    GEOJSON_CORNER_LIMIT = 200000,
    GEOJSON_EDGE_LIMIT = 1000000
};

/* Adds the file's zones to `zones`, which is empty (zeroed) or has those of
 * other files. Names and outlines live in `arena`.
 *
 * Errors (STATUS_INPUT) name the file and the line, or the feature by its
 * number from 1 and its name: not JSON, a doubled key, not GeoJSON, another
 * reference system, no feature at all; another geometry or none; coordinates
 * that are no numbers or out of range (latitude 90, longitude 360); a ring with
 * fewer than 4 positions, not closed, crossing or touching itself, round a
 * pole; a Point without a radius or with one outside (0, 600] nmi, or with a
 * pole inside; a time that can't be read or has no zone, until not after from;
 * more than the limits above. */
bool geojson_load_zones(struct zones *zones, const char *path,
                        struct arena *arena, struct error *error);

#endif
