/* A plain boat under way, and all that the integrator tells of her. */
#ifndef TESTS_SAILING_H
#define TESTS_SAILING_H

#include "voyage/sail.h"

#define STOWED ((struct deck){.spar = SPAR_STOWED})
#define DRAWING(place) ((struct deck){.spar = (place)})
#define ROLLED(place) ((struct deck){.spar = (place), .rolled = true})

/* Where she starts: 20 N 40 W. */
extern const struct position start;

/* Far from everywhere: no landfall on the way. */
extern const struct position far_away;

/* Stowed 3 m/s, spar out 5 m/s on all courses; limits that nothing reaches;
 * minutes and fractions that can't be taken for one another. */
struct boat *plain_boat(void);

/* What the observer was told. */
enum { LOG_SIZE = 64 };
struct log {
    struct sail_change changes[LOG_SIZE];
    double awa_deg[LOG_SIZE];  /* at each change */
    double gust_mps[LOG_SIZE]; /* likewise */
    enum light light[LOG_SIZE];
    int count, steps;
    double step_s, step_m, discomfort_s, change_s;
    double unfit_s; /* drawing where it must not */
    double longest_s;
    const struct voyage *voyage;
};

/* Empties the log; the observer writes into it. */
struct sail_observer watch(struct log *log, const struct voyage *voyage);

#endif
