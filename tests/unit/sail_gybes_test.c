/* Mainsail gybes with a single preventer: deck work that the course asks for.
 */
#include "../support/check.h"

#include "../support/analytic.h"
#include "../support/sailing.h"

#include "voyage/sail.h"

/* The plain boat before the wind from 090, her boom to starboard. */
static struct underway running(void) {
    struct underway boat = sail_start(start, STOWED);
    boat.deck.wind_starboard = false;
    boat.twa_deg = -150.0;
    return boat;
}

static struct boat *with_single_preventer(double max_wind_mps) {
    struct boat *boat = plain_boat();
    boat->handling.single_preventer = true;
    boat->work.max_wind_mps = max_wind_mps;
    return boat;
}

/* The course from 240 to 300 by an order, or by the helm alone. */
static enum obstacle gybe(const struct voyage *voyage, struct underway *boat,
                          bool ordered, const struct sail_observer *observer) {
    return ordered ? sail_change_deck(voyage, boat, 300.0, STOWED, observer)
                   : sail_for(voyage, boat, 300.0, 60.0, observer);
}

/* In 8 m/s of wind, by day or by night. */
static void it_costs_and_is_barred_alike_by_order_and_by_helm(void **state) {
    (void)state;
    static const struct {
        double max_mps;
        bool night;
        enum work_rule rule;
        bool outside, barred;
        double hardship_s;
    } rows[] = {
        {9, false, WORK_DAYLIGHT_ONLY, false, false, 1800},
        {7, false, WORK_DAYLIGHT_ONLY, true, false, 1800},
        {9, true, WORK_DAYLIGHT_FIRST, false, false, 7200},
        {9, true, WORK_DAYLIGHT_ONLY, true, true, 7200},
        {7, true, WORK_DAYLIGHT_FIRST, true, false, 7200},
        {7, true, WORK_DAYLIGHT_ONLY, true, true, 7200},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        for (int ordered = 0; ordered < 2; ordered++) {
            struct analytic weather = {.wind_from_deg = 90.0,
                                       .wind_mps = 8.0,
                                       .night_every_s =
                                           rows[i].night ? 86400.0 : 0.0};
            struct voyage voyage = analytic_voyage(
                with_single_preventer(rows[i].max_mps), &weather, far_away);
            voyage.work_rule = rows[i].rule;
            struct log log;
            struct sail_observer observer = watch(&log, &voyage);
            struct underway boat = running();
            assert_int_equal(gybe(&voyage, &boat, ordered, &observer),
                             OBSTACLE_NONE);
            assert_int_equal(log.count, 1);
            assert_int_equal(log.changes[0].kind, CHANGE_MAINSAIL_GYBE);
            assert_int_equal(log.changes[0].outside_limits, rows[i].outside);
            assert_int_equal(log.changes[0].barred, rows[i].barred);
            assert_near(boat.hardship_s, rows[i].hardship_s, 1e-9);
            assert_near(boat.cost_s - boat.t_s -
                            voyage.ease * (boat.hardship_s + boat.discomfort_s),
                        0.0, 1e-6);
        }
    }
}

/* Kept within the limits it can't be sailed, and nothing is done. */
static void kept_within_the_limits_it_is_an_obstacle(void **state) {
    (void)state;
    struct analytic weather = {.wind_from_deg = 90.0, .wind_mps = 8.0};
    for (int over = 0; over < 2; over++) {
        for (int ordered = 0; ordered < 2; ordered++) {
            struct voyage voyage = analytic_voyage(
                with_single_preventer(over ? 7.0 : 9.0), &weather, far_away);
            voyage.gybes_kept = true;
            struct underway boat = running();
            assert_int_equal(gybe(&voyage, &boat, ordered, NULL),
                             over ? OBSTACLE_GYBE : OBSTACLE_NONE);
            assert_int_equal(boat.deck.wind_starboard, !over);
            assert_int_equal(boat.hardship_s > 0.0, !over);
            boat = running();
            /* 272 is by the lee, 2 degrees */
            assert_int_equal(sail_bring_over(&voyage, &boat, 272.0, NULL),
                             !over);
        }
    }
    struct voyage both = analytic_voyage(plain_boat(), &weather, far_away);
    both.gybes_kept = true;
    both.boat = plain_boat();
    struct underway boat = running();
    assert_int_equal(gybe(&both, &boat, true, NULL), OBSTACLE_NONE);
}

/* A headsail that has to be rolled away first is not, where the gybe after it
 * may not be made. */
static void of_two_parts_the_first_is_not_done_either(void **state) {
    (void)state;
    struct analytic weather = {.wind_from_deg = 90.0, .wind_mps = 8.0};
    struct voyage voyage =
        analytic_voyage(with_single_preventer(7.0), &weather, far_away);
    voyage.gybes_kept = true;
    struct underway boat = running();
    boat.deck.spar = SPAR_PORT;
    assert_int_equal(
        sail_change_deck(&voyage, &boat, 300.0, ROLLED(SPAR_PORT), NULL),
        OBSTACLE_GYBE);
    assert_false(boat.deck.rolled);
    assert_near(boat.cost_s, 0.0, 0.0);
    assert_near(boat.work_left_s, 0.0, 0.0);
}

/* That it was rolled for now is not forgotten either, for an order to keep it
 * so. */
static void what_was_rolled_for_now_still_is(void **state) {
    (void)state;
    struct analytic weather = {.wind_from_deg = 90.0, .wind_mps = 8.0};
    struct voyage voyage =
        analytic_voyage(with_single_preventer(7.0), &weather, far_away);
    voyage.gybes_kept = true;
    struct underway boat = running();
    boat.deck.spar = SPAR_PORT;
    boat.deck.rolled = boat.rolled_for_now = true;
    assert_int_equal(
        sail_change_deck(&voyage, &boat, 300.0, ROLLED(SPAR_PORT), NULL),
        OBSTACLE_GYBE);
    assert_true(boat.rolled_for_now);
}

/* The preventer is on with the apparent wind aft of the beam (common practice,
 * no source): TWA 110 more or less. */
static void with_the_preventer_on_a_tack_is_as_much_work(void **state) {
    (void)state;
    static const struct {
        double before_deg, after_deg;
        bool both, single;
    } rows[] = {
        {45, -45, true, true},       {-100, 60, true, true},
        {109, -60, true, true},      {111, -60, true, false},
        {-143.5, 36.4, true, false}, {-143.5, 36.6, false, false},
        {150, -150, false, false},
    };
    struct analytic weather = {.wind_from_deg = 90.0, .wind_mps = 8.0};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct voyage voyage =
            analytic_voyage(plain_boat(), &weather, far_away);
        assert_int_equal(
            voyage_tacks(&voyage, rows[i].before_deg, rows[i].after_deg),
            rows[i].both);
        voyage.boat = with_single_preventer(9.0);
        assert_int_equal(
            voyage_tacks(&voyage, rows[i].before_deg, rows[i].after_deg),
            rows[i].single);
    }
}

/* 0.03 degrees a second: 18 in ten minutes. */
static void she_is_trimmed_for_a_new_angle_after_a_while(void **state) {
    (void)state;
    assert_near(voyage_trimmed_deg(150.0, 60.0, 600.0), 132.0, 1e-9);
    assert_near(voyage_trimmed_deg(-150.0, 60.0, 600.0), 132.0, 1e-9);
    assert_near(voyage_trimmed_deg(150.0, -60.0, 3000.0), -60.0, 1e-9);
    assert_near(voyage_trimmed_deg(60.0, 150.0, 600.0), 78.0, 1e-9);
    assert_near(voyage_trimmed_deg(60.0, 70.0, 600.0), 70.0, 1e-9);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(it_costs_and_is_barred_alike_by_order_and_by_helm),
        cmocka_unit_test(kept_within_the_limits_it_is_an_obstacle),
        cmocka_unit_test(of_two_parts_the_first_is_not_done_either),
        cmocka_unit_test(what_was_rolled_for_now_still_is),
        cmocka_unit_test(with_the_preventer_on_a_tack_is_as_much_work),
        cmocka_unit_test(she_is_trimmed_for_a_new_angle_after_a_while),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
