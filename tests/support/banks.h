/* Invented land for voyages without any file: banks, each a straight line with
 * all that is nearer to it than its radius. A line of no length is a round
 * island, a long one a wall; two walls leave a strait. Keep each within a few
 * degrees of latitude: one scale holds for the whole of it. */
#ifndef TESTS_BANKS_H
#define TESTS_BANKS_H

#include "earth/mercator.h"
#include "voyage/voyage.h"

struct bank {
    struct position a, b;
    double radius_m;
    enum obstacle kind; /* OBSTACLE_LAND or _ZONE */
};

/* The line of a bank on the chart, and the scale there. */
struct bank_chart {
    struct mercator a, b;
    double scale_m;
};

enum { MOST_BANKS = 64 };

struct banks {
    const struct bank *items;
    size_t count;
    struct bank_chart charts[MOST_BANKS]; /* filled by banks_put() */
};

/* Puts them into a voyage; they have to live as long. */
void banks_put(struct voyage *voyage, struct banks *banks);

/* After banks_put(): how near the line between two places comes to any bank;
 * below 0 inside. */
double banks_distance_m(const struct banks *banks, struct position from,
                        struct position to);

#endif
