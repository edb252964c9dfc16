/* Where places of the earth are on the page's chart: its own units, x to the
 * east and y to the south of its north-west corner. */
#ifndef REPORT_PAGE_MAP_H
#define REPORT_PAGE_MAP_H

#include "plan/plan.h"

/* The shape of struct plan_chart's box. */
enum { PAGE_MAP_WIDTH = 1200, PAGE_MAP_HEIGHT = 800 };

struct page_place {
    double x, y;
};

static inline struct page_place page_map_at(const struct plan_chart *chart,
                                            struct mercator place) {
    double scale = PAGE_MAP_WIDTH / (chart->box.high.x - chart->box.low.x);
    return (struct page_place){(place.x - chart->box.low.x) * scale,
                               (chart->box.high.y - place.y) * scale};
}

/* x within half a turn of the middle of the chart. */
static inline struct page_place page_map_of(const struct plan_chart *chart,
                                            struct position position) {
    struct mercator middle = chart_along(chart->box.low, chart->box.high, 0.5);
    return page_map_at(chart, mercator_near(position, middle));
}

/* Nothing is drawn of a plan without a chart. */
static inline bool page_map_is_there(const struct plan *plan) {
    return plan->chart.box.high.x > plan->chart.box.low.x;
}

#endif
