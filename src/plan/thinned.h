/* Lines cut to a box and thinned, for drawing: what lies outside is drawn up to
 * the box, what does not show is left out. Areas stay what they are inside the
 * box: nothing is moved across it. */
#ifndef PLAN_THINNED_H
#define PLAN_THINNED_H

#include "base/arena.h"
#include "plan/plan_chart.h"

/* `points` into `kept`, both ends among them: no place of the line is further
 * than `off` from what is left (Douglas and Peucker 1973, Algorithms for the
 * reduction of the number of points required to represent a digitized line,
 * Cartographica 10, 112-122). Returns how many; `kept` has room for all. */
size_t thinned_line(const struct mercator *points, size_t count, double off,
                    struct mercator *kept, struct arena *scratch);

/* The nearest place of the box, x shifted by `shift` first. */
struct mercator thinned_into(struct mercator place, double shift,
                             const struct chart_box *box);

/* Zone and land as shapes in the box: their lists grow in `arena`. */
void thinned_add(struct plan_shapes *shapes, struct plan_shape shape,
                 struct arena *arena);

#endif
