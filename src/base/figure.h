/* A number that may not be known. Unknown is a flag: never 0, NaN or 9999. */
#ifndef BASE_FIGURE_H
#define BASE_FIGURE_H

#include <stdbool.h>

struct figure {
    bool known;
    double value; /* 0 where not known, and then not to be read */
};

static inline struct figure figure_of(double value) {
    return (struct figure){.known = true, .value = value};
}

static inline struct figure figure_unknown(void) {
    return (struct figure){.known = false, .value = 0.0};
}

/* The greater of two, where an unknown one does not count. */
static inline struct figure figure_max(struct figure a, struct figure b) {
    if (!a.known || (b.known && b.value > a.value))
        return b;
    return a;
}

#endif
