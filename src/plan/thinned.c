#include "plan/thinned.h"

#include <math.h>

/* A stretch of the line whose ends are kept. */
struct stretch {
    size_t first, last;
};

struct thinning {
    const struct mercator *points;
    bool *keep;
    struct stretch *open; /* stretches still to be looked at */
    size_t open_count;
    double off2;
};

static double off_line2(const struct mercator *points, struct stretch stretch,
                        size_t index) {
    struct mercator a = points[stretch.first], b = points[stretch.last];
    double t = chart_foot(a, b, points[index]);
    return chart_apart2(chart_along(a, b, t), points[index]);
}

/* The place furthest off the straight line; `first` where none is too far. */
static size_t furthest(const struct thinning *thinning,
                       struct stretch stretch) {
    size_t worst = stretch.first;
    double most = thinning->off2;
    for (size_t i = stretch.first + 1; i < stretch.last; i++) {
        double off2 = off_line2(thinning->points, stretch, i);
        if (off2 > most) {
            most = off2;
            worst = i;
        }
    }
    return worst;
}

static void split(struct thinning *thinning) {
    struct stretch stretch = thinning->open[--thinning->open_count];
    size_t middle = furthest(thinning, stretch);
    if (middle == stretch.first)
        return;
    thinning->keep[middle] = true;
    thinning->open[thinning->open_count++] =
        (struct stretch){stretch.first, middle};
    thinning->open[thinning->open_count++] =
        (struct stretch){middle, stretch.last};
}

size_t thinned_line(const struct mercator *points, size_t count, double off,
                    struct mercator *kept, struct arena *scratch) {
    if (count == 0)
        return 0;
    struct thinning thinning = {
        .points = points,
        .keep = arena_alloc(scratch, count, sizeof *thinning.keep),
        .open = arena_alloc(scratch, count + 1, sizeof *thinning.open),
        .open_count = 1,
        .off2 = off * off};
    thinning.open[0] = (struct stretch){0, count - 1};
    thinning.keep[0] = thinning.keep[count - 1] = true;
    while (thinning.open_count > 0)
        split(&thinning);
    size_t left = 0;
    for (size_t i = 0; i < count; i++)
        if (thinning.keep[i])
            kept[left++] = points[i];
    return left;
}

struct mercator thinned_into(struct mercator place, double shift,
                             const struct chart_box *box) {
    return (struct mercator){
        fmin(fmax(place.x + shift, box->low.x), box->high.x),
        fmin(fmax(place.y, box->low.y), box->high.y)};
}

void thinned_add(struct plan_shapes *shapes, struct plan_shape shape,
                 struct arena *arena) {
    shapes->items = arena_room(arena, shapes->items, shapes->count,
                               &shapes->capacity, sizeof *shapes->items);
    shapes->items[shapes->count++] = shape;
    shapes->point_count += shape.count;
}
