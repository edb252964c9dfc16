/* One field of one message, through ecCodes: what its header says, and its
 * values on our grid. The only file that knows the library.
 *
 * The library may abort or crash on damaged bytes: call grib_read() in a child
 * process (forecast/decode.h), or in tests with bytes that are known good.
 */
#ifndef FORECAST_GRIB_H
#define FORECAST_GRIB_H

#include "base/error.h"
#include "base/instant.h"
#include "forecast/grid.h"
#include "forecast/lead.h"
#include "forecast/packed.h"
#include "forecast/parameter.h"
#include "forecast/resample.h"
#include "forecast/turn.h"
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* What becomes of a field. */
enum fate {
    FATE_USED,
    FATE_UNKNOWN, /* nothing that a plan needs */
    FATE_LEVEL,   /* at a level that is not used */
    FATE_KIND,    /* no forecast of one state: probability, mean, average */
    FATE_TIME,    /* no date, or a time unit that is not known */
    FATE_GRID,    /* on a grid that is not read */
    FATE_DAMAGED, /* sizes or values that can't be */
    FATE_SPARED   /* a quantity that is not asked for */
};

enum { GRIB_CAUSE_SIZE = 96, GRIB_KEY_SIZE = 36 };

/* A grid as it was written, where it had to be put on a lat-lon one. */
struct origin {
    const char *words; /* "a Lambert grid"; NULL: it was a lat-lon grid */
    long ni, nj;       /* ni 0: rows of unlike lengths */
    size_t points;
    double spacing_m;
    struct turn turn; /* of components along its axes */
};

struct grib_field {
    enum fate fate;
    char cause[GRIB_CAUSE_SIZE];    /* "an average"; "" when used */
    char code[PARAMETER_TEXT_SIZE]; /* the numbers of the parameter */
    int edition;
    struct level level;
    /* the rest is filled where `fate` is FATE_USED, `parameter` where it is
     * not FATE_UNKNOWN */
    struct parameter parameter;
    struct instant run;
    struct validity validity;
    struct member member;
    struct grid grid;
    struct grid_part part;       /* what `grid` is of a larger one */
    struct grid_corners corners; /* a lat-lon grid as it was written */
    struct origin origin;        /* another one */
    size_t lead_at;              /* of its four bytes in section 4; 0: none */
    long lead_unit;              /* likewise, of an instant of edition 2 */
    size_t missing;              /* points of `grid` without a value */
    size_t wild;          /* points beyond what nature does, made unknown */
    const float *values;  /* grid_points(&grid), owned by the reader */
    const uint8_t *known; /* 1 where the value is one */
    struct packed packed; /* where `values` is NULL; not by grib_read() */
};

static inline bool grib_field_is_cut(const struct grib_field *field) {
    return grid_points(&field->grid) < grid_points(&field->part.whole);
}

/* Grids whose points were placed already, by the library's digest of their
 * description. */
enum { PLACINGS = 4 };
struct placings {
    const struct grid_bounds *wanted; /* of all grids; NULL: all of them */
    struct placing {
        char key[GRIB_KEY_SIZE]; /* "": none */
        struct resampling resampling;
    } items[PLACINGS];
    int next;
};

/* Memory that is used again for every field. Zeroed at first. */
struct grib_reader {
    uint32_t spared; /* a bit for each enum quantity that is not to be read */
    bool leaves_values; /* reads headers alone */
    double *raw;
    float *values;
    uint8_t *known;
    size_t capacity; /* points */
    float *placed;   /* the same of a grid made */
    uint8_t *placed_known;
    size_t placed_capacity;
    struct placings placings;
};

/* For a child process, before anything else. STATUS_RESOURCE where the
 * library's definitions are not there: it would abort on the first message. */
bool grib_library_check(struct error *error);

/* For a child process: the library says nothing, and where it would abort the
 * process ends with GRIB_ABORTED; without memory for it with GRIB_NO_MEMORY. */
enum { GRIB_ABORTED = 3, GRIB_NO_MEMORY = 5 };
void grib_library_quiet(void);

/* What nature does, with room to spare; `slack` is for the rounding of
 * packing. */
struct grib_limits {
    double low, high, slack;
};
struct grib_limits grib_limits_of(const struct parameter *parameter);

/* Reads one message of one field. Never fails: what can't be used says so in
 * `fate` and `cause`; without memory the process ends with GRIB_NO_MEMORY.
 * `field->values` live until the next call. */
void grib_read(struct grib_reader *reader, const uint8_t *message,
               size_t length, struct grib_field *field);

/* The same for the values alone of a field that is known to be used, from an
 * earlier message with the same header. */
void grib_read_values(struct grib_reader *reader, const uint8_t *message,
                      size_t length, struct grib_field *field);

/* The same for a field that was cut, whose values `field->packed` has: without
 * a bitmap, laid on the grid and within the limits of nature. */
void grib_take_packed(struct grib_reader *reader, struct grib_field *field);

void grib_reader_free(struct grib_reader *reader);

#endif
