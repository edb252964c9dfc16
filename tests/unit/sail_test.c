#include "../support/check.h"

#include "../support/analytic.h"
#include "../support/sailing.h"

#include "base/units.h"
#include "earth/rhumb.h"
#include "voyage/cost.h"
#include "voyage/sail.h"
#include <math.h>
#include <string.h>

/* --- steady wind ---------------------------------------------------------- */

static void in_a_steady_wind_time_is_distance_over_speed(void **state) {
    (void)state;
    static const struct {
        double current_mps; /* along the course */
        double step_s, distance_m;
    } rows[] = {
        {0.0, 900.0, 300000.0}, {0.0, 7200.0, 300000.0}, {0.0, 60.0, 1000.0},
        {1.0, 900.0, 300000.0}, {-1.0, 900.0, 300000.0},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct analytic weather = {
            .wind_from_deg = 60.0,
            .wind_mps = 8.0,
            .current = vector_towards(240.0, rows[i].current_mps)};
        struct voyage voyage =
            analytic_voyage(plain_boat(), &weather, far_away);
        voyage.step_s = rows[i].step_s;
        struct underway boat = sail_start(start, STOWED);
        struct position to = rhumb_ahead(start, 240.0, rows[i].distance_m);
        assert_int_equal(sail_to(&voyage, &boat, to, NULL), OBSTACLE_NONE);
        double expected_s = rows[i].distance_m / (3.0 + rows[i].current_mps);
        assert_near(boat.t_s, expected_s, 1e-6 * expected_s);
        assert_near(boat.cost_s, boat.t_s, 1e-9);
        assert_near(boat.sailed_m, rows[i].distance_m, 0.02);
        assert_near(boat.at.lat_deg, to.lat_deg, 0.0);
        assert_near(boat.at.lon_deg, to.lon_deg, 0.0);
    }
}

static void a_step_ends_at_the_first_of_its_two_bounds(void **state) {
    (void)state;
    static const struct {
        double max_s, max_m, seconds;
    } rows[] = {{600.0, HUGE_VAL, 600.0},
                {HUGE_VAL, 600.0, 200.0},
                {100.0, 600.0, 100.0},
                {HUGE_VAL, HUGE_VAL, VOYAGE_STEP_S}};
    struct analytic weather = {.wind_from_deg = 60.0, .wind_mps = 8.0};
    struct voyage voyage = analytic_voyage(plain_boat(), &weather, far_away);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct underway boat = sail_start(start, STOWED);
        assert_int_equal(sail_step(&voyage, &boat, 240.0, rows[i].max_s,
                                   rows[i].max_m, NULL),
                         OBSTACLE_NONE);
        assert_near(boat.t_s, rows[i].seconds, 1e-9);
        assert_near(boat.sailed_m, 3.0 * rows[i].seconds, 1e-6);
    }
}

/* --- accuracy ------------------------------------------------------------- */

static double long_leg_s(const struct analytic *weather, double step_s) {
    struct voyage voyage =
        analytic_voyage(analytic_boat("wanderer-12"), weather, far_away);
    voyage.step_s = step_s;
    struct underway boat = sail_start(start, STOWED);
    struct position to = rhumb_ahead(start, 235.0, nmi_to_m(600.0));
    assert_int_equal(sail_to(&voyage, &boat, to, NULL), OBSTACLE_NONE);
    return boat.t_s;
}

static void halving_the_step_hardly_changes_a_long_leg(void **state) {
    (void)state;
    static const struct analytic weathers[] = {
        {.wind_from_deg = 20.0,
         .wind_mps = 6.0,
         .veer_deg_per_day = 25.0,
         .rise_mps_per_day = 0.7},
        {.wind_from_deg = 100.0,
         .wind_mps = 7.0,
         .veer_deg_per_day = -30.0,
         .veer_deg_per_lat_deg = 4.0,
         .lat_deg = 20.0},
        {.wind_from_deg = 40.0,
         .wind_mps = 9.0,
         .rise_mps_per_day = -0.8,
         .current = {0.3, -0.5}},
    };
    for (size_t i = 0; i < sizeof weathers / sizeof *weathers; i++) {
        double full = long_leg_s(&weathers[i], VOYAGE_STEP_S);
        double half = long_leg_s(&weathers[i], 0.5 * VOYAGE_STEP_S);
        double fine = long_leg_s(&weathers[i], VOYAGE_STEP_S / 30.0);
        assert_near(full / half, 1.0, 2e-4);
        assert_near(full / fine, 1.0, 2e-4);
    }
}

/* --- work ----------------------------------------------------------------- */

/* A run of 100 km with one order at its start, by hand: the minutes of the
 * change at 0.7 of 3 m/s, all the rest at the speed of the state reached. */
static void work_takes_its_minutes_at_the_speed_of_work(void **state) {
    (void)state;
    static const struct {
        struct deck from, to;
        double work_s, speed_mps;
    } rows[] = {
        {{.spar = SPAR_STOWED}, {.spar = SPAR_PORT}, 1200.0, 5.0},
        {{.spar = SPAR_PORT}, {.spar = SPAR_STARBOARD}, 1800.0, 5.0},
        {{.spar = SPAR_PORT}, {.spar = SPAR_STOWED}, 900.0, 3.0},
        {{.spar = SPAR_PORT}, {.spar = SPAR_PORT, .rolled = true}, 180.0, 1.8},
        {{.spar = SPAR_PORT, .rolled = true}, {.spar = SPAR_PORT}, 180.0, 5.0},
        {{.spar = SPAR_PORT}, {.spar = SPAR_PORT}, 0.0, 5.0},
    };
    for (size_t i = 0; i < 2 * sizeof rows / sizeof *rows; i++) {
        bool night = i % 2 == 1;
        struct analytic weather = {.wind_from_deg = 60.0, .wind_mps = 8.0};
        weather.night_every_s = night ? 1e9 : 0.0; /* night from the start */
        struct boat *plain = plain_boat();
        plain->spar.wing_awa_deg[0] = plain->spar.reach_awa_deg[0] = 0.0;
        plain->spar.reach_awa_deg[1] = 180.0;
        struct voyage voyage = analytic_voyage(plain, &weather, far_away);
        struct log log;
        struct sail_observer observer = watch(&log, &voyage);
        struct underway boat = sail_start(start, rows[i / 2].from);
        struct position to = rhumb_ahead(start, 240.0, 100000.0);
        assert_int_equal(
            sail_change_deck(&voyage, &boat, 240.0, rows[i / 2].to, &observer),
            OBSTACLE_NONE);
        assert_int_equal(sail_to(&voyage, &boat, to, &observer), OBSTACLE_NONE);
        double work_s = rows[i / 2].work_s * (night ? 1.5 : 1.0);
        double rest_m = 100000.0 - work_s * 0.7 * 3.0;
        assert_near(boat.t_s, work_s + rest_m / rows[i / 2].speed_mps, 0.01);
        assert_int_equal(log.count, rows[i / 2].work_s > 0.0);
        assert_near(log.change_s, work_s, 1e-9);
        assert_int_equal(boat.deck.spar, rows[i / 2].to.spar);
    }
}

static void hardship_goes_by_light_roll_and_hands(void **state) {
    (void)state;
    static const struct {
        struct deck from, to;
        bool night, rolls;
        double hardship_s;
    } rows[] = {
        {{.spar = SPAR_STOWED}, {.spar = SPAR_PORT}, false, false, 1800.0},
        {{.spar = SPAR_STOWED}, {.spar = SPAR_PORT}, true, false, 7200.0},
        {{.spar = SPAR_STOWED}, {.spar = SPAR_PORT}, false, true, 3600.0},
        {{.spar = SPAR_STOWED}, {.spar = SPAR_PORT}, true, true, 14400.0},
        {{.spar = SPAR_PORT}, {.spar = SPAR_STARBOARD}, true, false, 7200.0},
        {{.spar = SPAR_PORT}, {.spar = SPAR_STOWED}, false, false, 1800.0},
        /* from the cockpit five minutes, whatever the light and the roll */
        {{.spar = SPAR_PORT},
         {.spar = SPAR_PORT, .rolled = true},
         true,
         true,
         300.0},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct analytic weather = {.wind_from_deg = 60.0,
                                   .wind_mps = 8.0,
                                   .wave_m = 2.0,
                                   .wave_period_s = 7.0};
        weather.night_every_s = rows[i].night ? 1e9 : 0.0;
        struct boat *plain = plain_boat();
        plain->work.max_roll_deg = rows[i].rolls ? 0.1 : 44.0;
        struct voyage voyage = analytic_voyage(plain, &weather, far_away);
        voyage.ease = 2.0;
        struct underway boat = sail_start(start, rows[i].from);
        sail_change_deck(&voyage, &boat, 240.0, rows[i].to, NULL);
        bool deck_work = rows[i].hardship_s > 300.0;
        double forbidden_s =
            rows[i].rolls && deck_work ? COST_FORBIDDEN_WORK_S : 0.0;
        assert_near(boat.hardship_s, rows[i].hardship_s, 1e-9);
        assert_near(boat.cost_s, 2.0 * rows[i].hardship_s + forbidden_s, 1e-9);
    }
}

/* In the dark: as dear as by day, dearer, or forbidden; in gusts above the
 * limit twice as dear. */
static void the_rule_says_what_the_dark_means(void **state) {
    (void)state;
    static const struct {
        enum work_rule rule;
        double gust_mps, hardship_s;
        bool barred;
    } rows[] = {{WORK_DAYLIGHT_FIRST, 9.0, 7200.0, false},
                {WORK_ANY, 9.0, 1800.0, false},
                {WORK_DAYLIGHT_ONLY, 9.0, 7200.0, true},
                {WORK_DAYLIGHT_FIRST, 12.0, 14400.0, true},
                {WORK_ANY, 12.0, 3600.0, true}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct analytic weather = {.wind_from_deg = 60.0,
                                   .wind_mps = 8.0,
                                   .gust_frac =
                                       figure_of(rows[i].gust_mps / 8.0),
                                   .night_every_s = 1e9};
        struct boat *plain = plain_boat();
        plain->work.max_gust_mps = 11.0;
        struct voyage voyage = analytic_voyage(plain, &weather, far_away);
        voyage.work_rule = rows[i].rule;
        voyage.ease = 1.0;
        struct log log;
        struct sail_observer observer = watch(&log, &voyage);
        struct underway boat = sail_start(start, STOWED);
        sail_change_deck(&voyage, &boat, 240.0, DRAWING(SPAR_PORT), &observer);
        double forbidden_s = rows[i].barred ? COST_FORBIDDEN_WORK_S : 0.0;
        assert_near(boat.hardship_s, rows[i].hardship_s, 1e-9);
        assert_near(boat.cost_s, rows[i].hardship_s + forbidden_s, 1e-9);
        assert_int_equal(log.count, 1);
        assert_int_equal(log.changes[0].barred, rows[i].barred);
    }
}

/* --- what the crew does from the cockpit ---------------------------------- */

/* Wind astern of a run to the west, veering 2 degrees an hour: to the port
 * quarter. */
static const struct analytic veering = {
    .wind_from_deg = 90.0, .wind_mps = 8.0, .veer_deg_per_day = 48.0};

static void
the_headsail_is_rolled_when_the_wind_comes_too_far_round(void **state) {
    (void)state;
    /* Wing-and-wing, whose range ends at AWA 145 on the quarter. */
    struct voyage voyage = analytic_voyage(plain_boat(), &veering, far_away);
    struct log log;
    struct sail_observer observer = watch(&log, &voyage);
    struct underway boat = sail_start(start, DRAWING(SPAR_PORT));
    assert_int_equal(
        sail_for(&voyage, &boat, 270.0, hours_to_s(12.0), &observer),
        OBSTACLE_NONE);
    assert_int_equal(log.count, 1);
    assert_int_equal(log.changes[0].kind, CHANGE_ROLL);
    assert_true(log.changes[0].unplanned);
    assert_false(log.changes[0].outside_limits);
    assert_near(fabs(log.awa_deg[0]), 145.0,
                0.1); /* 2 degrees an hour in 30 s */
    assert_true(boat.deck.rolled && boat.deck.spar == SPAR_PORT);
    assert_true(log.unfit_s <= 31.0); /* the shortest step */
}

static void the_mainsail_comes_over_when_the_wind_changes_sides(void **state) {
    (void)state;
    struct voyage voyage = analytic_voyage(plain_boat(), &veering, far_away);
    struct log log;
    struct sail_observer observer = watch(&log, &voyage);
    struct deck deck = STOWED;
    deck.wind_starboard = true;
    struct underway boat = sail_start(start, deck);
    assert_int_equal(
        sail_for(&voyage, &boat, 270.0, hours_to_s(6.0), &observer),
        OBSTACLE_NONE);
    assert_int_equal(log.count, 1);
    assert_int_equal(log.changes[0].kind, CHANGE_MAINSAIL_GYBE);
    assert_true(log.changes[0].unplanned);
    /* 3 degrees by the lee after an hour and a half */
    assert_near(log.changes[0].t_s, 5400.0, 31.0);
    assert_false(boat.deck.wind_starboard);
    assert_near(boat.hardship_s, COST_COCKPIT_HARDSHIP_S, 1e-9);
}

static void
a_change_of_course_goes_the_short_way_past_bow_or_stern(void **state) {
    (void)state;
    static const struct {
        double twa_deg[2];
        int count;
        enum change_kind kind;
    } rows[] = {
        {{50, -50}, 1, CHANGE_TACK},
        {{-80, 90}, 1, CHANGE_TACK},
        {{100, -100}, 1, CHANGE_MAINSAIL_GYBE},
        {{150, -150}, 1, CHANGE_MAINSAIL_GYBE},
        {{-40, 150}, 1, CHANGE_MAINSAIL_GYBE},
        {{178, -178}, 0, CHANGE_KINDS}, /* by the lee */
        {{60, 150}, 0, CHANGE_KINDS},
    };
    struct analytic weather = {.wind_from_deg = 0.0, .wind_mps = 8.0};
    struct voyage voyage = analytic_voyage(plain_boat(), &weather, far_away);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct log log;
        struct deck deck = STOWED;
        deck.wind_starboard = rows[i].twa_deg[0] > 0.0;
        struct underway boat = sail_start(start, deck);
        struct sail_observer observer = watch(&log, &voyage);
        for (int leg = 0; leg < 2; leg++)
            sail_for(&voyage, &boat, angle_wrap_360(-rows[i].twa_deg[leg]),
                     3600.0, &observer);
        assert_int_equal(log.count, rows[i].count);
        if (log.count > 0)
            assert_int_equal(log.changes[0].kind, rows[i].kind);
        assert_near(boat.t_s, 7200.0, 1e-6);
    }
}

/* On a run she comes up for a while and bears away on the other side: a gybe by
 * another name, preventer and all, until she has been on the wind for as long
 * as it takes to trim her for it. */
static void a_moment_on_the_wind_makes_no_tack_of_a_gybe(void **state) {
    (void)state;
    static const struct {
        double seconds;
        enum change_kind kind;
    } rows[] = {{10.0, CHANGE_MAINSAIL_GYBE},
                {1200.0, CHANGE_MAINSAIL_GYBE},
                {3600.0, CHANGE_TACK}};
    struct analytic weather = {.wind_from_deg = 0.0, .wind_mps = 8.0};
    struct voyage voyage = analytic_voyage(plain_boat(), &weather, far_away);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct log log;
        struct sail_observer observer = watch(&log, &voyage);
        struct underway boat = sail_start(start, STOWED); /* port */
        sail_for(&voyage, &boat, 150.0, 3600.0, &observer);
        sail_for(&voyage, &boat, 45.0, rows[i].seconds, &observer);
        sail_for(&voyage, &boat, 230.0, 60.0, &observer);
        assert_int_equal(log.count, 1);
        assert_int_equal(log.changes[0].kind, rows[i].kind);
    }
}

/* The same gybe costs the same whether it was ordered with the course or the
 * helm simply bore away; also with a single preventer in weather that forbids
 * to set a spar. */
static void a_mainsail_gybe_costs_the_same_ordered_or_not(void **state) {
    (void)state;
    for (int single = 0; single < 2; single++) {
        struct analytic weather = {.wind_from_deg = 0.0, .wind_mps = 8.0};
        struct boat *plain = plain_boat();
        plain->work.max_wind_mps = 5.0;
        plain->handling.single_preventer = single == 1;
        struct voyage voyage = analytic_voyage(plain, &weather, far_away);
        voyage.ease = 1.0;
        double cost_s[2];
        for (int ordered = 0; ordered < 2; ordered++) {
            struct underway boat = sail_start(start, STOWED); /* port */
            sail_for(&voyage, &boat, 150.0, 600.0, NULL);
            if (ordered)
                sail_change_deck(&voyage, &boat, 210.0, STOWED, NULL);
            sail_for(&voyage, &boat, 210.0, 3600.0, NULL);
            assert_true(boat.deck.wind_starboard);
            cost_s[ordered] = boat.cost_s;
        }
        assert_near(cost_s[0], cost_s[1], 1e-6);
    }
}

static void no_order_breaks_a_track(void **state) {
    (void)state;
    static const struct deck orders[] = {
        {.spar = SPAR_STOWED},
        {.spar = SPAR_PORT},
        {.spar = SPAR_STARBOARD},
        {.spar = SPAR_PORT, .rolled = true},
        {.spar = SPAR_STARBOARD, .rolled = true}};
    struct analytic weather = {.wind_from_deg = 0.0, .wind_mps = 9.0};
    struct voyage voyage =
        analytic_voyage(analytic_boat("heron-9"), &weather, far_away);
    for (int from = 0; from < 5; from++)
        for (int to = 0; to < 5; to++)
            for (int course = 40; course <= 320; course += 10) {
                struct underway boat = sail_start(start, orders[from]);
                assert_int_equal(sail_for(&voyage, &boat, 170.0, 1800.0, NULL),
                                 OBSTACLE_NONE);
                assert_int_equal(
                    sail_change_deck(&voyage, &boat, course, orders[to], NULL),
                    OBSTACLE_NONE);
                assert_int_equal(sail_for(&voyage, &boat, course, 7200.0, NULL),
                                 OBSTACLE_NONE);
                assert_near(boat.t_s, 9000.0, 1e-5);
            }
}

/* Nobody tacks with the spar drawing: who orders it all the same pays, and the
 * crew rolls the sail first when only the course asks for it, and unrolls it
 * after. */
static void the_spar_is_rolled_before_a_tack(void **state) {
    (void)state;
    struct boat *plain = plain_boat();
    plain->spar.wing_awa_deg[0] = plain->spar.reach_awa_deg[0] = -5.0;
    struct analytic weather = {.wind_from_deg = 0.0, .wind_mps = 8.0};
    struct voyage voyage = analytic_voyage(plain, &weather, far_away);
    struct log log;
    struct sail_observer observer = watch(&log, &voyage);
    struct underway boat = sail_start(start, DRAWING(SPAR_PORT));
    sail_for(&voyage, &boat, 70.0, 7200.0, &observer);
    sail_for(&voyage, &boat, 290.0, 1800.0, &observer);
    assert_int_equal(log.count, 3);
    assert_int_equal(log.changes[0].kind, CHANGE_ROLL);
    assert_int_equal(log.changes[1].kind, CHANGE_TACK);
    assert_int_equal(log.changes[2].kind, CHANGE_UNROLL);
    assert_near(boat.cost_s, boat.t_s, 1e-9);

    boat = sail_start(start, DRAWING(SPAR_PORT));
    sail_for(&voyage, &boat, 70.0, 7200.0, NULL);
    sail_change_deck(&voyage, &boat, 290.0, DRAWING(SPAR_PORT), NULL);
    assert_true(boat.cost_s > boat.t_s + 0.99 * COST_FORBIDDEN_WORK_S);
}

/* Held back by work she makes 2.1 m/s, which a current of 2.5 abeam carries off
 * the course; but nobody works where nothing is to be done. */
static void without_work_she_holds_her_course_at_full_speed(void **state) {
    (void)state;
    struct analytic weather = {.wind_from_deg = 0.0,
                               .wind_mps = 8.0,
                               .current = vector_towards(180.0, 2.5)};
    struct voyage voyage = analytic_voyage(plain_boat(), &weather, far_away);
    struct underway boat = sail_start(start, STOWED);
    boat.deck.wind_starboard = false;
    assert_int_equal(sail_change_deck(&voyage, &boat, 90.0, STOWED, NULL),
                     OBSTACLE_NONE);
    assert_near(boat.work_left_s, 0.0, 0.0);
    assert_int_equal(
        sail_change_deck(&voyage, &boat, 90.0, DRAWING(SPAR_PORT), NULL),
        OBSTACLE_CURRENT);
}

/* In the same current: a boom on the wrong side that comes over in no time is
 * not waited for, and she sails on with it on the right one. */
static void a_boom_that_comes_over_at_once_holds_nobody_back(void **state) {
    (void)state;
    struct analytic weather = {.wind_from_deg = 0.0,
                               .wind_mps = 8.0,
                               .current = vector_towards(180.0, 2.5)};
    struct boat *quick = plain_boat();
    analytic_free_changes(quick);
    struct voyage voyage = analytic_voyage(quick, &weather, far_away);
    struct underway boat = sail_start(start, STOWED);
    boat.deck.wind_starboard = true;
    assert_int_equal(sail_change_deck(&voyage, &boat, 90.0, STOWED, NULL),
                     OBSTACLE_NONE);
    assert_int_equal(sail_for(&voyage, &boat, 90.0, 3600.0, NULL),
                     OBSTACLE_NONE);
    assert_false(boat.deck.wind_starboard);
    assert_near(boat.sailed_m, 3600.0 * sqrt(3.0 * 3.0 - 2.5 * 2.5), 1.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(in_a_steady_wind_time_is_distance_over_speed),
        cmocka_unit_test(a_step_ends_at_the_first_of_its_two_bounds),
        cmocka_unit_test(halving_the_step_hardly_changes_a_long_leg),
        cmocka_unit_test(work_takes_its_minutes_at_the_speed_of_work),
        cmocka_unit_test(hardship_goes_by_light_roll_and_hands),
        cmocka_unit_test(
            the_headsail_is_rolled_when_the_wind_comes_too_far_round),
        cmocka_unit_test(the_rule_says_what_the_dark_means),
        cmocka_unit_test(the_mainsail_comes_over_when_the_wind_changes_sides),
        cmocka_unit_test(
            a_change_of_course_goes_the_short_way_past_bow_or_stern),
        cmocka_unit_test(a_moment_on_the_wind_makes_no_tack_of_a_gybe),
        cmocka_unit_test(a_mainsail_gybe_costs_the_same_ordered_or_not),
        cmocka_unit_test(no_order_breaks_a_track),
        cmocka_unit_test(the_spar_is_rolled_before_a_tack),
        cmocka_unit_test(without_work_she_holds_her_course_at_full_speed),
        cmocka_unit_test(a_boom_that_comes_over_at_once_holds_nobody_back),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
