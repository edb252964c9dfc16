/* The price on fuel, where what motoring saves is known by hand. */
#include "../support/check.h"

#include "plan/ration.h"

#include <math.h>

/* Wanted: 60 h of motoring. With m of them a passage costs BEST_S and the
 * square of what is missing, times `bend`: at a price p she motors
 * 60 h - p / (2 * bend). */
static const double BEST_S = 500000.0, WANTED_S = 216000.0;

/* A search, and what it may find. */
struct waters {
    double bend;
    double usable_s;
    double closed_above; /* no way is found at a higher price */
    bool all_or_none;    /* nothing between all the motoring and none */
    struct ration ration;
    double best_s; /* the cheapest that was found within the ration */
    int prices;
};

static double cost_with(const struct waters *waters, double motored_s) {
    double missing_s = WANTED_S - motored_s;
    return BEST_S + waters->bend * missing_s * missing_s;
}

static struct ration_offer search(const struct waters *waters, double price) {
    double motored_s = fmax(0.0, WANTED_S - price / (2.0 * waters->bend));
    if (waters->all_or_none)
        motored_s = cost_with(waters, WANTED_S) + price * WANTED_S <
                            cost_with(waters, 0.0)
                        ? WANTED_S
                        : 0.0;
    return (struct ration_offer){.price = price,
                                 .cost_s = price > waters->closed_above
                                               ? HUGE_VAL
                                               : cost_with(waters, motored_s),
                                 .motored_s = motored_s};
}

/* All that ways_find() does with prices. */
static void look(struct waters *waters) {
    struct ration_offer offer = search(waters, 0.0);
    double price, last = 0.0;
    waters->best_s = HUGE_VAL;
    ration_begin(&waters->ration, waters->usable_s, &offer);
    while (ration_next(&waters->ration, waters->best_s, &price)) {
        assert_true(price >= 0.0 && price < 12.0);
        assert_true(fabs(price - last) > 0.0);
        offer = search(waters, last = price);
        ration_add(&waters->ration, &offer);
        if (offer.motored_s <= waters->usable_s)
            waters->best_s = fmin(waters->best_s, offer.cost_s);
        waters->prices++;
        assert_true(waters->prices <= RATION_PRICES);
    }
}

/* Of the fuel that is wanted, such parts; for bends with which a second under
 * engine saves up to half a second, and up to 8. What is left unspent costs at
 * most a sixteenth of what all the motoring saves. */
static void hours_that_are_left_are_spent(void **state) {
    (void)state;
    const double parts[] = {0.0, 0.1, 0.3, 0.5, 0.8, 0.95};
    const double saved[] = {0.5, 8.0};
    const size_t n = sizeof parts / sizeof *parts;
    for (size_t i = 0; i < n * sizeof saved / sizeof *saved; i++) {
        struct waters waters = {.bend = saved[i / n] / (2.0 * WANTED_S),
                                .usable_s = parts[i % n] * WANTED_S,
                                .closed_above = HUGE_VAL};
        double least_s = cost_with(&waters, waters.usable_s);
        double none_s = cost_with(&waters, 0.0);
        look(&waters);
        assert_true(waters.best_s >= least_s);
        assert_true(waters.best_s - least_s <= (none_s - BEST_S) / 16.0);
    }
}

static void what_is_as_good_as_any_is_not_searched_for(void **state) {
    (void)state;
    struct waters waters = {.bend = 1e-6, .usable_s = 0.99 * WANTED_S};
    struct ration_offer free = {.cost_s = BEST_S, .motored_s = WANTED_S};
    struct ration ration;
    double price;
    ration_begin(&ration, waters.usable_s, &free);
    assert_false(ration_next(&ration, 1.0005 * BEST_S, &price));
    assert_true(ration_next(&ration, 1.002 * BEST_S, &price));
}

/* Two ways and no other: both are seen, and that at the price between, where
 * they are equally dear, there is nothing else. */
static void a_gap_that_no_price_fills_ends_the_search(void **state) {
    (void)state;
    struct waters waters = {.bend = 1e-6,
                            .usable_s = 0.9 * WANTED_S,
                            .closed_above = HUGE_VAL,
                            .all_or_none = true};
    look(&waters);
    assert_near(waters.best_s, cost_with(&waters, 0.0), 1e-6);
    assert_int_equal(waters.prices, 2);
}

/* Where a high price leaves her in a calm for good a lower one may not. */
static void a_price_without_a_way_is_too_high(void **state) {
    (void)state;
    struct waters waters = {
        .bend = 1e-6, .usable_s = 0.9 * WANTED_S, .closed_above = 0.5};
    look(&waters);
    assert_true(waters.best_s <= 1.001 * cost_with(&waters, waters.usable_s));
    assert_int_equal(waters.ration.barred, 2); /* 2.6 and 0.9 */
}

/* Three prices without a way: there is none. Nor is there one where she motors
 * no second, and charging alone takes more than there is. */
static void what_no_price_helps_is_left(void **state) {
    (void)state;
    struct waters calm = {.bend = 1e-6, .usable_s = 0.5 * WANTED_S};
    look(&calm);
    assert_true(isinf(calm.best_s));
    assert_int_equal(calm.prices, 3);
    struct ration_offer free = {.cost_s = BEST_S, .motored_s = 0.0};
    struct ration charging;
    double price;
    ration_begin(&charging, -3600.0, &free);
    assert_false(ration_next(&charging, HUGE_VAL, &price));
}

/* Nor is a price tried again that led nowhere. */
static void a_barred_price_is_not_asked_for_again(void **state) {
    (void)state;
    struct ration_offer free = {.cost_s = BEST_S, .motored_s = WANTED_S};
    struct ration_offer none = {.price = 2.6, .cost_s = 1.1 * BEST_S};
    struct ration ration;
    double price;
    ration_begin(&ration, 0.5 * WANTED_S, &free);
    ration_add(&ration, &none);
    assert_true(ration_next(&ration, HUGE_VAL, &price));
    assert_near(price, 0.1 * BEST_S / WANTED_S, 1e-12);
    struct ration_offer barred = {.price = price, .cost_s = HUGE_VAL};
    ration_add(&ration, &barred);
    assert_false(ration_next(&ration, HUGE_VAL, &price));
}

/* Searches are not exact: one with a price may find what is cheaper than the
 * free way, with less motoring. Then that is the bound. */
static void a_bound_that_is_refuted_is_none(void **state) {
    (void)state;
    struct ration_offer free = {.cost_s = BEST_S, .motored_s = WANTED_S};
    struct ration_offer better = {
        .price = 1.0, .cost_s = 0.99 * BEST_S, .motored_s = 0.6 * WANTED_S};
    struct ration ration;
    double price;
    ration_begin(&ration, 0.5 * WANTED_S, &free);
    ration_add(&ration, &better);
    assert_true(ration_next(&ration, 1.2 * BEST_S, &price));
    assert_true(price > better.price);
    struct ration_offer within = {
        .price = price, .cost_s = 0.995 * BEST_S, .motored_s = 0.4 * WANTED_S};
    ration_add(&ration, &within);
    assert_true(ration_next(&ration, within.cost_s, &price));
    assert_near(price, 0.005 * BEST_S / (0.2 * WANTED_S), 1e-12);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(hours_that_are_left_are_spent),
        cmocka_unit_test(what_is_as_good_as_any_is_not_searched_for),
        cmocka_unit_test(a_gap_that_no_price_fills_ends_the_search),
        cmocka_unit_test(a_price_without_a_way_is_too_high),
        cmocka_unit_test(what_no_price_helps_is_left),
        cmocka_unit_test(a_barred_price_is_not_asked_for_again),
        cmocka_unit_test(a_bound_that_is_refuted_is_none),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
