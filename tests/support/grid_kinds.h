/* Grids other than lat-lon, one of each kind: what a message says of them, and
 * where to look. */
#ifndef TESTS_GRID_KINDS_H
#define TESTS_GRID_KINDS_H

#include "grib_maker.h"

#include "earth/position.h"

enum { GRID_KIND_KEYS = 24, GRID_KIND_PLACES = 6 };

struct grid_kind {
    const char *name, *words; /* as the description has it */
    int edition;
    const char *sample;
    size_t points;
    double cell_deg;
    /* up to a NULL; scanning mode 0x40 but where `as_it_is` */
    struct grib_key keys[GRID_KIND_KEYS];
    bool as_it_is; /* the library itself places it in its own order */
    int scan;      /* else the order of the message; 0: 0x40 */
    struct position inside[GRID_KIND_PLACES], outside;
};

extern const struct grid_kind grid_kinds[];
extern const size_t grid_kind_count;

/* The one of that name. This and the next two end the test where there is
 * none. */
const struct grid_kind *grid_kind_named(const char *name);

double grid_kind_key(const struct grid_kind *kind, const char *key);
void grid_kind_set(struct grid_kind *kind, const char *key, double value);

/* A message of it; good for as long as `kind` is there. */
struct grib_spec grid_kind_spec(const struct grid_kind *kind);

#endif
