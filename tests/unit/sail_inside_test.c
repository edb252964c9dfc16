/* What happens between two looks of the integrator: limits that are met only
 * inside a step, a headsail rolled for a while, and the length of the step. */
#include "../support/check.h"

#include "../support/analytic.h"
#include "../support/sailing.h"

#include "base/units.h"
#include "earth/rhumb.h"
#include "voyage/sail.h"
#include <math.h>

/* A wind that swings and breathes, a sea that rises and falls with it: each by
 * the sine of the time. */
struct swing {
    struct analytic mean;
    double turn_deg, rise_mps, grow_m; /* clockwise at first */
    double period_s;
};

static struct analytic swing_at(const struct swing *swing, double t_s) {
    double sine = sin(2.0 * PI * t_s / swing->period_s);
    struct analytic weather = swing->mean;
    weather.wind_from_deg += swing->turn_deg * sine;
    weather.wind_mps += swing->rise_mps * sine;
    weather.wave_m += swing->grow_m * sine;
    return weather;
}

static enum obstacle swing_conditions(const void *context,
                                      struct position position, double t_s,
                                      struct conditions *conditions) {
    struct analytic weather = swing_at(context, t_s);
    return analytic_conditions(&weather, position, t_s, conditions);
}

static struct voyage swing_voyage(const struct boat *boat,
                                  const struct swing *swing) {
    struct voyage voyage = analytic_voyage(boat, &swing->mean, far_away);
    voyage.conditions = swing_conditions;
    voyage.weather = swing;
    return voyage;
}

/* --- a headsail rolled for a while ---------------------------------------- */

/* To the west, the spar out to port, the wind about 10 degrees on the port
 * quarter and swinging by 12 in a day, first to the quarter. The plain boat
 * makes 5 m/s in 8: the wing-and-wing range less its margin begins at AWA 145,
 * which is TWA 145 + asin(5/8 sin 145) = 166.01; two degrees inside it, at 147,
 * at TWA 166.90. */
static const struct swing quarter = {
    .mean = {.wind_from_deg = 100.0, .wind_mps = 8.0},
    .turn_deg = 12.0,
    .period_s = 86400.0};
static const double END_TWA_DEG = 166.01, INSIDE_TWA_DEG = 166.90;
static const double WEST_DEG = 270.0;

static double twa_at(double t_s) {
    return fabs(angle_turn(WEST_DEG, swing_at(&quarter, t_s).wind_from_deg));
}

static void a_rolled_headsail_waits_for_two_degrees(void **state) {
    (void)state;
    struct voyage voyage = swing_voyage(plain_boat(), &quarter);
    voyage.step_s = 60.0; /* 0.05 degrees */
    struct log log;
    struct sail_observer observer = watch(&log, &voyage);
    struct underway boat = sail_start(start, DRAWING(SPAR_PORT));
    assert_int_equal(
        sail_for(&voyage, &boat, WEST_DEG, hours_to_s(18.0), &observer),
        OBSTACLE_NONE);
    assert_int_equal(log.count, 2);
    assert_int_equal(log.changes[0].kind, CHANGE_ROLL);
    assert_near(twa_at(log.changes[0].t_s), END_TWA_DEG, 0.06);
    assert_int_equal(log.changes[1].kind, CHANGE_UNROLL);
    assert_true(log.changes[1].unplanned);
    assert_near(twa_at(log.changes[1].t_s), INSIDE_TWA_DEG, 0.06);
    assert_true(twa_at(log.changes[1].t_s) >= INSIDE_TWA_DEG - 0.01);
}

/* With steps of half an hour, too: the one in which it happens is cut. */
static void it_waits_no_longer_with_long_steps(void **state) {
    (void)state;
    struct voyage voyage = swing_voyage(plain_boat(), &quarter);
    struct log log;
    struct sail_observer observer = watch(&log, &voyage);
    struct underway boat = sail_start(start, DRAWING(SPAR_PORT));
    sail_for(&voyage, &boat, WEST_DEG, hours_to_s(18.0), &observer);
    assert_int_equal(log.count, 2);
    assert_true(twa_at(log.changes[1].t_s) >= INSIDE_TWA_DEG - 0.01);
    assert_near(twa_at(log.changes[1].t_s), INSIDE_TWA_DEG, 0.05);
}

static int count_unrolled(const struct log *log) {
    int count = 0;
    for (int i = 0; i < log->count; i++)
        count += log->changes[i].kind == CHANGE_UNROLL;
    return count;
}

/* The order is given when the boat is under way for so many hours: before the
 * wind is on the quarter, while the crew has rolled the sail, after. */
static void what_an_order_rolled_stays_rolled(void **state) {
    (void)state;
    static const double hours[] = {0.0, 1.0, 6.0, 16.0};
    for (size_t i = 0; i < sizeof hours / sizeof *hours; i++) {
        struct voyage voyage = swing_voyage(plain_boat(), &quarter);
        struct log log;
        struct underway boat = sail_start(start, DRAWING(SPAR_PORT));
        sail_for(&voyage, &boat, WEST_DEG, hours_to_s(hours[i]), NULL);
        struct sail_observer observer = watch(&log, &voyage);
        sail_change_deck(&voyage, &boat, WEST_DEG, ROLLED(SPAR_PORT),
                         &observer);
        sail_for(&voyage, &boat, WEST_DEG, hours_to_s(30.0 - hours[i]),
                 &observer);
        assert_int_equal(count_unrolled(&log), 0);
        assert_true(boat.deck.rolled);
    }
}

/* While she is unfit to draw the order changes nothing and costs nothing; as
 * soon as she may, it is carried out. */
static void an_order_to_draw_waits_while_the_spar_is_unfit(void **state) {
    (void)state;
    struct voyage voyage = swing_voyage(plain_boat(), &quarter);
    voyage.ease = 1.0;
    struct log log;
    struct sail_observer observer = watch(&log, &voyage);
    struct underway boat = sail_start(start, DRAWING(SPAR_PORT));
    sail_for(&voyage, &boat, WEST_DEG, hours_to_s(6.0), &observer);
    assert_true(boat.deck.rolled && boat.rolled_for_now);
    struct underway before = boat;
    sail_change_deck(&voyage, &boat, WEST_DEG, DRAWING(SPAR_PORT), &observer);
    assert_int_equal(log.count, 1);
    assert_near(boat.cost_s, before.cost_s, 0.0);
    assert_near(boat.work_left_s, 0.0, 0.0);
    sail_for(&voyage, &boat, WEST_DEG, hours_to_s(12.0), &observer);
    assert_int_equal(log.count, 2);
    assert_int_equal(log.changes[1].kind, CHANGE_UNROLL);
    assert_false(boat.deck.rolled);
}

/* An order does not wait for the two degrees. */
static void an_order_unrolls_as_soon_as_the_spar_may_draw(void **state) {
    (void)state;
    struct voyage voyage = swing_voyage(plain_boat(), &quarter);
    voyage.step_s = 60.0;
    struct log log;
    struct sail_observer observer = watch(&log, &voyage);
    struct underway boat = sail_start(start, DRAWING(SPAR_PORT));
    sail_for(&voyage, &boat, WEST_DEG, hours_to_s(6.0), &observer);
    while (twa_at(boat.t_s) < END_TWA_DEG + 0.3)
        sail_for(&voyage, &boat, WEST_DEG, 60.0, &observer);
    assert_true(boat.deck.rolled);
    sail_change_deck(&voyage, &boat, WEST_DEG, DRAWING(SPAR_PORT), &observer);
    assert_false(boat.deck.rolled);
    assert_int_equal(count_unrolled(&log), 1);
    assert_false(log.changes[log.count - 1].unplanned);
}

/* --- met only in the middle of a step ------------------------------------- */

/* Half a swing in half an hour, the longest step: both of its ends are the same
 * and fit. The limit is met at a third of the way up, after 5 minutes. */
enum { STEP_S = 1800, MET_S = 300 };

static void the_spars_limit_inside_a_step_is_seen_when_it_is_met(void **state) {
    (void)state;
    static const struct {
        double twa_deg, wind_mps; /* port quarter */
        double turn_deg, rise_mps;
    } rows[] = {
        /* 2 degrees to the quarter; the range ends at TWA 166.01 */
        {167.01, 8.0, 2.0, 0.0},
        /* the wind to 10.3, the limit is 10; by the angle there is room */
        {176.0, 9.7, 0.0, 0.6},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct boat *plain = plain_boat();
        if (rows[i].rise_mps > 0.0)
            plain->spar.wing_max_wind_mps = 10.0;
        struct swing swing = {
            .mean = {.wind_from_deg = WEST_DEG - rows[i].twa_deg,
                     .wind_mps = rows[i].wind_mps},
            .turn_deg = rows[i].turn_deg,
            .rise_mps = rows[i].rise_mps,
            .period_s = 2.0 * STEP_S};
        struct voyage voyage = swing_voyage(plain, &swing);
        struct log log;
        struct sail_observer observer = watch(&log, &voyage);
        struct underway boat = sail_start(start, DRAWING(SPAR_PORT));
        assert_int_equal(sail_for(&voyage, &boat, WEST_DEG, STEP_S, &observer),
                         OBSTACLE_NONE);
        assert_int_equal(log.changes[0].kind, CHANGE_ROLL);
        assert_near(log.changes[0].t_s, MET_S, 31.0); /* the shortest step */
        assert_true(log.unfit_s <= 31.0);
    }
}

/* Limits of wind 10 m/s, gusts 14, waves 3 m, passed only inside. */
static void no_hard_limit_is_crossed_inside_a_step(void **state) {
    (void)state;
    static const struct {
        double max_wind, max_gust, max_wave; /* 0: none */
        enum obstacle obstacle;
    } rows[] = {{10.0, 0.0, 0.0, OBSTACLE_WIND},
                {0.0, 14.0, 0.0, OBSTACLE_GUST},
                {0.0, 0.0, 3.0, OBSTACLE_WAVE},
                {10.6, 15.0, 3.3, OBSTACLE_NONE}};
    const struct swing swing = {.mean = {.wind_from_deg = 90.0,
                                         .wind_mps = 9.5,
                                         .gust_frac = figure_of(1.4),
                                         .wave_m = 2.8,
                                         .wave_period_s = 7.0},
                                .rise_mps = 1.0,
                                .grow_m = 0.4,
                                .period_s = 2.0 * STEP_S};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct voyage voyage = swing_voyage(plain_boat(), &swing);
        if (rows[i].max_wind > 0.0)
            voyage.max_wind_mps = figure_of(rows[i].max_wind);
        if (rows[i].max_gust > 0.0)
            voyage.max_gust_mps = figure_of(rows[i].max_gust);
        if (rows[i].max_wave > 0.0)
            voyage.max_wave_m = figure_of(rows[i].max_wave);
        struct underway boat = sail_start(start, STOWED);
        assert_int_equal(sail_for(&voyage, &boat, 240.0, STEP_S, NULL),
                         rows[i].obstacle);
        if (rows[i].obstacle != OBSTACLE_NONE) /* met after 300 s */
            assert_true(boat.t_s <= MET_S);
    }
}

/* --- the length of the step ----------------------------------------------- */

static void make_smooth(struct analytic *weather, struct seed *seed) {
    *weather =
        (struct analytic){.wind_from_deg = seed_between(seed, 20.0, 100.0),
                          .wind_mps = seed_between(seed, 5.0, 9.0),
                          .veer_deg_per_day = seed_between(seed, -40.0, 40.0),
                          .rise_mps_per_day = seed_between(seed, -0.8, 0.8),
                          .veer_deg_per_lat_deg = seed_between(seed, -5.0, 5.0),
                          .lat_deg = start.lat_deg,
                          .wave_m = seed_between(seed, 0.5, 2.5),
                          .wave_period_s = 7.0};
}

static double smooth_leg_s(const struct voyage *voyage, double step_s) {
    struct voyage own = *voyage;
    own.step_s = step_s;
    struct underway boat = sail_start(start, STOWED);
    struct position to = rhumb_ahead(start, 235.0, nmi_to_m(300.0));
    assert_int_equal(sail_to(&own, &boat, to, NULL), OBSTACLE_NONE);
    return boat.t_s;
}

/* The error of the default step, by one of a fiftieth of it, too. */
static void halving_the_step_changes_smooth_legs_by_little(void **state) {
    (void)state;
    struct seed seed = {77};
    for (int i = 0; i < 30; i++) {
        struct analytic weather;
        make_smooth(&weather, &seed);
        struct voyage voyage =
            analytic_voyage(analytic_boat(i % 2 ? "heron-9" : "wanderer-12"),
                            &weather, far_away);
        double full_s = smooth_leg_s(&voyage, VOYAGE_STEP_S);
        double half_s = smooth_leg_s(&voyage, 0.5 * VOYAGE_STEP_S);
        double fine_s = smooth_leg_s(&voyage, VOYAGE_STEP_S / 50.0);
        assert_near(half_s / full_s, 1.0, 2e-4);
        assert_near(fine_s / full_s, 1.0, 2e-4);
    }
}

/* --- rolled to motor ------------------------------------------------------ */

/* A wind that is strong and weak in turns, every 60 nmi, all of which moves to
 * the west at 5 kn: faster than she sails where she just does not motor, slower
 * than under engine. Motoring she comes into more of it and sailing into less.
 */
static const double DRIFT_MPS = 5.0 * METRES_PER_NMI / SECONDS_PER_HOUR;

static enum obstacle moving_along(const void *context, struct position position,
                                  double t_s, struct conditions *conditions) {
    (void)context;
    double west_m = rhumb_between(start, position).distance_m;
    double turns =
        (west_m - DRIFT_MPS * t_s) / (60.0 * METRES_PER_NMI) - 1.2 / (2.0 * PI);
    *conditions = (struct conditions){
        .wind = vector_from(80.0, 5.0 + 1.5 * sin(2.0 * PI * turns)),
        .light = LIGHT_DAY};
    return OBSTACLE_NONE;
}

static const double MOTORS_BELOW_MPS = 2.4;

static struct voyage motoring_voyage(const struct boat *boat) {
    static const struct analytic none;
    struct voyage voyage = analytic_voyage(boat, &none, far_away);
    voyage.conditions = moving_along;
    voyage.motoring = (struct motoring){
        .below_mps = MOTORS_BELOW_MPS, .speed_mps = 3.1, .max_wind_mps = 8.0};
    return voyage;
}

/* Under engine the apparent wind is too far forward for the spar, under sail it
 * is not. */
static void rolled_to_motor_it_stays_so_for_an_hour(void **state) {
    (void)state;
    struct voyage voyage = motoring_voyage(analytic_boat("wanderer-12"));
    struct log log;
    struct sail_observer observer = watch(&log, &voyage);
    struct underway boat = sail_start(start, DRAWING(SPAR_STARBOARD));
    boat.deck.wind_starboard = true;
    assert_int_equal(
        sail_for(&voyage, &boat, WEST_DEG, hours_to_s(24.0), &observer),
        OBSTACLE_NONE);
    assert_true(log.count >= 4);
    for (int i = 0; i < log.count; i++) {
        const struct sail_change *change = &log.changes[i];
        bool rolls = i % 2 == 0;
        assert_int_equal(change->kind, rolls ? CHANGE_ROLL : CHANGE_UNROLL);
        if (!rolls)
            assert_true(change->t_s - log.changes[i - 1].t_s >= 3600.0);
    }
    assert_true(boat.motored_s > hours_to_s(2.0));
}

/* Orders to draw, such as every place of a track repeats, don't unroll it
 * sooner. */
static void nor_do_orders_unroll_it_sooner(void **state) {
    (void)state;
    struct voyage voyage = motoring_voyage(analytic_boat("wanderer-12"));
    struct log log;
    struct sail_observer observer = watch(&log, &voyage);
    struct underway boat = sail_start(start, DRAWING(SPAR_STARBOARD));
    boat.deck.wind_starboard = true;
    for (int i = 0; i < 24 * 12; i++) {
        assert_int_equal(sail_change_deck(&voyage, &boat, WEST_DEG,
                                          DRAWING(SPAR_STARBOARD), &observer),
                         OBSTACLE_NONE);
        assert_int_equal(sail_for(&voyage, &boat, WEST_DEG, 300.0, &observer),
                         OBSTACLE_NONE);
    }
    for (int i = 1; i < log.count; i++)
        if (log.changes[i].kind == CHANGE_UNROLL)
            assert_true(log.changes[i].t_s - log.changes[i - 1].t_s >= 3600.0);
    assert_true(log.count >= 4);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_rolled_headsail_waits_for_two_degrees),
        cmocka_unit_test(it_waits_no_longer_with_long_steps),
        cmocka_unit_test(what_an_order_rolled_stays_rolled),
        cmocka_unit_test(an_order_to_draw_waits_while_the_spar_is_unfit),
        cmocka_unit_test(an_order_unrolls_as_soon_as_the_spar_may_draw),
        cmocka_unit_test(the_spars_limit_inside_a_step_is_seen_when_it_is_met),
        cmocka_unit_test(no_hard_limit_is_crossed_inside_a_step),
        cmocka_unit_test(halving_the_step_changes_smooth_legs_by_little),
        cmocka_unit_test(rolled_to_motor_it_stays_so_for_an_hour),
        cmocka_unit_test(nor_do_orders_unroll_it_sooner),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
