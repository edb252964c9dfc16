/* A forecast file as bytes: where its messages stand, and what else is in it.
 *
 * A message starts with "GRIB", says its edition and its length, and ends with
 * "7777". Stray bytes before, between and after messages are skipped and
 * counted; zeros are padding and not counted. A message that is cut short or
 * damaged is a loss with its place; the search goes on four bytes later, so
 * that a whole message swallowed by a damaged one is still found. No length is
 * believed beyond the size of the file.
 */
#ifndef FORECAST_SCAN_H
#define FORECAST_SCAN_H

#include "base/arena.h"
#include "base/error.h"
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* Messages of a file that are read, losses that are listed. */
enum { SCAN_MESSAGE_LIMIT = 1000000, SCAN_LOSS_LIMIT = 1000 };

/* The largest file; and the largest message, a longer one is a loss. */
#define SCAN_FILE_BYTES ((size_t)4 << 30)
#define SCAN_LENGTH_BYTES ((size_t)1 << 30)

struct message_span {
    size_t offset, length;
    int edition; /* 1 or 2 */
};

struct scan_loss {
    size_t offset;
    bool cut_short;             /* the file ends inside the message */
    size_t there_bytes, length; /* of a message cut short */
};

struct scan {
    struct message_span *messages;
    size_t count, capacity;
    struct scan_loss *losses; /* the first SCAN_LOSS_LIMIT of them */
    size_t loss_count, loss_capacity;
    size_t stray_bytes;
    bool full; /* there are more messages than are read */
};

/* Finds all messages of `size` bytes. The lists live in `arena`. */
struct scan scan_bytes(const uint8_t *bytes, size_t size, struct arena *arena);

struct source {
    const char *path;
    const uint8_t *bytes; /* the file, read-only */
    size_t size;
    struct scan scan;
};

/* Maps the file and scans it. STATUS_INPUT, one line each: not there, a
 * directory, no permission, empty, too large, a web page, compressed, another
 * format, no whole message in it. `path` must live as long as the source. */
bool source_open(struct source *source, const char *path, struct arena *arena,
                 struct error *error);

/* Safe on a source that could not be opened. */
void source_close(struct source *source);

/* Is it a byte of a source that is open? For a handler of SIGBUS, which reading
 * a file raises that has become shorter since it was mapped. */
bool source_holds(const void *address);

/* Has the file become shorter, or gone, since it was opened? */
bool source_is_shorter(const struct source *source);

#endif
