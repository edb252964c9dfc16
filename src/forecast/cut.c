#include "forecast/cut.h"

#include <assert.h>
#include <string.h>

enum {
    INDICATOR = 16, /* bytes of section 0 */
    END_MARK = 4,
    HEAD = 5, /* length and number of a section */
    LENGTH_AT = 8,
    BITMAP_AS_BEFORE = 254
};

void cutter_init(struct cutter *cutter, const uint8_t *message, size_t length) {
    assert(length >= INDICATOR + END_MARK);
    *cutter =
        (struct cutter){.message = message, .length = length, .at = INDICATOR};
}

/* A section 6 of "as before" means the latest bitmap there was. */
static bool take_bitmap(struct cutter *cutter) {
    const uint8_t *section = cutter->section[6];
    if (cutter->section_length[6] <= HEAD)
        return false;
    if (section[HEAD] == BITMAP_AS_BEFORE) {
        cutter->section[6] = cutter->bitmap;
        cutter->section_length[6] = cutter->bitmap_length;
        return cutter->bitmap != NULL;
    }
    if (section[HEAD] == 0) {
        cutter->bitmap = section;
        cutter->bitmap_length = cutter->section_length[6];
    }
    return true;
}

/* Takes the section at the present place; its number, or 0 for damage. */
static int take_section(struct cutter *cutter) {
    const uint8_t *section = cutter->message + cutter->at;
    size_t left = cutter->length - END_MARK - cutter->at;
    if (left < HEAD)
        return 0;
    size_t length = (size_t)section[0] << 24 | (size_t)section[1] << 16 |
                    (size_t)section[2] << 8 | section[3];
    int number = section[4];
    if (length < HEAD || length > left || number < 1 || number >= CUT_SECTIONS)
        return 0;
    cutter->section[number] = section;
    cutter->section_length[number] = length;
    cutter->at += length;
    if (number == 6 && !take_bitmap(cutter))
        return 0;
    return number;
}

/* All sections of a field are there; section 2 is optional. */
static bool is_complete(const struct cutter *cutter) {
    for (int number = 1; number < CUT_SECTIONS; number++) {
        if (number != 2 && !cutter->section[number])
            return false;
    }
    return true;
}

static enum cut damaged(struct cutter *cutter) {
    cutter->at = cutter->length - END_MARK;
    return CUT_DAMAGED;
}

enum cut cutter_next(struct cutter *cutter) {
    if (cutter->at == cutter->length - END_MARK)
        return cutter->fields > 0 ? CUT_END : CUT_DAMAGED;
    for (;;) {
        int number = take_section(cutter);
        if (number == 0 || (number == 7 && !is_complete(cutter)))
            return damaged(cutter);
        if (number == 7)
            break;
        if (cutter->at == cutter->length - END_MARK)
            return damaged(cutter);
    }
    cutter->fields++;
    return CUT_FIELD;
}

size_t cutter_size(const struct cutter *cutter) {
    size_t size = INDICATOR + END_MARK;
    for (int number = 1; number < CUT_SECTIONS; number++) {
        if (cutter->section[number])
            size += cutter->section_length[number];
    }
    return size;
}

void cutter_write(const struct cutter *cutter, uint8_t *bytes) {
    size_t size = cutter_size(cutter);
    uint8_t *to = bytes + INDICATOR;
    memcpy(bytes, cutter->message, INDICATOR);
    for (int i = 0; i < 8; i++)
        bytes[LENGTH_AT + i] = (uint8_t)((uint64_t)size >> (56 - 8 * i));
    for (int number = 1; number < CUT_SECTIONS; number++) {
        if (!cutter->section[number])
            continue;
        memcpy(to, cutter->section[number], cutter->section_length[number]);
        to += cutter->section_length[number];
    }
    memcpy(to, "7777", END_MARK);
}
