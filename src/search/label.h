/* A label of a front: one way to be somewhere at the time of a layer. */
#ifndef SEARCH_LABEL_H
#define SEARCH_LABEL_H

#include "search/homeward.h"

struct label {
    struct position at;
    double cost_s;
    double merit;                /* cost and what the way left will take */
    double heading_deg, twa_deg; /* last sailed; TWA 180 before the first */
    struct deck deck;
    double work_left_s;
    bool stowing;
    uint64_t cell;
    uint32_t crumb;
    /* how she was sailed here, by the conditions where she came from: put
     * right when the conditions here are looked at */
    double sailed_s;                /* 0: nothing to put right */
    struct vector_mps velocity_mps; /* over the ground */
    double burden; /* what she costs beside the time, seconds per second */
    struct position from;
    double from_left_m; /* the way left from there */
    /* what she was told to do, and the corners that she turned at; NULL: a
     * straight run */
    struct deck order;
    const struct corners *turned;
};

#endif
