/* The first of two sums of which the table of sea/roll_table.h is made. The
 * hull's answer to a long-crested system hangs on direction and speed only
 * through the boat's speed with the waves, c = U cos(b), so the frequencies are
 * summed once for each c:
 *
 *   long(T, c) = sum over w of S(w; T) k^2 h^2 |H(w - w^2 c / g)|^2
 *
 * With frequencies even in their logarithm a spectrum of another period is the
 * same row of numbers, moved: it is worked out once. */
#ifndef SEA_ROLL_ALONG_H
#define SEA_ROLL_ALONG_H

#include "sea/roll_grid.h"

/* Dampings lie side by side, filled up to whole blocks. */
enum { ROLL_ALONG_BLOCK = 4 };

struct roll_along {
    int half; /* of the speeds with the waves: so many either side of 0 */
    double step_mps; /* from one to the next */
    ptrdiff_t row;   /* dampings with what fills them up */
    float *answer[SPECTRUM_KINDS][ROLL_MOST_PERIODS]; /* [c][row], rad^2 */
};

/* How much faster than her own resonance the encounter changes with the
 * logarithm of frequency, in the shortest waves and running with them at full
 * speed: 4 for a boat that is stiff or slow, beyond 10 for one that is neither.
 * The more, the narrower what rolls her. */
double roll_passing(const struct roller *roller, double fastest_mps);

/* For the periods of the table, which lie on the steps of roll_grid.h, and
 * those dampings, as many as the table has. The answers live in the arena. */
struct roll_along roll_along_make(const struct roll_table *table,
                                  double fastest_mps, const double *damping,
                                  struct arena *arena);

#endif
