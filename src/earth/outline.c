#include "earth/outline.h"

#include "earth/angle.h"
#include "earth/mercator.h"

#include <math.h>

/* A segment in [-2 pi, 2 pi] and a line whose middle is in [-pi, pi), at most
 * one turn wide: they are at most two turns apart. */
enum { TURNS = 2 };

static struct plane_point turned(struct plane_point point, int turns) {
    return (struct plane_point){point.x + 2.0 * PI * turns, point.y};
}

static struct plane_box box_of_run(const struct outline *outline, size_t run) {
    size_t first = run * OUTLINE_RUN;
    struct plane_box box =
        plane_box_of(outline->points[first], outline->points[first + 1]);
    for (size_t i = first + 1; i < first + OUTLINE_RUN; i++)
        if (i < outline->count)
            box = plane_box_both(
                box, plane_box_of(outline->points[i], outline->points[i + 1]));
    return box;
}

static size_t run_count(const struct outline *outline) {
    return (outline->count + OUTLINE_RUN - 1) / OUTLINE_RUN;
}

/* One past the last edge of a run. */
static size_t run_end(const struct outline *outline, size_t run) {
    size_t end = (run + 1) * OUTLINE_RUN;
    return end < outline->count ? end : outline->count;
}

struct outline outline_make(const struct plane_point *points, size_t count,
                            struct arena *arena) {
    struct outline outline = {.points = points, .count = count};
    size_t n = run_count(&outline);
    struct plane_box *runs = arena_alloc(arena, n, sizeof *runs);
    for (size_t i = 0; i < n; i++) {
        runs[i] = box_of_run(&outline, i);
        outline.box = i ? plane_box_both(outline.box, runs[i]) : runs[i];
    }
    outline.runs = runs;
    return outline;
}

/* --- meeting ----------------------------------------------------------- */

static bool run_meets(const struct outline *outline, size_t run,
                      struct plane_point from, struct plane_point to) {
    for (size_t i = run * OUTLINE_RUN; i < run_end(outline, run); i++)
        if (plane_meet(from, to, outline->points[i], outline->points[i + 1]))
            return true;
    return false;
}

static bool meets_here(const struct outline *outline, struct plane_point from,
                       struct plane_point to) {
    struct plane_box box = plane_box_of(from, to);
    if (!plane_boxes_meet(box, outline->box))
        return false;
    for (size_t run = 0; run < run_count(outline); run++)
        if (plane_boxes_meet(box, outline->runs[run]) &&
            run_meets(outline, run, from, to))
            return true;
    return false;
}

bool outline_meets(const struct outline *outline, struct plane_point from,
                   struct plane_point to) {
    for (int turns = -TURNS; turns <= TURNS; turns++)
        if (meets_here(outline, turned(from, turns), turned(to, turns)))
            return true;
    return false;
}

/* --- inside ------------------------------------------------------------ */

/* Does the ray from `at` eastwards cross the edge? Half open: an end on the
 * ray counts for the edge that goes up from it only. */
static bool ray_crosses(struct plane_point at, struct plane_point a,
                        struct plane_point b) {
    if ((a.y > at.y) == (b.y > at.y))
        return false;
    double side = plane_side(a, b, at);
    return b.y > a.y ? side > 0.0 : side < 0.0;
}

/* Is the number of crossings with this run odd? */
static bool run_is_odd(const struct outline *outline, size_t run,
                       struct plane_point at) {
    const struct plane_point *points = outline->points;
    struct plane_box box = outline->runs[run];
    size_t first = run * OUTLINE_RUN, end = run_end(outline, run);
    if (box.south > at.y || box.north < at.y || box.east < at.x)
        return false;
    if (box.west > at.x) /* all of it to the east: only its ends count */
        return (points[first].y > at.y) != (points[end].y > at.y);
    bool odd = false;
    for (size_t i = first; i < end; i++)
        odd ^= ray_crosses(at, points[i], points[i + 1]);
    return odd;
}

static bool holds_here(const struct outline *outline, struct plane_point at) {
    if (!plane_boxes_meet(outline->box, plane_box_of(at, at)))
        return false;
    bool odd = false;
    for (size_t run = 0; run < run_count(outline); run++)
        odd ^= run_is_odd(outline, run, at);
    return odd;
}

bool outline_holds(const struct outline *outline, struct plane_point at) {
    for (int turns = -TURNS; turns <= TURNS; turns++)
        if (holds_here(outline, turned(at, turns)))
            return true;
    return false;
}

/* --- distance ----------------------------------------------------------- */

struct ruler {
    struct plane_point from, to;
    double best_m;
    double reach; /* of best_m, in radians of chart, or more */
    double least_m_per_rad;
};

/* The shapes of the chart are true in the small: between near places it is the
 * scale half-way between them that counts. */
static void measure(struct ruler *ruler, struct plane_point at,
                    struct plane_point a, struct plane_point b) {
    struct plane_point foot = plane_nearest(at, a, b);
    double chart = hypot(foot.x - at.x, foot.y - at.y);
    if (chart > ruler->reach)
        return;
    double distance_m = chart * mercator_scale_at_m(0.5 * (foot.y + at.y));
    if (distance_m < ruler->best_m) {
        ruler->best_m = distance_m;
        ruler->reach = distance_m / ruler->least_m_per_rad;
    }
}

static void measure_edge(struct ruler *ruler, struct plane_point a,
                         struct plane_point b) {
    struct plane_box box = plane_box_of(ruler->from, ruler->to);
    if (!plane_boxes_meet(plane_box_grown(box, ruler->reach),
                          plane_box_of(a, b)))
        return;
    if (plane_meet(ruler->from, ruler->to, a, b)) {
        ruler->best_m = 0.0;
        ruler->reach = 0.0;
        return;
    }
    /* Apart, two segments are nearest at an end of one of them. */
    measure(ruler, ruler->from, a, b);
    measure(ruler, ruler->to, a, b);
    measure(ruler, a, ruler->from, ruler->to);
    measure(ruler, b, ruler->from, ruler->to);
}

static void measure_line(struct ruler *ruler, const struct outline *outline) {
    struct plane_box box = plane_box_of(ruler->from, ruler->to);
    if (!plane_boxes_meet(plane_box_grown(box, ruler->reach), outline->box))
        return;
    for (size_t run = 0; run < run_count(outline); run++) {
        if (!plane_boxes_meet(plane_box_grown(box, ruler->reach),
                              outline->runs[run]))
            continue;
        for (size_t i = run * OUTLINE_RUN; i < run_end(outline, run); i++)
            measure_edge(ruler, outline->points[i], outline->points[i + 1]);
    }
}

/* The scale falls polewards by less than e times in a radian of chart, so that
 * within twice the first guess of the reach it falls by less than this. */
static double least_scale_m(double y, double most_m) {
    double scale_m = mercator_scale_at_m(y);
    return scale_m * exp(-2.0 * most_m / scale_m);
}

double outline_distance_m(const struct outline *outline,
                          struct plane_point from, struct plane_point to,
                          double most_m) {
    double least_m = least_scale_m(fmax(fabs(from.y), fabs(to.y)), most_m);
    struct ruler ruler = {.best_m = most_m,
                          .reach = most_m / least_m,
                          .least_m_per_rad = least_m};
    for (int turns = -TURNS; turns <= TURNS; turns++) {
        ruler.from = turned(from, turns);
        ruler.to = turned(to, turns);
        measure_line(&ruler, outline);
    }
    return ruler.best_m;
}
