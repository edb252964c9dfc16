/* GPX 1.1 in and out (and 1.0 in), through libxml2. Element order is that of
 * the schema; times are UTC with Z; coordinates have seven decimals and no
 * exponent. No entity or DTD is ever fetched or expanded. */
#ifndef EXCHANGE_GPX_H
#define EXCHANGE_GPX_H

#include "base/arena.h"
#include "base/error.h"
#include "base/figure.h"
#include "base/instant.h"
#include "earth/position.h"
#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

/* A larger file is refused before it is read: 32 MiB, some 300 000 points. */
enum { GPX_SIZE_LIMIT = 32 << 20 };

struct gpx_point {
    struct position position;
    bool timed;
    struct instant time;
    struct figure variation_deg; /* <magvar>, east positive: written alone */
    const char *name, *description, *symbol, *type; /* NULL where absent */
};

struct gpx_line {
    const char *name, *description; /* NULL where absent */
    struct gpx_point *points;
    size_t count;
};

struct gpx {
    const char *creator, *name, *description; /* NULL where absent */
    bool timed;
    struct instant time; /* of the metadata */
    struct gpx_line *routes;
    size_t route_count;
    struct gpx_line *tracks;
    size_t track_count;    /* segments joined */
    size_t waypoint_count; /* loose <wpt>, not kept */
    bool zone_missing;     /* some time had no zone; UTC was taken */
};

/* Any namespace is taken, that of the root element counting for the file;
 * elements of other namespaces are passed over. Routes and tracks without a
 * point are dropped; texts lose the blanks at their ends; an empty time counts
 * as absent; longitudes up to 360 are brought into [-180, 180).
 *
 * Errors (STATUS_INPUT) name file and line: not well-formed, not GPX, an
 * entity, a latitude beyond 90, a longitude beyond 360, a point without place,
 * a time that can't be read, UTF-16 that can't be read, no route and no track,
 * larger than GPX_SIZE_LIMIT. The texts live in `arena`. */
bool gpx_load(struct gpx *gpx, const char *path, struct arena *arena,
              struct error *error);

/* Positions are rounded to seven decimals (11 mm), longitude 180 becomes -180;
 * texts are cleaned of control characters (exchange/clean.h), absent or empty
 * ones are left out; without a creator "sparwise" stands there. False
 * (STATUS_WRITE) where the stream can't be written. */
bool gpx_write(const struct gpx *gpx, FILE *stream, struct error *error);

#endif
