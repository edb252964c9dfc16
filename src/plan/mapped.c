/* Land is put together tile by tile, without asking on which side of a
 * shoreline it lies: each stretch is closed along the edge of its tile by the
 * way that does not pass the south-west corner. So no shape holds that corner,
 * and where the corner is land, the tile itself is one shape more: even-odd,
 * what they hold together is the land.
 */
#include "plan/mapped.h"

#include "earth/angle.h"
#include "plan/thinned.h"

#include <math.h>

/* Part of the width of the chart that a line may be off: a fifth of a
 * millimetre on a sheet of A4. */
static const double THIN_FRAC = 1.0 / 1000.0;

/* Drawn beyond the edges, so that no edge of the box is drawn as a shore. */
static const double BEYOND_FRAC = 0.02;

/* Rounds of thinning, each twice as coarse as the last. */
enum { THIN_ROUNDS = 12 };

/* A chart begins within one of the world, and so does a shore. */
enum { TURNS = 2 };

/* What one round of thinning makes. */
struct mapping {
    const struct shore *shore;
    struct chart_box box; /* a little wider than the chart */
    double off, shift;
    struct plan_shapes *shapes;
    struct arena *arena;
};

static struct chart_box wider(struct chart_box box) {
    double by = BEYOND_FRAC * (box.high.x - box.low.x);
    box.low.x -= by;
    box.low.y -= by;
    box.high.x += by;
    box.high.y += by;
    return box;
}

/* South-west, south-east, north-east, north-west. */
struct tile_corners {
    struct mercator at[4];
};

static struct tile_corners corners_of(const struct shore *shore, size_t tile) {
    return (struct tile_corners){{shore_place(shore, tile, 0.0, 0.0),
                                  shore_place(shore, tile, 1.0, 0.0),
                                  shore_place(shore, tile, 1.0, 1.0),
                                  shore_place(shore, tile, 0.0, 1.0)}};
}

/* How far round a tile's edge a place on that side is, against the clock from
 * its south-west corner, [0, 4]. */
static double round_edge(const struct tile_corners *corners,
                         enum shore_side side, struct mercator place) {
    struct mercator a = corners->at[side], b = corners->at[(side + 1) % 4];
    return (double)side + chart_foot(a, b, place);
}

/* The corners from the end of a stretch back to its start, the south-west one
 * left out. */
static size_t close_line(const struct tile_corners *corners,
                         const struct shore_line *line, struct mercator *to) {
    double end = round_edge(corners, line->exit, line->points[line->count - 1]);
    double start = round_edge(corners, line->entry, line->points[0]);
    size_t count = 0;
    for (int i = 1; i <= 3 && end < start; i++)
        if (i > end && i < start)
            to[count++] = corners->at[i];
    for (int i = 3; i >= 1 && end > start; i--)
        if (i < end && i > start)
            to[count++] = corners->at[i];
    return count;
}

/* Drawn it is nothing, or a line along a side of the box. */
static bool is_flat(const struct mercator *points, size_t count) {
    struct chart_box box = {points[0], points[0]};
    for (size_t i = 1; i < count; i++)
        box = chart_box_with(box, points[i]);
    return box.high.x <= box.low.x || box.high.y <= box.low.y;
}

static void add_line(struct mapping *mapping,
                     const struct tile_corners *corners,
                     const struct shore_line *line, struct arena *scratch) {
    bool closed = line->entry == SHORE_CLOSED;
    struct mercator *moved = arena_alloc(scratch, line->count, sizeof *moved);
    struct mercator *points =
        arena_alloc(scratch, line->count + 3, sizeof *points);
    for (size_t i = 0; i < line->count; i++)
        moved[i] = thinned_into(line->points[i], mapping->shift, &mapping->box);
    size_t shore =
        thinned_line(moved, line->count, mapping->off, points, scratch);
    size_t count = shore;
    if (!closed)
        count += close_line(corners, line, points + shore);
    for (size_t i = shore; i < count; i++)
        points[i] = thinned_into(points[i], mapping->shift, &mapping->box);
    if (count < 3 || is_flat(points, count))
        return;
    struct plan_shape shape = {
        .points = arena_alloc(mapping->arena, count, sizeof *shape.points),
        .count = count,
        .shore_count = shore,
        .is_ring = closed};
    for (size_t i = 0; i < count; i++)
        shape.points[i] = points[i];
    thinned_add(mapping->shapes, shape, mapping->arena);
}

static void add_whole(struct mapping *mapping,
                      const struct tile_corners *corners) {
    struct plan_shape shape = {
        .points = arena_alloc(mapping->arena, 4, sizeof *shape.points),
        .count = 4};
    for (int i = 0; i < 4; i++)
        shape.points[i] =
            thinned_into(corners->at[i], mapping->shift, &mapping->box);
    if (!is_flat(shape.points, 4))
        thinned_add(mapping->shapes, shape, mapping->arena);
}

static bool touches(const struct mapping *mapping,
                    const struct tile_corners *corners) {
    struct chart_box tile = {corners->at[0], corners->at[2]};
    tile.low.x += mapping->shift;
    tile.high.x += mapping->shift;
    return chart_boxes_touch(&tile, &mapping->box);
}

static void add_tile(struct mapping *mapping, size_t index) {
    const struct shore_tile *tile = &mapping->shore->tiles[index];
    struct tile_corners corners = corners_of(mapping->shore, index);
    struct arena scratch;
    if (!touches(mapping, &corners))
        return;
    arena_init(&scratch);
    if (tile->corner >= COAST_LAND)
        add_whole(mapping, &corners);
    for (size_t i = 0; i < tile->line_count; i++)
        if (tile->lines[i].level == COAST_LAND && tile->lines[i].count > 1)
            add_line(mapping, &corners, &tile->lines[i], &scratch);
    arena_free(&scratch);
}

/* A shore all the way round has some of its tiles twice. */
static bool is_first_turn(const struct shore *shore, size_t tile) {
    double column = (double)(tile % shore->tile_columns);
    return column * shore->tile_deg < 360.0;
}

/* The chart may be some turns east or west of where the tiles are counted. */
static void add_tiles(struct mapping *mapping) {
    const struct shore *shore = mapping->shore;
    for (int turn = -TURNS; turn <= TURNS; turn++) {
        mapping->shift = 2.0 * PI * turn;
        for (size_t i = 0; i < shore->tile_rows * shore->tile_columns; i++)
            if (is_first_turn(shore, i))
                add_tile(mapping, i);
    }
}

/* Tiles stand all round a wide box, and the same way for each turn. */
static struct chart_box covered_by(const struct shore *shore,
                                   const struct chart_box *box) {
    size_t last = shore->tile_rows * shore->tile_columns - 1;
    struct chart_box covered = {shore_place(shore, 0, 0.0, 0.0),
                                shore_place(shore, last, 1.0, 1.0)};
    double middle = 0.5 * (covered.low.x + covered.high.x);
    double turn =
        2.0 * PI *
        round((0.5 * (box->low.x + box->high.x) - middle) / (2.0 * PI));
    covered.low.x += turn;
    covered.high.x += turn;
    if (covered.high.x - covered.low.x >= 2.0 * PI) {
        covered.low.x = box->low.x;
        covered.high.x = box->high.x;
    }
    return covered;
}

void mapped_land(struct plan_chart *chart, const struct shore *shore,
                 struct arena *arena) {
    struct mapping mapping = {
        .shore = shore,
        .box = wider(chart->box),
        .off = THIN_FRAC * (chart->box.high.x - chart->box.low.x) / 4.0,
        .shapes = &chart->land,
        .arena = arena};
    chart->has_coast = true;
    chart->covered = covered_by(shore, &chart->box);
    for (int i = 0; i < THIN_ROUNDS; i++) {
        chart->land = (struct plan_shapes){.count = 0};
        add_tiles(&mapping);
        if (chart->land.point_count <= MAPPED_POINTS)
            return;
        mapping.off *= 2.0;
    }
}

/* --- zones ----------------------------------------------------------------*/

static void add_ring(struct mapping *mapping, const struct outline *outline) {
    struct arena scratch;
    arena_init(&scratch);
    size_t count = outline->count + 1;
    struct mercator *moved = arena_alloc(&scratch, count, sizeof *moved);
    struct plan_shape shape = {
        .points = arena_alloc(mapping->arena, count, sizeof *shape.points),
        .is_ring = true};
    for (size_t i = 0; i < count; i++)
        moved[i] = thinned_into(
            (struct mercator){outline->points[i].x, outline->points[i].y},
            mapping->shift, &mapping->box);
    shape.count =
        thinned_line(moved, count, mapping->off, shape.points, &scratch) - 1;
    shape.shore_count = shape.count;
    if (shape.count >= 3 && !is_flat(shape.points, shape.count))
        thinned_add(mapping->shapes, shape, mapping->arena);
    arena_free(&scratch);
}

static void add_zone(struct plan_chart *chart, struct mapping *mapping,
                     const struct zone *zone) {
    struct plan_area *area = &chart->zones[chart->zone_count];
    *area = (struct plan_area){.name = zone->name,
                               .from_known = zone->from_known,
                               .until_known = zone->until_known,
                               .from = zone->from,
                               .until = zone->until};
    mapping->shapes = &area->rings;
    for (int turn = -TURNS; turn <= TURNS; turn++) {
        mapping->shift = 2.0 * PI * turn;
        for (size_t i = 0; i < zone->ring_count; i++)
            add_ring(mapping, &zone->rings[i].outline);
    }
    chart->zone_count += area->rings.count > 0;
}

void mapped_zones(struct plan_chart *chart, const struct zones *zones,
                  struct arena *arena) {
    struct mapping mapping = {
        .box = wider(chart->box),
        .off = THIN_FRAC * (chart->box.high.x - chart->box.low.x) / 4.0,
        .arena = arena};
    chart->zones = arena_alloc(arena, zones->count + 1, sizeof *chart->zones);
    for (size_t i = 0; i < zones->count; i++)
        add_zone(chart, &mapping, &zones->items[i]);
}
