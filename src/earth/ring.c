#include "earth/ring.h"

#include "earth/angle.h"

#include <math.h>
#include <stdlib.h>

static bool same_number(double a, double b) {
    return !(a < b) && !(a > b);
}

static bool same_point(struct plane_point a, struct plane_point b) {
    return same_number(a.x, b.x) && same_number(a.y, b.y);
}

/* --- longitudes without a jump ------------------------------------------ */

/* East from one corner to the next. */
static double step_deg(double from_deg, double to_deg, bool round_the_world) {
    double step = to_deg - from_deg;
    if (fabs(step) <= 180.0 ||
        (round_the_world && same_number(fabs(step), 360.0)))
        return step;
    return angle_wrap_180(step);
}

/* Fills the corners; returns where the last step ends up, east of the first
 * corner: 0 for a ring that closes. */
static double unroll(struct ring *ring, const struct position *corners,
                     size_t count, bool round_the_world) {
    struct plane_point at = {corners[0].lon_deg, corners[0].lat_deg};
    ring->count = 0;
    for (size_t i = 0; i < count; i++) {
        struct plane_point last = at;
        if (i > 0)
            at.x += step_deg(corners[i - 1].lon_deg, corners[i].lon_deg,
                             round_the_world);
        at.y = corners[i].lat_deg;
        if (i == 0 || !same_point(at, last))
            ring->corners[ring->count++] = at;
    }
    at.x += step_deg(corners[count - 1].lon_deg, corners[0].lon_deg,
                     round_the_world);
    if (ring->count > 1 &&
        same_point(ring->corners[ring->count - 1], ring->corners[0]))
        ring->count--;
    ring->corners[ring->count] = ring->corners[0];
    return at.x - ring->corners[0].x;
}

static struct plane_box box_of(const struct ring *ring) {
    struct plane_box box = plane_box_of(ring->corners[0], ring->corners[0]);
    for (size_t i = 0; i < ring->count; i++)
        box = plane_box_both(box,
                             plane_box_of(ring->corners[i], ring->corners[i]));
    return box;
}

static bool closes_with_width(const struct ring *ring, double end_deg) {
    struct plane_box box = box_of(ring);
    return fabs(end_deg) < 1.0 && box.east > box.west;
}

/* Brings the middle into [-180, 180). */
static void centre(struct ring *ring) {
    struct plane_box box = box_of(ring);
    double middle_deg = 0.5 * (box.west + box.east);
    double turn_deg = 360.0 * floor((middle_deg + 180.0) / 360.0);
    for (size_t i = 0; i <= ring->count; i++)
        ring->corners[i].x -= turn_deg;
}

/* --- a ring that meets itself ------------------------------------------- */

struct sorted {
    double west;
    size_t edge;
};

static int by_west(const void *a, const void *b) {
    const struct sorted *p = a, *q = b;
    if (p->west < q->west || p->west > q->west)
        return p->west < q->west ? -1 : 1;
    return (p->edge > q->edge) - (p->edge < q->edge);
}

/* Two edges with a corner between them share that, and more only where the
 * second turns straight back on the first. */
static bool turns_back(struct plane_point a, struct plane_point corner,
                       struct plane_point c) {
    double along = (corner.x - a.x) * (c.x - corner.x) +
                   (corner.y - a.y) * (c.y - corner.y);
    double side = plane_side(a, corner, c);
    return along < 0.0 && !(side < 0.0) && !(side > 0.0);
}

static bool edges_clash(const struct ring *ring, size_t i, size_t j) {
    const struct plane_point *at = ring->corners;
    if (i > j)
        return edges_clash(ring, j, i);
    if (j == i + 1)
        return turns_back(at[i], at[j], at[j + 1]);
    if (i == 0 && j + 1 == ring->count)
        return turns_back(at[j], at[0], at[1]);
    return plane_meet(at[i], at[i + 1], at[j], at[j + 1]);
}

static double east_of(const struct ring *ring, size_t edge) {
    return plane_most(ring->corners[edge].x, ring->corners[edge + 1].x);
}

/* From west to east, each edge against those that begin before it ends. */
static bool clash(const struct ring *ring, struct arena *arena,
                  struct plane_point *near) {
    struct sorted *list = arena_alloc(arena, ring->count, sizeof *list);
    for (size_t i = 0; i < ring->count; i++)
        list[i] = (struct sorted){
            plane_least(ring->corners[i].x, ring->corners[i + 1].x), i};
    qsort(list, ring->count, sizeof *list, by_west);
    for (size_t i = 0; i < ring->count; i++)
        for (size_t j = i + 1; j < ring->count; j++) {
            if (list[j].west > east_of(ring, list[i].edge))
                break;
            if (edges_clash(ring, list[i].edge, list[j].edge)) {
                *near = ring->corners[list[j].edge];
                return true;
            }
        }
    return false;
}

static const char *clash_told(const struct ring *ring, struct arena *arena) {
    struct plane_point near;
    struct arena scratch;
    arena_init(&scratch);
    bool found = clash(ring, &scratch, &near);
    arena_free(&scratch);
    if (!found)
        return NULL;
    char place[POSITION_TEXT_SIZE];
    position_print((struct position){near.y, angle_wrap_longitude(near.x)},
                   place);
    return arena_print(arena, "crosses or touches itself near %s", place);
}

const char *ring_make(struct ring *ring, const struct position *corners,
                      size_t count, struct arena *arena) {
    ring->corners = arena_alloc(arena, count + 1, sizeof *ring->corners);
    double end_deg = count ? unroll(ring, corners, count, false) : 0.0;
    if (count && !closes_with_width(ring, end_deg))
        end_deg = unroll(ring, corners, count, true);
    if (count < 3 || ring->count < 3)
        return "has fewer than 3 different corners";
    if (!(fabs(end_deg) < 1.0))
        return "goes round a pole; cut it along longitude 180";
    struct plane_box box = box_of(ring);
    if (box.east - box.west > 360.0)
        return "is more than 360 degrees wide";
    centre(ring);
    return clash_told(ring, arena);
}
