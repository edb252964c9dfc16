/* A chart for the plan of plan_example.h: an island, a zone with a hostile
 * name, two spots of weather at two moments, a sample at the start of each leg
 * and at the end. All of it invented. */
#ifndef TESTS_CHART_EXAMPLE_H
#define TESTS_CHART_EXAMPLE_H

#include "plan_example.h"

enum { CHART_EXAMPLE_SPOTS = 2, CHART_EXAMPLE_FRAMES = 2 };

struct chart_example {
    struct mercator island[4], ring[3];
    struct plan_shape land, edge;
    struct plan_area zone;
    struct position spots[CHART_EXAMPLE_SPOTS];
    struct plan_spot weather[CHART_EXAMPLE_FRAMES][CHART_EXAMPLE_SPOTS];
    struct plan_frame frames[CHART_EXAMPLE_FRAMES];
    struct plan_sample samples[PLAN_EXAMPLE_LEGS + 1];
    const char *files[2];
};

/* Filled in place; the plan points at its parts. */
void chart_example_make(struct chart_example *chart,
                        struct plan_example *example);

#endif
