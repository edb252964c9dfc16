#include "plan/ration.h"

#include <assert.h>
#include <math.h>

/* Seconds a second: one that motors at 6 knots does so then where she would
 * sail at half a knot. */
static const double HIGHEST_PRICE = 12.0;

/* A way that costs so little more than the bound is good enough. */
static const double ENOUGH_FRAC = 0.001;

/* A price that can't raise the bound by this part leads to ways that are known.
 */
static const double RAISED_FRAC = 1e-6;

/* After so many prices at which she gets nowhere there is no way. */
enum { BARRED_MOST = 3 };

static double excess_s(const struct ration *ration,
                       const struct ration_offer *offer) {
    return offer->motored_s - ration->usable_s;
}

/* The least that any known way costs at a price, but for what the ration
 * allows. */
static double least_at(const struct ration *ration, double price) {
    double least_s = HUGE_VAL;
    for (size_t i = 0; i < ration->count; i++) {
        const struct ration_offer *offer = &ration->offers[i];
        double cost_s = offer->cost_s + price * excess_s(ration, offer);
        least_s = fmin(least_s, cost_s);
    }
    return least_s;
}

/* No way within the ration is known to cost less: searches were made at these
 * prices, and found nothing cheaper. */
static double bound_s(const struct ration *ration) {
    double most_s = 0.0;
    for (size_t i = 0; i < ration->count; i++)
        most_s = fmax(most_s, least_at(ration, ration->offers[i].price));
    return most_s;
}

void ration_begin(struct ration *ration, double usable_s,
                  const struct ration_offer *free) {
    *ration = (struct ration){.usable_s = usable_s,
                              .offers = {*free},
                              .count = 1,
                              .barred_price = HIGHEST_PRICE};
}

/* Where the bound would be highest: a way that motors too much and one that
 * does not are equally dear there. False where there are no two of them. */
static bool find_crest(const struct ration *ration, double *crest) {
    double highest_s = 0.0;
    for (size_t i = 0; i < ration->count; i++) {
        for (size_t k = 0; k < ration->count; k++) {
            const struct ration_offer *more = &ration->offers[i];
            const struct ration_offer *less = &ration->offers[k];
            if (excess_s(ration, more) <= 0.0 || excess_s(ration, less) > 0.0)
                continue;
            double price = (less->cost_s - more->cost_s) /
                           (more->motored_s - less->motored_s);
            double least_s = least_at(ration, fmax(price, 0.0));
            if (least_s <= highest_s)
                continue;
            highest_s = least_s;
            *crest = fmax(price, 0.0);
        }
    }
    return highest_s > 0.0;
}

/* Between the highest price with a way and the lowest without. */
static double higher_price(const struct ration *ration) {
    double low = 0.0;
    for (size_t i = 0; i < ration->count; i++)
        low = fmax(low, ration->offers[i].price);
    return sqrt((1.0 + low) * (1.0 + ration->barred_price)) - 1.0;
}

bool ration_is_enough(const struct ration *ration, double best_s) {
    return best_s <= (1.0 + ENOUGH_FRAC) * bound_s(ration);
}

bool ration_next(const struct ration *ration, double best_s, double *price) {
    double known_s = bound_s(ration), crest = 0.0;
    bool spent = ration->count + (size_t)ration->barred > RATION_PRICES ||
                 ration->barred >= BARRED_MOST;
    if (spent || ration->offers[0].motored_s <= 0.0 ||
        ration_is_enough(ration, best_s))
        return false;
    if (!find_crest(ration, &crest)) {
        *price = higher_price(ration);
        return true;
    }
    if (crest >= ration->barred_price ||
        least_at(ration, crest) <= (1.0 + RAISED_FRAC) * known_s)
        return false;
    *price = crest;
    return true;
}

void ration_add(struct ration *ration, const struct ration_offer *offer) {
    assert(ration->count + (size_t)ration->barred <= RATION_PRICES);
    if (isfinite(offer->cost_s)) {
        ration->offers[ration->count++] = *offer;
        return;
    }
    ration->barred_price = fmin(ration->barred_price, offer->price);
    ration->barred++;
}
