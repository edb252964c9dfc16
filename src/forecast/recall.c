#include "forecast/recall.h"

#include <string.h>

enum { DISCIPLINE_AT = 6, LEAD_BYTES = 4, NEGATIVE = 0x80 };

/* The bytes that say what a field is; their number, or 0 for too many. Section
 * 4 comes last, at `*last`. */
static size_t header_of(const struct cutter *cutter,
                        uint8_t bytes[RECALL_BYTES], size_t *last) {
    size_t length = 1;
    bytes[0] = cutter->message[DISCIPLINE_AT];
    for (int number = 1; number <= 4; number++) {
        if (!cutter->section[number])
            continue;
        if (cutter->section_length[number] > RECALL_BYTES - length)
            return 0;
        *last = length;
        memcpy(bytes + length, cutter->section[number],
               cutter->section_length[number]);
        length += cutter->section_length[number];
    }
    return length;
}

static bool is_same_header(const struct recalled *old, const uint8_t *bytes,
                           size_t length) {
    size_t behind = old->lead_at + LEAD_BYTES;
    return old->length == length &&
           memcmp(old->bytes, bytes, old->lead_at) == 0 &&
           memcmp(old->bytes + behind, bytes + behind, length - behind) == 0;
}

/* False where the time is one for the library to judge. */
static bool put_lead(struct grib_field *field, const uint8_t *lead) {
    int64_t count = (int64_t)lead[0] << 24 | (int64_t)lead[1] << 16 |
                    (int64_t)lead[2] << 8 | lead[3];
    int64_t lead_s;
    if (lead[0] & NEGATIVE ||
        !lead_seconds(2, field->lead_unit, count, &lead_s))
        return false;
    struct instant at = {field->run.unix_s + lead_s};
    field->validity = (struct validity){.start = at, .end = at};
    return true;
}

bool recall_header(const struct recall *recall, const struct cutter *cutter,
                   struct grib_field *field) {
    uint8_t bytes[RECALL_BYTES];
    size_t last, length = header_of(cutter, bytes, &last);
    for (size_t i = 0; i < recall->count; i++) {
        const struct recalled *old = &recall->headers[i];
        if (!is_same_header(old, bytes, length))
            continue;
        *field = old->field;
        return field->fate != FATE_USED ||
               put_lead(field, bytes + old->lead_at);
    }
    return false;
}

/* What was said has nothing to do with the lead time, nor with the values. */
static bool is_lasting(const struct grib_field *field) {
    return field->lead_at > 0 &&
           (field->fate == FATE_USED || field->fate == FATE_UNKNOWN ||
            field->fate == FATE_LEVEL || field->fate == FATE_SPARED);
}

void recall_keep(struct recall *recall, const struct cutter *cutter,
                 const struct grib_field *field) {
    struct recalled *header = &recall->headers[recall->next];
    size_t last = 0;
    if (!is_lasting(field))
        return;
    header->length = header_of(cutter, header->bytes, &last);
    header->lead_at = last + field->lead_at;
    /* section 4 may be too short for it: the library does not mind */
    if (header->length < header->lead_at + LEAD_BYTES)
        return;
    header->field = *field;
    header->field.values = NULL;
    header->field.known = NULL;
    header->field.missing = header->field.wild = 0;
    recall->next = (recall->next + 1) % RECALL_HEADERS;
    if (recall->count < RECALL_HEADERS)
        recall->count++;
}
