/* Makes GRIB messages for tests and samples: the GRIB library's own blank
 * message with keys set. */
#ifndef TESTS_GRIB_MAKER_H
#define TESTS_GRIB_MAKER_H

#include "base/instant.h"
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct grib_setting {
    const char *key;
    long value;
};

/* A key of another kind of grid than lat-lon. */
struct grib_key {
    const char *key;
    double value;
};

enum { GRIB_SETTINGS = 12 };

/* One field. Zero means a default where one is named. */
struct grib_spec {
    int edition; /* default 2 */
    int discipline, category, number;
    int table, centre;     /* edition 1; defaults 2 and 7; centre 98 in 2 */
    int level_type, level; /* default of edition 2: 103, 10 m; of 1: 105 */
    int product;           /* template of edition 2, default 0 */
    struct civil run;      /* default 2024-02-28 18:00 */
    int unit, lead;        /* as written; default unit: hours */
    bool unit_is_minutes;  /* unit 0 */
    int ni, nj;            /* default 2 x 2 */
    double first_lat, first_lon, last_lat, last_lon; /* all 0: 50N 10W-9W 49N */
    const char *sample;          /* another blank than the lat-lon one */
    const struct grib_key *grid; /* another kind of grid: up to a NULL */
    size_t points;               /* of that one */
    const double *values;        /* ni * nj or points; NULL: all are `fill` */
    double fill;
    bool masked; /* values of `hole` go into the bitmap */
    double hole;
    int bits;                                 /* default 16 */
    const char *packing;                      /* default grid_simple */
    struct grib_setting early[GRIB_SETTINGS]; /* before the grid */
    struct grib_setting late[GRIB_SETTINGS];  /* after the values */
};

/* Bytes that grow. Zeroed at first. */
struct grib_bytes {
    uint8_t *bytes;
    size_t size, capacity;
};

/* Appends the message; aborts where the library refuses. Returns where it
 * starts. */
size_t grib_add(struct grib_bytes *bytes, const struct grib_spec *spec);
void grib_add_bytes(struct grib_bytes *bytes, const void *more, size_t size);
void grib_add_text(struct grib_bytes *bytes, const char *text);

/* Appends u and v of the same spec: numbers 2, 3 (33, 34 in edition 1). */
void grib_add_wind(struct grib_bytes *bytes, const struct grib_spec *spec,
                   double east_mps, double north_mps);

/* Appends one GRIB2 message that holds the fields of two, whose sections 1 to
 * 3 are the same. `reuse_bitmap`: the second says "bitmap as before". */
void grib_add_joined(struct grib_bytes *bytes, const struct grib_spec *first,
                     const struct grib_spec *second, bool reuse_bitmap);

/* Writes a file; aborts where it can't. */
void grib_save(const struct grib_bytes *bytes, const char *path);
void grib_free(struct grib_bytes *bytes);

#endif
