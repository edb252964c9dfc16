/* Two timed tracks to one finish beside one another, leg by leg.
 *
 * Tracks have no legs in common, but they have the way that is left: at the
 * end of each leg of the first, when has the second as far to go? Both then
 * stand on a line across the way, and what either took since the last such
 * line can be set against the other; the differences add up to that of the
 * arrivals. A boat that goes away from the finish first counts from when she
 * is so near for good. */
#ifndef REPORT_ABREAST_H
#define REPORT_ABREAST_H

#include "base/arena.h"
#include "plan/plan.h"

/* Both from the last line to this one. */
struct abreast_side {
    double seconds;
    enum sail_mode mode; /* the one that lasts longest */
    double roll_deg;     /* RMS */
};

struct abreast_row {
    size_t leg;    /* of the first, that ends here */
    double left_m; /* to the finish, straight */
    struct abreast_side side[2];
    double so_far_s; /* how much longer the second took until here */
};

/* In `arena`. `*count` is 0 where they don't begin and end within
 * ABREAST_SAME_M of one another, or one does not reach its finish. */
struct abreast_row *abreast_rows(const struct plan *first,
                                 const struct plan *second, struct arena *arena,
                                 size_t *count);

#define ABREAST_SAME_M (2.0 * METRES_PER_NMI)

#endif
