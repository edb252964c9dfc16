/* Messages to fields, in child processes.
 *
 * The GRIB library can abort or crash on damaged bytes. So children decode,
 * into memory that they share with us, and say which message they are at: when
 * one dies, that message is lost, with its cause, and another child goes on
 * with the next. Memory and processor time per message are limited. The result
 * does not depend on the number of children. The parent never calls the
 * library: it keeps locks that some OpenMP runtimes lose in a fork.
 */
#ifndef FORECAST_DECODE_H
#define FORECAST_DECODE_H

#include "base/arena.h"
#include "base/error.h"
#include "forecast/grib.h"
#include "forecast/scan.h"
#include <stdbool.h>
#include <stddef.h>

/* Most that all fields of one load may take, decoded. */
#define DECODE_BYTES_LIMIT ((size_t)4 << 30)

/* A field and where it came from. */
struct decoded {
    size_t source, message;  /* indexes, from 0 */
    int number;              /* of the field in its message, from 1 */
    struct grib_field field; /* its values live as long as the batch */
};

/* A message that could not be decoded, wholly or from some field on. */
struct lost {
    size_t source, message;
    const char *cause; /* "decoding took more than 20 s" */
};

struct batch {
    struct decoded *fields; /* in order of source, message, number */
    size_t count, capacity;
    struct lost *losses; /* in order of source, message */
    size_t loss_count, loss_capacity;
    struct board *board; /* shared memory that holds the values */
};

/* Decodes every message of `count` sources, with the children that `options`
 * names, but what they spare.
 * Lists live in `arena`, values until batch_free(). STATUS_INPUT where the
 * fields are more than DECODE_BYTES_LIMIT; STATUS_RESOURCE where no child can
 * be started. */
bool batch_decode(struct batch *batch, const struct source *sources,
                  size_t count, const struct forecast_options *options,
                  struct arena *arena, struct error *error);

void batch_free(struct batch *batch);

#endif
