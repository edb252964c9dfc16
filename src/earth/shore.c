#include "earth/shore.h"

#include "earth/angle.h"
#include "earth/chart.h"

#include <assert.h>
#include <math.h>

enum { COAST_LEVELS = COAST_POND };

/* A degree of latitude is nowhere shorter. */
static const double DEGREE_LEAST_M = 110570.0;

/* The box, and SHORE_REACH_M about it. */
static struct raster_frame frame_about(const struct shore *shore) {
    const struct coast_box *box = &shore->box;
    double up_deg = SHORE_REACH_M / DEGREE_LEAST_M;
    struct raster_frame frame = {
        .south_deg = fmax(box->south_deg - up_deg, -90.0),
        .north_deg = fmin(box->north_deg + up_deg, 90.0)};
    double far_deg =
        fmin(fmax(-frame.south_deg, frame.north_deg), RASTER_STOP_DEG);
    double degree_m = mercator_scale_m(far_deg) * RADIANS_PER_DEGREE;
    double aside_deg = fmin(SHORE_REACH_M / degree_m, 180.0);
    frame.west_deg = box->west_deg - aside_deg;
    frame.east_deg = box->east_deg + aside_deg;
    return frame;
}

static void lay_tiles(struct shore *shore, const struct raster_frame *frame,
                      struct arena *arena) {
    double tile_deg = shore->tile_deg;
    double first_row = floor((frame->south_deg + 90.0) / tile_deg);
    double first_column = floor(frame->west_deg / tile_deg);
    double rows = ceil((frame->north_deg + 90.0) / tile_deg) - first_row;
    double columns = ceil(frame->east_deg / tile_deg) - first_column;
    shore->south_deg = first_row * tile_deg - 90.0;
    shore->west_deg = first_column * tile_deg;
    shore->tile_rows = (size_t)rows;
    shore->tile_columns = (size_t)columns;
    shore->tiles = arena_alloc(arena, shore->tile_rows * shore->tile_columns,
                               sizeof *shore->tiles);
    shore->tile_y =
        arena_alloc(arena, shore->tile_rows + 1, sizeof *shore->tile_y);
    for (size_t i = 0; i <= shore->tile_rows; i++) {
        double lat_deg = shore->south_deg + (double)i * tile_deg;
        shore->tile_y[i] = mercator_of((struct position){lat_deg, 0.0}).y;
    }
}

void shore_begin(struct shore *shore, const struct coast_box *box,
                 double tile_deg, struct arena *arena) {
    assert(-90.0 <= box->south_deg && box->south_deg <= box->north_deg &&
           box->north_deg <= 90.0);
    assert(-180.0 <= box->west_deg && box->west_deg < 180.0);
    assert(box->west_deg <= box->east_deg &&
           box->east_deg <= box->west_deg + 360.0);
    *shore = (struct shore){.box = *box, .tile_deg = tile_deg};
    shore->is_round = box->east_deg - box->west_deg > 180.0;
    if (shore->is_round)
        shore->box.east_deg = box->west_deg + 360.0;
    struct raster_frame frame = frame_about(shore);
    lay_tiles(shore, &frame, arena);
    raster_begin(&shore->raster, &frame, arena);
}

struct mercator shore_place(const struct shore *shore, size_t tile, double east,
                            double north) {
    size_t row = tile / shore->tile_columns;
    size_t column = tile % shore->tile_columns;
    double lat_deg = shore->south_deg + (double)row * shore->tile_deg;
    double lon_deg = shore->west_deg + (double)column * shore->tile_deg;
    struct position on_zero = {lat_deg + north * shore->tile_deg, 0.0};
    return (struct mercator){(lon_deg + east * shore->tile_deg) *
                                 RADIANS_PER_DEGREE,
                             mercator_of(on_zero).y};
}

void shore_finish(struct shore *shore, struct arena *arena) {
    size_t tiles = shore->tile_rows * shore->tile_columns;
    struct arena scratch;
    arena_init(&scratch);
    for (size_t i = 0; i < tiles; i++) {
        for (size_t k = 0; k < shore->tiles[i].line_count; k++) {
            const struct shore_line *line = &shore->tiles[i].lines[k];
            if (line->level == COAST_LAND)
                raster_add_line(&shore->raster, line->points, line->count,
                                &scratch);
        }
    }
    raster_finish(&shore->raster, arena);
    arena_free(&scratch);
}

static double longitude_in_box(const struct shore *shore, double lon_deg) {
    return lon_deg < shore->box.west_deg ? lon_deg + 360.0 : lon_deg;
}

bool shore_covers(const struct shore *shore, struct position position) {
    const struct coast_box *box = &shore->box;
    return position.lat_deg >= box->south_deg &&
           position.lat_deg <= box->north_deg &&
           longitude_in_box(shore, position.lon_deg) <= box->east_deg;
}

struct mercator shore_chart(const struct shore *shore,
                            struct position position) {
    return (struct mercator){longitude_in_box(shore, position.lon_deg) *
                                 RADIANS_PER_DEGREE,
                             mercator_of(position).y};
}

/* --- levels ----------------------------------------------------------------*/

/* How the way to a place has crossed: it leads from the corner just outside
 * the tile's south side, where stretches that end on that side go on straight
 * southwards, then due north. */
struct crossing {
    struct mercator place;
    bool odd[COAST_LEVELS + 1]; /* an odd number of shorelines of the level */
    bool on_shore;
    enum coast_level shore; /* whose, when on one */
};

/* Edges are half open in x, so that a point between two of them counts once.*/
static void cross_edge(struct crossing *crossing, enum coast_level level,
                       const struct mercator *edge) {
    struct mercator a = edge[0], b = edge[1], place = crossing->place;
    if (fmax(a.y, b.y) < place.y) {
        crossing->odd[level] ^= (a.x > place.x) != (b.x > place.x);
        return;
    }
    if (fmin(a.y, b.y) > place.y || fmax(a.x, b.x) < place.x ||
        fmin(a.x, b.x) > place.x)
        return;
    int side = chart_side(a, b, place);
    if (side == 0) {
        crossing->on_shore = true;
        crossing->shore = level;
    } else if ((a.x > place.x) != (b.x > place.x)) {
        crossing->odd[level] ^= (side > 0) == (b.x > a.x);
    }
}

static void cross_end(struct crossing *crossing, enum coast_level level,
                      enum shore_side side, struct mercator end) {
    if (side == SHORE_SOUTH && end.x <= crossing->place.x)
        crossing->odd[level] ^= true;
}

static void cross_line(struct crossing *crossing,
                       const struct shore_line *line) {
    if (line->count == 0)
        return;
    const struct mercator *points = line->points;
    cross_end(crossing, line->level, line->entry, points[0]);
    cross_end(crossing, line->level, line->exit, points[line->count - 1]);
    for (size_t i = 0; i + 1 < line->count; i++)
        cross_edge(crossing, line->level, &points[i]);
}

static const struct shore_tile *tile_at(const struct shore *shore,
                                        struct mercator place) {
    double lon_deg = place.x / RADIANS_PER_DEGREE;
    double column = floor((lon_deg - shore->west_deg) / shore->tile_deg);
    double last = (double)(shore->tile_columns - 1);
    size_t row = 0;
    while (row + 1 < shore->tile_rows && shore->tile_y[row + 1] <= place.y)
        row++;
    return &shore->tiles[row * shore->tile_columns +
                         (size_t)fmin(fmax(column, 0.0), last)];
}

enum coast_level shore_level(const struct shore *shore, struct mercator place) {
    const struct shore_tile *tile = tile_at(shore, place);
    struct crossing crossing = {.place = place};
    for (size_t i = 0; i < tile->line_count; i++)
        cross_line(&crossing, &tile->lines[i]);
    if (crossing.on_shore) {
        bool is_outer = crossing.shore <= COAST_LAKE;
        return is_outer ? COAST_LAND : COAST_LAKE_ISLAND;
    }
    int level = COAST_POND;
    while (level > COAST_SEA &&
           ((int)tile->corner >= level) == crossing.odd[level])
        level--;
    return (enum coast_level)level;
}
