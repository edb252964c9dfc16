#include "shore_maker.h"

#include "earth/angle.h"
#include "earth/geodesic.h"

static const double TILE_DEG = 10.0;

static bool is_in_tile(const struct shore *shore, size_t tile,
                       struct mercator place) {
    struct mercator low = shore_place(shore, tile, 0.0, 0.0);
    struct mercator high = shore_place(shore, tile, 1.0, 1.0);
    return place.x >= low.x && place.x < high.x && place.y >= low.y &&
           place.y < high.y;
}

/* The line, a turn further east or west if need be, or no points. */
static struct shore_line line_in(const struct shore *shore, size_t tile,
                                 const struct made_line *made,
                                 struct arena *arena) {
    struct mercator *points = arena_alloc(arena, made->count, sizeof *points);
    struct shore_line line = {.points = points,
                              .level = made->level,
                              .entry = SHORE_CLOSED,
                              .exit = SHORE_CLOSED};
    for (int turn = -1; turn <= 1; turn++) {
        struct mercator first = made->points[0];
        first.x += turn * 2.0 * PI;
        if (!is_in_tile(shore, tile, first))
            continue;
        line.count = made->count;
        for (size_t i = 0; i < made->count; i++)
            points[i] = (struct mercator){made->points[i].x + turn * 2.0 * PI,
                                          made->points[i].y};
    }
    return line;
}

void shore_make(struct shore *shore, const struct coast_box *box,
                const struct made_line *lines, size_t count,
                struct arena *arena) {
    shore_begin(shore, box, TILE_DEG, arena);
    size_t tiles = shore->tile_rows * shore->tile_columns;
    for (size_t tile = 0; tile < tiles; tile++) {
        struct shore_line *inside =
            arena_alloc(arena, count + 1, sizeof *inside);
        for (size_t i = 0; i < count; i++)
            inside[i] = line_in(shore, tile, &lines[i], arena);
        shore->tiles[tile].lines = inside;
        shore->tiles[tile].line_count = count;
    }
    shore_finish(shore, arena);
}

struct made_line island_make(struct position middle, double radius_m,
                             size_t corners, struct seed *seed,
                             struct arena *arena) {
    struct mercator *points = arena_alloc(arena, corners + 1, sizeof *points);
    struct mercator centre = mercator_of(middle);
    for (size_t i = 0; i < corners; i++) {
        double course_deg = 360.0 * (double)i / (double)corners;
        double away_m = radius_m * seed_between(seed, 0.5, 1.0);
        points[i] =
            mercator_near(geodesic_ahead(middle, course_deg, away_m), centre);
    }
    points[corners] = points[0];
    return (struct made_line){COAST_LAND, points, corners + 1};
}

struct made_line *islands_make(const struct coast_box *box, size_t count,
                               struct seed *seed, struct arena *arena) {
    struct made_line *lines = arena_alloc(arena, count, sizeof *lines);
    for (size_t i = 0; i < count; i++)
        lines[i] = island_make(
            place_in(box, seed), seed_between(seed, 1.0, 30.0) * 1852.0,
            (size_t)seed_between(seed, 3.0, 60.0), seed, arena);
    return lines;
}

struct position place_in(const struct coast_box *box, struct seed *seed) {
    double lat_deg = seed_between(seed, box->south_deg, box->north_deg);
    double lon_deg = seed_between(seed, box->west_deg, box->east_deg);
    return (struct position){lat_deg, angle_wrap_longitude(lon_deg)};
}
