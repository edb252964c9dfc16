/* What a second under engine has to cost so that the best way just spends the
 * fuel there is.
 *
 * A price on fuel makes of a search within a ration one without it (Lagrangian
 * relaxation: Everett 1963, Operations Research 11, from memory). Of all ways
 * that are known the cheapest at a price, less what the ration is worth at it,
 * bounds what a way within the ration costs; the next price to try is that at
 * which this bound would be highest (Kelley 1960, Journal of the SIAM 8, from
 * memory). All of it as far as searches find the best way. */
#ifndef PLAN_RATION_H
#define PLAN_RATION_H

#include <stdbool.h>
#include <stddef.h>

/* Searches with a price, at most. */
enum { RATION_PRICES = 6 };

/* The way that a search found with a price, all in seconds. */
struct ration_offer {
    double price;     /* of a second under engine, beside itself; >= 0 */
    double cost_s;    /* without that price; HUGE_VAL: no way was found */
    double motored_s; /* under engine */
};

struct ration {
    double usable_s; /* under engine, as the fuel allows in the time of the free
                        way; below 0: not even what charging takes */
    struct ration_offer offers[RATION_PRICES + 1]; /* [count]: with a way */
    size_t count;
    double barred_price; /* none as high is tried: there was no way */
    int barred;          /* prices at which there was none */
};

/* `free`: the way without a price, which motors too much. */
void ration_begin(struct ration *ration, double usable_s,
                  const struct ration_offer *free);

/* Is the best way within the ration, with that cost (HUGE_VAL: none yet),
 * within 0.1 % of the bound? */
bool ration_is_enough(const struct ration *ration, double best_s);

/* The price to try next; false, and `*price` left alone, where that is no use:
 * the best way is good enough, no price leads to another, none helps, or there
 * were enough. */
bool ration_next(const struct ration *ration, double best_s, double *price);

/* What the search with that price found. */
void ration_add(struct ration *ration, const struct ration_offer *offer);

#endif
