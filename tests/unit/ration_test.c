/* The price on fuel, where what motoring saves is known by hand. */
#include "../support/check.h"

#include "plan/ration.h"

#include <math.h>

/* Wanted: 60 h of motoring. With m of them a passage costs BEST_S and the
 * square of what is missing, so at a price p she motors 60 h - p / (2 * bend).
 */
static const double BEST_S = 500000.0, WANTED_S = 216000.0, BEND = 1e-6;

/* A search, and what it may find. */
struct waters {
    double usable_s;
    double closed_above; /* no way is found at a higher price */
    bool all_or_none;    /* nothing between all the motoring and none */
    int searches;
};

static double cost_with(double motored_s) {
    double missing_s = WANTED_S - motored_s;
    return BEST_S + BEND * missing_s * missing_s;
}

static struct ration_offer search(struct waters *waters, double price) {
    struct ration_offer offer = {.price = price, .usable_s = waters->usable_s};
    double motored_s = fmax(0.0, WANTED_S - price / (2.0 * BEND));
    if (waters->all_or_none)
        motored_s = cost_with(WANTED_S) + price * WANTED_S < cost_with(0.0)
                        ? WANTED_S
                        : 0.0;
    waters->searches++;
    offer.motored_s = motored_s;
    offer.cost_s =
        price > waters->closed_above ? HUGE_VAL : cost_with(motored_s);
    return offer;
}

/* The cheapest that was found within the ration. */
static double best_within(struct waters *waters) {
    struct ration ration;
    struct ration_offer offer = search(waters, 0.0);
    double best_s = HUGE_VAL, price;
    ration_begin(&ration, &offer);
    while (waters->searches < 12 && ration_next(&ration, best_s, &price)) {
        assert_true(price > ration.low.price && price < ration.high.price);
        offer = search(waters, price);
        ration_add(&ration, &offer);
        if (offer.motored_s <= offer.usable_s)
            best_s = fmin(best_s, offer.cost_s);
    }
    return best_s;
}

static void hours_that_are_left_are_found_in_few_searches(void **state) {
    (void)state;
    const double parts[] = {0.0, 0.1, 0.3, 0.5, 0.8, 0.95};
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++) {
        struct waters waters = {.usable_s = parts[i] * WANTED_S,
                                .closed_above = HUGE_VAL};
        double least_s = cost_with(waters.usable_s);
        double found_s = best_within(&waters);
        assert_true(found_s >= least_s && found_s <= 1.001 * least_s);
        assert_true(waters.searches <= 8);
    }
}

static void what_is_as_good_as_any_is_not_searched_for(void **state) {
    (void)state;
    struct waters waters = {.usable_s = 0.99 * WANTED_S,
                            .closed_above = HUGE_VAL};
    struct ration_offer free = search(&waters, 0.0);
    struct ration ration;
    double price;
    ration_begin(&ration, &free);
    assert_false(ration_next(&ration, 1.0005 * BEST_S, &price));
    assert_true(ration_next(&ration, 1.002 * BEST_S, &price));
}

/* Two ways and no other: both are seen once, and again at the price between.
 */
static void a_gap_that_no_price_fills_ends_the_search(void **state) {
    (void)state;
    struct waters waters = {.usable_s = 0.9 * WANTED_S,
                            .closed_above = HUGE_VAL,
                            .all_or_none = true};
    assert_near(best_within(&waters), cost_with(0.0), 1e-6);
    assert_true(waters.searches <= 4);
}

/* Where a high price leaves her in a calm for good a lower one may not. */
static void a_price_without_a_way_is_too_high(void **state) {
    (void)state;
    struct waters waters = {.usable_s = 0.9 * WANTED_S, .closed_above = 0.5};
    double least_s = cost_with(waters.usable_s);
    assert_true(best_within(&waters) <= 1.001 * least_s);
    assert_true(waters.searches <= 7);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(hours_that_are_left_are_found_in_few_searches),
        cmocka_unit_test(what_is_as_good_as_any_is_not_searched_for),
        cmocka_unit_test(a_gap_that_no_price_fills_ends_the_search),
        cmocka_unit_test(a_price_without_a_way_is_too_high),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
