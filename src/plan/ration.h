/* What a second under engine has to cost so that the best way just spends the
 * fuel there is.
 *
 * A price on fuel makes of a search within a ration one without it (Lagrangian
 * relaxation: Everett 1963, Operations Research 11, from memory). Each search
 * with a price also says what no way within the ration costs less than, as far
 * as the search finds the best. The next price to try is that at which the last
 * way with too much motoring and the last with not too much are equally dear
 * (Kelley 1960, Journal of the SIAM 8, from memory). */
#ifndef PLAN_RATION_H
#define PLAN_RATION_H

#include <stdbool.h>

/* The way that a search found with a price; all in seconds. */
struct ration_offer {
    double price;     /* of a second under engine, beside itself; >= 0 */
    double cost_s;    /* without that price; HUGE_VAL: no way was found */
    double motored_s; /* under engine */
    double usable_s;  /* under engine as the fuel allows */
};

struct ration {
    struct ration_offer low;  /* too much motoring */
    struct ration_offer high; /* not too much, or no way */
    double bound_s;           /* no way within the ration costs less */
};

/* `free`: the way without a price, which motors too much. */
void ration_begin(struct ration *ration, const struct ration_offer *free);

/* The price to try next; false where nothing is to be gained: a way that costs
 * `best_s` is as good as any, or no price leads to one between the two that
 * bracket the ration. */
bool ration_next(const struct ration *ration, double best_s, double *price);

/* What came of it. */
void ration_add(struct ration *ration, const struct ration_offer *offer);

#endif
