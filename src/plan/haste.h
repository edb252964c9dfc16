/* To hurry or to take one's time, for an arrival by daylight.
 *
 * A search weighs time against comfort by the ease, and time that is spent
 * waiting for light is worth nothing; so of the ways that it has to choose
 * from the one it finds may not be the cheapest once she has to wait. The best
 * that is home before dark, and the calmest that is home by first light, are
 * each the best way for some other ease: the multiplier of a limit in time. So
 * where the way of the crew's own ease ends in the dark it is looked for with
 * less ease and with more, and all that are found are judged by what they cost
 * with the crew's own, as they will be sailed (plan/pacing.h).
 */
#ifndef PLAN_HASTE_H
#define PLAN_HASTE_H

#include <stdbool.h>

/* What came of one try. */
struct haste_tried {
    double cost_s; /* with the crew's own ease, the waiting included; HUGE_VAL:
                      not to be sailed */
    bool in_dark;  /* she would arrive so, were she not to wait */
};

/* Tries with the ease times `factor` and keeps the best of what it found. */
typedef struct haste_tried haste_try(void *context, double factor);

/* `factor` 1 first, and that alone where it arrives by day, or ease is 0. */
void haste_try_all(haste_try *try, void *context, double ease);

#endif
