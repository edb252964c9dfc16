/* One bin of a file of shorelines: the levels of its corners, one octet of how
 * many segments, five octets each for these, four for each point; and questions
 * to the shore that it makes. */
#include "fuzz.h"

#include "earth/bin.h"
#include "earth/shore_meet.h"
#include "earth/shore_near.h"
#include <assert.h>
#include <string.h>

static const struct coast_box box = {-1.0, 1.0, 9.0, 11.0};
enum { SEGMENT_BYTES = 5, POINT_BYTES = 4 };

/* What is still to be read. */
struct rest {
    const uint8_t *bytes;
    size_t size;
};

/* So many octets, the lowest first; 0 beyond the end. */
static uint32_t next(struct rest *rest, int octets) {
    uint32_t value = 0;
    for (int i = 0; i < octets && rest->size > 0; i++) {
        value |= (uint32_t)*rest->bytes++ << 8 * i;
        rest->size--;
    }
    return value;
}

static struct bin bin_of(struct rest rest, struct arena *arena) {
    struct bin bin = {.corners = (int32_t)next(&rest, 2)};
    bin.segment_count = next(&rest, 1);
    int32_t *packed = arena_alloc(arena, bin.segment_count + 1, sizeof *packed);
    uint32_t *first = arena_alloc(arena, bin.segment_count + 1, sizeof *first);
    for (size_t i = 0; i < bin.segment_count; i++) {
        packed[i] = (int32_t)next(&rest, 4);
        first[i] = next(&rest, 1);
    }
    bin.point_count = rest.size / POINT_BYTES;
    uint16_t *x = arena_alloc(arena, bin.point_count + 1, sizeof *x);
    uint16_t *y = arena_alloc(arena, bin.point_count + 1, sizeof *y);
    for (size_t i = 0; i < bin.point_count; i++) {
        x[i] = (uint16_t)next(&rest, 2);
        y[i] = (uint16_t)next(&rest, 2);
    }
    bin.packed = packed;
    bin.first = first;
    bin.x = x;
    bin.y = y;
    return bin;
}

/* Lakes lie in land, and islands of lakes in lakes: bytes at random may lay
 * them into the sea. */
static bool has_land_alone(const struct bin *bin) {
    for (size_t i = 0; i < bin->segment_count; i++)
        if ((bin->packed[i] >> 6 & 7) > COAST_LAND)
            return false;
    return true;
}

/* A leg from water to land meets the shoreline of the land. */
static void ask(const struct shore *shore, bool land_alone) {
    static const struct position from = {-0.9, 9.1}, to = {0.9, 10.9};
    bool starts_on_sea =
        shore_level(shore, shore_chart(shore, from)) == COAST_SEA;
    bool ends_on_sea = shore_level(shore, shore_chart(shore, to)) == COAST_SEA;
    bool meets = shore_meets(shore, from, to);
    assert(meets || !land_alone || starts_on_sea == ends_on_sea);
    struct position at;
    assert(shore_first_crossing(shore, from, to, &at) == meets);
    assert(shore_segment_distance_m(shore, from, to, 1852.0) >= 0.0);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size) {
    struct arena arena;
    struct shore shore;
    arena_init(&arena);
    struct bin bin = bin_of((struct rest){bytes, size}, &arena);
    shore_begin(&shore, &box, 20.0, &arena);
    if (!bin_fill(&bin, &shore, 0, &arena)) {
        shore_finish(&shore, &arena);
        ask(&shore, has_land_alone(&bin));
    }
    arena_free(&arena);
    return 0;
}
