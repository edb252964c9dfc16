#include "earth/bin.h"

#include <stdbool.h>

enum { PART_LAST = 65535, CORNERS = 4, GROUNDING_LINE = 6 };

struct segment {
    size_t first, count; /* points of the bin */
    enum coast_level level;
    enum shore_side entry, exit;
    bool is_left_out;
};

static int corner_level(const struct bin *bin, int corner) {
    int shift = 3 * (CORNERS - 1 - corner);
    return (int)((uint32_t)bin->corners >> shift & 7U);
}

static bool unpack(const struct bin *bin, size_t number,
                   struct segment *segment) {
    uint32_t packed = (uint32_t)bin->packed[number];
    uint32_t level = packed >> 6 & 7U;
    uint32_t entry = packed >> 3 & 7U, exit = packed & 7U;
    segment->is_left_out = level == GROUNDING_LINE;
    if (segment->is_left_out)
        level = COAST_LAND;
    segment->first = bin->first[number];
    segment->count = bin_points(bin->packed[number]);
    segment->level = (enum coast_level)level;
    segment->entry = (enum shore_side)entry;
    segment->exit = (enum shore_side)exit;
    return level >= COAST_LAND && level <= COAST_POND &&
           entry <= SHORE_CLOSED && exit <= SHORE_CLOSED &&
           (entry == SHORE_CLOSED) == (exit == SHORE_CLOSED) &&
           segment->count > 0 && segment->count <= bin->point_count &&
           segment->first <= bin->point_count - segment->count;
}

static bool is_on_side(const struct bin *bin, size_t point,
                       enum shore_side side) {
    switch (side) {
    case SHORE_SOUTH:
        return bin->y[point] == 0;
    case SHORE_EAST:
        return bin->x[point] == PART_LAST;
    case SHORE_NORTH:
        return bin->y[point] == PART_LAST;
    case SHORE_WEST:
        return bin->x[point] == 0;
    case SHORE_CLOSED:
        return true;
    }
    return false;
}

static bool ends_fit(const struct bin *bin, const struct segment *segment) {
    size_t first = segment->first, last = first + segment->count - 1;
    if (segment->entry == SHORE_CLOSED)
        return bin->x[first] == bin->x[last] && bin->y[first] == bin->y[last];
    return is_on_side(bin, first, segment->entry) &&
           is_on_side(bin, last, segment->exit);
}

/* Round the bin the level changes where a shoreline ends, and nowhere else. */
static bool corners_fit(const struct bin *bin, const struct segment *segments) {
    bool odd[CORNERS][COAST_POND + 1] = {{false}};
    for (size_t i = 0; i < bin->segment_count; i++) {
        const struct segment *segment = &segments[i];
        if (segment->is_left_out || segment->entry == SHORE_CLOSED)
            continue;
        odd[segment->entry][segment->level] ^= true;
        odd[segment->exit][segment->level] ^= true;
    }
    for (int side = 0; side < CORNERS; side++) {
        int from = corner_level(bin, side);
        int to = corner_level(bin, (side + 1) % CORNERS);
        for (int level = COAST_LAND; level <= COAST_POND; level++) {
            if (((from >= level) != (to >= level)) != odd[side][level])
                return false;
        }
    }
    return corner_level(bin, 0) <= COAST_POND;
}

static struct shore_line line_of(const struct bin *bin,
                                 const struct segment *segment,
                                 const struct shore *shore, size_t tile,
                                 struct arena *arena) {
    struct mercator *points =
        arena_alloc(arena, segment->count, sizeof *points);
    for (size_t i = 0; i < segment->count; i++) {
        size_t point = segment->first + i;
        points[i] = shore_place(shore, tile, (double)bin->x[point] / PART_LAST,
                                (double)bin->y[point] / PART_LAST);
    }
    return (struct shore_line){.points = points,
                               .count = segment->count,
                               .level = segment->level,
                               .entry = segment->entry,
                               .exit = segment->exit};
}

/* All segments of the bin, in `scratch`. */
static const char *unpack_all(const struct bin *bin, struct segment *segments) {
    for (size_t i = 0; i < bin->segment_count; i++) {
        if (!unpack(bin, i, &segments[i]))
            return "a segment";
        if (!ends_fit(bin, &segments[i]))
            return "a loose end";
    }
    return corners_fit(bin, segments) ? NULL : "levels that do not fit";
}

const char *bin_fill(const struct bin *bin, struct shore *shore, size_t tile,
                     struct arena *arena) {
    struct arena scratch;
    arena_init(&scratch);
    size_t count = bin->segment_count, used = 0;
    struct segment *segments =
        arena_alloc(&scratch, count + 1, sizeof *segments);
    const char *wrong = unpack_all(bin, segments);
    if (!wrong && count > 0) {
        struct shore_line *lines = arena_alloc(arena, count, sizeof *lines);
        for (size_t i = 0; i < count; i++) {
            if (!segments[i].is_left_out)
                lines[used++] = line_of(bin, &segments[i], shore, tile, arena);
        }
        shore->tiles[tile].lines = lines;
        shore->tiles[tile].line_count = used;
    }
    if (!wrong)
        shore->tiles[tile].corner = (enum coast_level)corner_level(bin, 0);
    arena_free(&scratch);
    return wrong;
}
