/* A forecast file as bytes: its messages, their fields, values that are packed
 * in the simple way. What needs the GRIB library is in grib.c. */
#include "fuzz.h"

#include "forecast/cut.h"
#include "forecast/packed.h"
#include "forecast/scan.h"
#include <assert.h>
#include <string.h>

/* All points in one row, in the order of the message. */
static void unpack(struct packed *packed, size_t points, struct arena *arena) {
    struct grid_corners corners = {.ni = (long)points, .nj = 1};
    size_t missing;
    if (points == 0 || !packed_lay(packed, &corners, &missing) ||
        !packed_within(packed, -1e3, 1e6, 0.0))
        return;
    int count = (int)points;
    packed_move(packed, arena_alloc(arena, packed_room(packed), 1));
    float *values = arena_alloc(arena, points, sizeof *values);
    uint8_t *known = arena_alloc(arena, points, 1);
    packed_row(packed, 0, 0, count, values, known);
    for (size_t i = 0; i < points; i++)
        assert(!known[i] || (values[i] >= 0.0F && values[i] <= 1e6F));
}

static void take_field(const struct cutter *cutter, struct arena *arena) {
    struct packed packed;
    size_t size = cutter_size(cutter);
    uint8_t *alone = arena_alloc(arena, size, 1);
    cutter_write(cutter, alone);
    assert(memcmp(alone, "GRIB", 4) == 0);
    assert(memcmp(alone + size - 4, "7777", 4) == 0);
    if (packed_find(&packed, cutter))
        unpack(&packed, packed.bitmap ? packed.bitmap_size * 8 : packed.count,
               arena);
}

static void take_message(const uint8_t *message, size_t length,
                         struct arena *arena) {
    struct cutter cutter;
    cutter_init(&cutter, message, length);
    while (cutter_next(&cutter) == CUT_FIELD)
        take_field(&cutter, arena);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size) {
    struct arena arena;
    arena_init(&arena);
    struct scan scan = scan_bytes(bytes, size, &arena);
    for (size_t i = 0; i < scan.count; i++) {
        const struct message_span *span = &scan.messages[i];
        assert(span->offset <= size && span->length <= size - span->offset);
        if (span->edition == 2)
            take_message(bytes + span->offset, span->length, &arena);
    }
    arena_free(&arena);
    return 0;
}
