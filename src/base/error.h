/* What went wrong, told once, where the fact is known.
 *
 * A function that can fail on bad input takes a `struct error *` last, returns
 * false, and fills it with error_set(). Callers may put a place in front with
 * error_at(). Messages: lower case, cause first, 'subject' quoted, no full
 * stop, and what to do next after "; ". Our own mistakes are asserted instead.
 */
#ifndef BASE_ERROR_H
#define BASE_ERROR_H

#include <stdbool.h>

/* Exit status of the program (docs/files.md). */
enum status {
    STATUS_DONE = 0,
    STATUS_NO_ROUTE = 1, /* no route inside the forecast */
    STATUS_USAGE = 2,    /* wrong usage of the command line */
    STATUS_INPUT = 3,    /* a file or a value is bad */
    STATUS_OUTSIDE = 4,  /* outside the forecast: area, time, missing field */
    STATUS_WRITE = 5,    /* can't write, or a plan is already there */
    STATUS_BUG = 70,     /* a mistake of ours */
    STATUS_RESOURCE = 71 /* out of memory, or library data missing */
};

enum { ERROR_TEXT_SIZE = 1024 };

struct error {
    enum status status;
    char text[ERROR_TEXT_SIZE];
};

/* Fills `error` and returns false, so that `return error_set(...)` reads as
 * one sentence. A longer text is cut at ERROR_TEXT_SIZE - 1 bytes. */
bool error_set(struct error *error, enum status status, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* STATUS_RESOURCE where `errno` says that memory or descriptors are out, else
 * `status`. */
enum status error_status_now(enum status status);

/* Puts a place in front of the text: error_at(e, "%s:%d", file, line) turns
 * "unknown key" into "boat.ini:7: unknown key". Returns false. */
bool error_at(struct error *error, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

#endif
