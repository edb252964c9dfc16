/* GPX 1.1 in and out (and 1.0 in), through libxml2. Element order is that of
 * the schema; times are UTC with Z; coordinates have seven decimals and no
 * exponent. No entity or DTD is ever fetched or expanded. */
#ifndef EXCHANGE_GPX_H
#define EXCHANGE_GPX_H

#include "base/arena.h"
#include "base/error.h"
#include "base/instant.h"
#include "earth/position.h"
#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

struct gpx_point {
    struct position position;
    bool timed;
    struct instant time;
    const char *name, *description, *symbol, *type; /* NULL where absent */
};

struct gpx_line {
    const char *name, *description; /* NULL where absent */
    struct gpx_point *points;
    size_t count;
};

struct gpx {
    const char *creator, *name, *description;
    bool timed;
    struct instant time; /* of the metadata */
    struct gpx_line *routes;
    size_t route_count;
    struct gpx_line *tracks;
    size_t track_count;    /* segments joined */
    size_t waypoint_count; /* loose <wpt>, not kept */
    bool zone_missing;     /* some time had no zone; UTC was taken */
};

/* Errors name file and line: not well-formed, not GPX, a latitude beyond 90, a
 * point without place, UTF-16 that can't be read, no route and no track. */
bool gpx_load(struct gpx *gpx, const char *path, struct arena *arena,
              struct error *error);

/* False where the stream can't be written. */
bool gpx_write(const struct gpx *gpx, FILE *stream, struct error *error);

#endif
