/* The fields of one GRIB2 message, each as a message of its own.
 *
 * Sections 2 to 7 of a message may be repeated; every section 7 ends a field
 * that is made of the latest section of each number. A bitmap that says "as
 * before" is replaced by the one it means. Nothing else is read.
 */
#ifndef FORECAST_CUT_H
#define FORECAST_CUT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum { CUT_SECTIONS = 8 };

struct cutter {
    const uint8_t *message;
    size_t length, at;
    const uint8_t *section[CUT_SECTIONS]; /* latest of each number, or NULL */
    size_t section_length[CUT_SECTIONS];
    const uint8_t *bitmap; /* latest section 6 that holds one */
    size_t bitmap_length;
    int fields; /* cut so far */
};

enum cut { CUT_FIELD, CUT_END, CUT_DAMAGED };

/* `length` bytes that start with "GRIB", edition 2, and end with "7777". */
void cutter_init(struct cutter *cutter, const uint8_t *message, size_t length);

/* Goes to the end of the next field. CUT_DAMAGED where the sections don't add
 * up to the message; then no more fields come. */
enum cut cutter_next(struct cutter *cutter);

/* Bytes of the field as a message of its own. */
size_t cutter_size(const struct cutter *cutter);

/* Writes them. */
void cutter_write(const struct cutter *cutter, uint8_t *bytes);

#endif
