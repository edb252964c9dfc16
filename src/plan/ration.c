#include "plan/ration.h"

#include <math.h>

/* At the highest price she motors where she would make half a knot. */
static const double HIGHEST_PRICE = 12.0;

/* A way that costs so little more than the bound is good enough. */
static const double ENOUGH_FRAC = 0.001;

/* A price that can't raise the bound by this part is not tried: there is no
 * way between the two that meet at it. */
static const double RAISED_FRAC = 1e-6;

/* What that way costs at a price, but for what the ration allows. At its own
 * price none costs less, and so none within the ration. */
static double cost_at(const struct ration_offer *offer, double price) {
    return offer->cost_s + price * (offer->motored_s - offer->usable_s);
}

void ration_begin(struct ration *ration, const struct ration_offer *free) {
    *ration =
        (struct ration){.low = *free,
                        .high = {.price = HIGHEST_PRICE, .cost_s = HUGE_VAL},
                        .bound_s = cost_at(free, free->price)};
}

bool ration_next(const struct ration *ration, double best_s, double *price) {
    const struct ration_offer *low = &ration->low, *high = &ration->high;
    if (best_s <= (1.0 + ENOUGH_FRAC) * ration->bound_s)
        return false;
    *price = sqrt((1.0 + low->price) * (1.0 + high->price)) - 1.0;
    if (isinf(high->cost_s))
        return true;
    *price = (high->cost_s - low->cost_s) / (low->motored_s - high->motored_s);
    return *price > low->price && *price < high->price &&
           cost_at(low, *price) > (1.0 + RAISED_FRAC) * ration->bound_s;
}

void ration_add(struct ration *ration, const struct ration_offer *offer) {
    bool within = isinf(offer->cost_s) || offer->motored_s <= offer->usable_s;
    *(within ? &ration->high : &ration->low) = *offer;
    if (isfinite(offer->cost_s))
        ration->bound_s = fmax(ration->bound_s, cost_at(offer, offer->price));
}
