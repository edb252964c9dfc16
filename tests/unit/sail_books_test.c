#include "../support/check.h"

#include "../support/analytic.h"
#include "../support/banks.h"
#include "../support/sailing.h"

#include "base/units.h"
#include "earth/rhumb.h"
#include "voyage/cost.h"
#include "voyage/sail.h"
#include <math.h>
#include <string.h>

/* --- landfall and forbidden work ------------------------------------------ */

static void with_the_spar_out_nobody_comes_near_the_finish(void **state) {
    (void)state;
    static const struct {
        double from_nmi, to_nmi; /* off the finish */
        enum spar_place spar;
        bool stow, starts_near;
        enum obstacle obstacle;
    } rows[] = {
        {20, 5.1, SPAR_PORT, false, false, OBSTACLE_NONE},
        {20, 4.9, SPAR_PORT, false, false, OBSTACLE_LANDFALL},
        {20, 4.9, SPAR_STOWED, false, false, OBSTACLE_NONE},
        {20, 4.9, SPAR_PORT, true, false, OBSTACLE_NONE},
        /* still stowing (15 minutes, 0.7 x 3 m/s: 1.02 nmi) at the circle */
        {5.9, 4.9, SPAR_PORT, true, false, OBSTACLE_LANDFALL},
        {6.1, 4.9, SPAR_PORT, true, false, OBSTACLE_NONE},
        {4, 1, SPAR_PORT, false, true, OBSTACLE_NONE},
    };
    struct analytic weather = {.wind_from_deg = 90.0, .wind_mps = 8.0};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct position finish = {20.0, -41.0};
        struct position from =
            rhumb_ahead(finish, 90.0, nmi_to_m(rows[i].from_nmi));
        struct position to =
            rhumb_ahead(finish, 90.0, nmi_to_m(rows[i].to_nmi));
        struct voyage voyage = analytic_voyage(plain_boat(), &weather, finish);
        voyage.starts_near_finish = rows[i].starts_near;
        struct underway boat = sail_start(from, DRAWING(rows[i].spar));
        if (rows[i].stow)
            sail_change_deck(&voyage, &boat, 270.0, STOWED, NULL);
        assert_int_equal(sail_to(&voyage, &boat, to, NULL), rows[i].obstacle);
    }
}

static void
forbidden_work_costs_but_the_last_and_the_forced_stow_do_not(void **state) {
    (void)state;
    static const struct {
        struct deck from, to;
        double off_nmi, work_mps, wing_mps; /* limits; the wind is 8 m/s */
        bool outside, forbidden;
    } rows[] = {
        {{.spar = SPAR_STOWED}, {.spar = SPAR_PORT}, 200, 9, 99, false, false},
        {{.spar = SPAR_STOWED}, {.spar = SPAR_PORT}, 200, 7, 99, true, true},
        {{.spar = SPAR_STOWED}, {.spar = SPAR_PORT}, 14, 7, 99, true, true},
        {{.spar = SPAR_PORT}, {.spar = SPAR_STOWED}, 200, 9, 99, false, false},
        {{.spar = SPAR_PORT}, {.spar = SPAR_STOWED}, 200, 7, 99, true, true},
        /* forced: above the spar's own wind */
        {{.spar = SPAR_PORT}, {.spar = SPAR_STOWED}, 200, 7, 7, true, false},
        /* the last one, near the finish */
        {{.spar = SPAR_PORT}, {.spar = SPAR_STOWED}, 14, 7, 99, true, false},
        {{.spar = SPAR_PORT}, {.spar = SPAR_STOWED}, 16, 7, 99, true, true},
    };
    struct analytic weather = {.wind_from_deg = 90.0, .wind_mps = 8.0};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct position finish = {20.0, -41.0};
        struct position from =
            rhumb_ahead(finish, 90.0, nmi_to_m(rows[i].off_nmi));
        struct boat *plain = plain_boat();
        plain->work.max_wind_mps = plain->work.stow_max_wind_mps =
            rows[i].work_mps;
        plain->spar.wing_max_wind_mps = rows[i].wing_mps;
        struct voyage voyage = analytic_voyage(plain, &weather, finish);
        struct log log;
        struct sail_observer observer = watch(&log, &voyage);
        struct underway boat = sail_start(from, rows[i].from);
        sail_change_deck(&voyage, &boat, 270.0, rows[i].to, &observer);
        assert_int_equal(log.count, 1);
        assert_int_equal(log.changes[0].outside_limits, rows[i].outside);
        assert_near(boat.cost_s,
                    rows[i].forbidden ? COST_FORBIDDEN_WORK_S : 0.0, 1e-9);
    }
}

/* --- two parts ------------------------------------------------------------ */

/* From wing-and-wing to a reach with the wind on the other side, eight minutes
 * before dark: the boom comes over at once, by day; the stow follows at night,
 * so far on, in half as many minutes again and with the hardship of the dark.
 */
static void each_part_of_a_change_has_its_own_moment(void **state) {
    (void)state;
    struct analytic weather = {.wind_from_deg = 90.0,
                               .wind_mps = 7.0,
                               .night_every_s = 86400.0,
                               .night_from_s = 480.5};
    struct voyage voyage = analytic_voyage(plain_boat(), &weather, far_away);
    struct log log;
    struct sail_observer observer = watch(&log, &voyage);
    struct underway boat = sail_start(start, DRAWING(SPAR_PORT));
    boat.deck.wind_starboard = false;
    assert_int_equal(sail_change_deck(&voyage, &boat, 310.0, STOWED, &observer),
                     OBSTACLE_NONE);
    assert_int_equal(log.count, 2);
    assert_int_equal(log.changes[0].kind, CHANGE_MAINSAIL_GYBE);
    assert_near(log.changes[0].seconds, 480.0, 1e-9);
    assert_int_equal(log.changes[1].kind, CHANGE_STOW);
    assert_near(log.changes[1].t_s, 480.0, 1e-9);
    assert_near(log.changes[1].seconds, 900.0 * 1.5, 1e-9);
    assert_near(boat.hardship_s, COST_COCKPIT_HARDSHIP_S + 7200.0, 1e-9);
    assert_near(boat.work_left_s, 480.0 + 1350.0, 1e-9);
    /* 0.7 of 3 m/s while hands are busy */
    struct rhumb on = rhumb_between(start, log.changes[1].at);
    assert_near(on.distance_m, 480.0 * 2.1, 0.01);
    assert_angle_near(on.course_deg, 310.0, 1e-6);
    sail_for(&voyage, &boat, 310.0, 480.0, NULL);
    assert_near(rhumb_between(boat.at, log.changes[1].at).distance_m, 0.0, 0.5);
}

/* A stow of a quarter of an hour that
 * is begun a minute before dark is one at night, and may not be done by
 * daylight only; a minute to spare at its end, and it may. */
static void work_that_ends_in_the_dark_is_done_in_it(void **state) {
    (void)state;
    static const struct {
        double dark_s, seconds, hardship_s;
        enum light light;
        bool barred;
    } rows[] = {{60.0, 1350.0, 7200.0, LIGHT_NIGHT, true},
                {899.0, 1350.0, 7200.0, LIGHT_NIGHT, true},
                {960.0, 900.0, 1800.0, LIGHT_TWILIGHT, false},
                {2300.0, 900.0, 1800.0, LIGHT_DAY, false}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct analytic weather = {.wind_from_deg = 90.0,
                                   .wind_mps = 7.0,
                                   .night_every_s = 86400.0,
                                   .night_from_s = rows[i].dark_s};
        struct voyage voyage =
            analytic_voyage(plain_boat(), &weather, far_away);
        voyage.work_rule = WORK_DAYLIGHT_ONLY;
        struct log log;
        struct sail_observer observer = watch(&log, &voyage);
        struct underway boat = sail_start(start, DRAWING(SPAR_PORT));
        boat.deck.wind_starboard = false;
        assert_int_equal(
            sail_change_deck(&voyage, &boat, 270.0, STOWED, &observer),
            OBSTACLE_NONE);
        assert_int_equal(log.count, 1);
        assert_int_equal(log.changes[0].kind, CHANGE_STOW);
        assert_int_equal(log.light[0], rows[i].light);
        assert_near(log.changes[0].seconds, rows[i].seconds, 1e-9);
        assert_int_equal(log.changes[0].barred, rows[i].barred);
        assert_near(boat.hardship_s, rows[i].hardship_s, 1e-9);
    }
}

/* Whatever two states and the courses between them: once the boat has turned,
 * the boom comes over before anything else. */
static void no_work_is_done_by_the_lee(void **state) {
    (void)state;
    struct analytic weather = {.wind_from_deg = 90.0, .wind_mps = 7.0};
    struct voyage voyage = analytic_voyage(plain_boat(), &weather, far_away);
    const struct deck orders[] = {STOWED, DRAWING(SPAR_PORT),
                                  DRAWING(SPAR_STARBOARD)};
    for (int from = 0; from < 3; from++) {
        for (int to = 0; to < 3; to++) {
            struct log log;
            struct sail_observer observer = watch(&log, &voyage);
            struct underway boat = sail_start(start, orders[from]);
            boat.deck.wind_starboard = false;
            sail_change_deck(&voyage, &boat, 310.0, orders[to], &observer);
            assert_true(boat.deck.wind_starboard);
            bool over = log.changes[0].kind == CHANGE_MAINSAIL_GYBE ||
                        log.changes[0].kind == CHANGE_GYBE;
            assert_true(over);
        }
    }
}

/* --- obstacles ------------------------------------------------------------ */

/* A wall along the meridian of 40.1 W. */
static enum obstacle wall(const void *water, struct position from,
                          struct position to, double start_s, double end_s) {
    (void)water;
    assert_true(end_s > start_s);
    bool crosses = (from.lon_deg + 40.1) * (to.lon_deg + 40.1) <= 0.0;
    return crosses ? OBSTACLE_LAND : OBSTACLE_NONE;
}

static void an_obstacle_leaves_the_boat_before_it(void **state) {
    (void)state;
    static const struct {
        struct analytic weather;
        double max_wind_mps;
        bool walled;
        enum obstacle obstacle;
    } rows[] = {
        {{.horizon_s = 7000.0}, 99, false, OBSTACLE_HORIZON},
        {{.south_deg = -80, .north_deg = 80, .west_deg = -40.2, .east_deg = 0},
         99,
         false,
         OBSTACLE_AREA},
        {{.rise_mps_per_day = 24.0}, 9.0, false, OBSTACLE_WIND},
        {{.horizon_s = 0}, 99, true, OBSTACLE_LAND},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct analytic weather = rows[i].weather;
        weather.wind_from_deg = 90.0;
        weather.wind_mps = 8.0;
        struct voyage voyage =
            analytic_voyage(plain_boat(), &weather, far_away);
        voyage.max_wind_mps = figure_of(rows[i].max_wind_mps);
        voyage.blocked = rows[i].walled ? wall : NULL;
        struct underway boat = sail_start(start, STOWED), before;
        enum obstacle obstacle;
        do {
            before = boat;
            obstacle = sail_step(&voyage, &boat, 270.0, 600.0, HUGE_VAL, NULL);
        } while (obstacle == OBSTACLE_NONE && boat.t_s < 86400.0);
        assert_int_equal(obstacle, rows[i].obstacle);
        assert_near(boat.t_s, before.t_s, 0.0);
        assert_near(boat.at.lon_deg, before.at.lon_deg, 0.0);
        assert_true(boat.t_s >= 3000.0);
        if (obstacle == OBSTACLE_HORIZON) /* shortest step: 30 s */
            assert_true(boat.t_s > 7000.0 - 30.0 && boat.t_s <= 7000.0);
    }
}

/* --- sea room ------------------------------------------------------------- */

/* A shore three miles off, and five: to leeward and not. */
static void deck_work_near_a_lee_shore_is_twice_as_hard(void **state) {
    (void)state;
    static const struct {
        double bearing_deg, off_nmi;
        bool near_lee;
    } rows[] = {{270.0, 3.0, true},
                {270.0, 5.5, false},
                {90.0, 3.0, false},
                {180.0, 3.0, false}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct analytic weather = {.wind_from_deg = 90.0, .wind_mps = 7.0};
        struct voyage voyage =
            analytic_voyage(plain_boat(), &weather, far_away);
        voyage.ease = 1.0;
        struct position shore = rhumb_ahead(start, rows[i].bearing_deg,
                                            nmi_to_m(rows[i].off_nmi + 1.0));
        struct bank bank = {shore, shore, nmi_to_m(1.0), OBSTACLE_LAND};
        struct banks banks = {.items = &bank, .count = 1};
        banks_put(&voyage, &banks);
        struct underway boat = sail_start(start, STOWED);
        sail_change_deck(&voyage, &boat, 270.0, DRAWING(SPAR_PORT), NULL);
        double day_s = voyage.boat->work.day_hardship_s;
        assert_true(day_s > 0.0);
        assert_near(boat.hardship_s, rows[i].near_lee ? 2.0 * day_s : day_s,
                    1e-9);
    }
}

/* --- books ---------------------------------------------------------------- */

static void the_observer_hears_all_that_the_cost_is_made_of(void **state) {
    (void)state;
    struct seed seed = {99};
    for (int i = 0; i < 20; i++) {
        struct analytic weather = {
            .wind_from_deg = seed_between(&seed, 40.0, 140.0),
            .wind_mps = seed_between(&seed, 6.0, 9.0),
            .veer_deg_per_day = seed_between(&seed, -40.0, 40.0),
            .wave_m = seed_between(&seed, 1.0, 3.0),
            .wave_period_s = 7.0,
            .current = vector_towards(seed_between(&seed, 0.0, 360.0), 0.4),
            .night_every_s = 86400.0,
            .night_from_s = 43200.0};
        struct voyage voyage =
            analytic_voyage(analytic_boat("heron-9"), &weather, far_away);
        voyage.ease = 1.5;
        struct log log;
        struct sail_observer observer = watch(&log, &voyage);
        struct underway boat = sail_start(start, STOWED);
        sail_change_deck(&voyage, &boat, 265.0, DRAWING(SPAR_PORT), &observer);
        assert_int_equal(
            sail_for(&voyage, &boat, 265.0, hours_to_s(30.0), &observer),
            OBSTACLE_NONE);
        double hardship_s = 0.0, forbidden_s = 0.0;
        for (int k = 0; k < log.count; k++) {
            bool outside = log.changes[k].outside_limits &&
                           log.changes[k].kind == CHANGE_SET;
            forbidden_s += outside ? COST_FORBIDDEN_WORK_S : 0.0;
            bool deck_work =
                change_is_deck_work(voyage.boat, log.changes[k].kind);
            bool night = fmod(log.changes[k].t_s, 86400.0) >= 43200.0;
            double one_s = !deck_work ? 300.0 : night ? 7200.0 : 1800.0;
            if (deck_work && log.changes[k].roll_deg > 4.0)
                one_s *= 2.0;
            if (deck_work && log.gust_mps[k] > voyage.boat->work.max_gust_mps)
                one_s *= 2.0;
            hardship_s += one_s;
        }
        assert_near(log.step_s, boat.t_s, 1e-6);
        assert_near(log.step_m, boat.sailed_m, 1e-6);
        assert_near(boat.hardship_s, hardship_s, 1e-6);
        /* by the roll at mid-step, the integrator by that at both its ends */
        assert_near(log.discomfort_s, boat.discomfort_s, 0.01 * boat.t_s);
        assert_near(boat.cost_s,
                    boat.t_s + forbidden_s +
                        1.5 * (boat.discomfort_s + boat.hardship_s),
                    1e-6);
        assert_true(log.longest_s <= VOYAGE_STEP_S + 1e-9);
    }
}

static void
discomfort_in_a_steady_sea_is_its_rate_times_the_time(void **state) {
    (void)state;
    static const struct {
        double easy_deg, working_deg;
    } rows[] = {{1.0, 2.0}, {0.5, 6.0}, {20.0, 30.0}};
    struct analytic weather = {.wind_from_deg = 60.0,
                               .wind_mps = 8.0,
                               .wave_m = 2.0,
                               .wave_period_s = 7.0};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct boat *plain = plain_boat();
        plain->comfort.easy_roll_deg = rows[i].easy_deg;
        plain->comfort.working_roll_deg = rows[i].working_deg;
        struct voyage voyage = analytic_voyage(plain, &weather, far_away);
        voyage.ease = 3.0;
        struct underway boat = sail_start(start, STOWED);
        sail_for(&voyage, &boat, 240.0, 36000.0, NULL);
        struct motion motion;
        voyage_motion(&voyage, &boat.here, 240.0, boat.deck, false, &motion);
        double roll_deg =
            voyage_roll_deg(&voyage, &boat.here, &motion, boat.deck);
        assert_true(roll_deg > 1.0 && roll_deg < 20.0);
        double part = fmax(0.0, (roll_deg - rows[i].easy_deg) /
                                    (rows[i].working_deg - rows[i].easy_deg));
        assert_near(boat.discomfort_s, 36000.0 * part * part,
                    1e-6 * 36000.0 * (1.0 + part * part));
        assert_near(boat.cost_s, boat.t_s + 3.0 * boat.discomfort_s, 1e-6);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(with_the_spar_out_nobody_comes_near_the_finish),
        cmocka_unit_test(
            forbidden_work_costs_but_the_last_and_the_forced_stow_do_not),
        cmocka_unit_test(each_part_of_a_change_has_its_own_moment),
        cmocka_unit_test(work_that_ends_in_the_dark_is_done_in_it),
        cmocka_unit_test(no_work_is_done_by_the_lee),
        cmocka_unit_test(an_obstacle_leaves_the_boat_before_it),
        cmocka_unit_test(deck_work_near_a_lee_shore_is_twice_as_hard),
        cmocka_unit_test(the_observer_hears_all_that_the_cost_is_made_of),
        cmocka_unit_test(discomfort_in_a_steady_sea_is_its_rate_times_the_time),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
