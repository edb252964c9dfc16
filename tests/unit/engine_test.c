/* The engine: when it runs, what it burns, and that it never burns more than
 * it may. */
#include "../support/check.h"

#include "../support/analytic.h"
#include "../support/scratch.h"
#include "base/units.h"
#include "earth/geodesic.h"
#include "plan/engine.h"
#include "plan/ways.h"
#include <math.h>

/* 10 m/s from the north, and 1 m/s in a belt of one degree of latitude. */
static const double SOUTH_DEG = 20.0, NORTH_DEG = 21.0;
static const struct position start_at = {22.0, -40.0}, finish = {19.0, -40.0};

static enum obstacle belt(const void *weather, struct position position,
                          double t_s, struct conditions *conditions) {
    (void)weather, (void)t_s;
    bool calm = position.lat_deg > SOUTH_DEG && position.lat_deg < NORTH_DEG;
    *conditions = (struct conditions){
        .wind = vector_from(0.0, calm ? 1.0 : 10.0), .light = LIGHT_DAY};
    return OBSTACLE_NONE;
}

/* On every course 4 m/s in 10 m/s of wind, 0.4 in 1. */
static double in_a_gale(double twa_deg) {
    (void)twa_deg;
    return 40.0;
}

/* 3 m/s where she would sail slower than 1, for `hours` of 2 litres each. */
static struct boat *made_boat(double hours) {
    struct boat *boat = analytic_free_boat(in_a_gale);
    analytic_in_proportion(&boat->stowed);
    analytic_in_proportion(&boat->spar_out);
    boat->motor = (struct motor){.fitted = true,
                                 .speed_mps = figure_of(3.0),
                                 .below_mps = figure_of(1.0),
                                 .litres_per_hour = figure_of(2.0),
                                 .fuel_litres = figure_of(2.0 * hours + 5.0),
                                 .reserve_litres = figure_of(5.0),
                                 .max_wind_mps = 6.0};
    return boat;
}

static struct voyage made_voyage(const struct boat *boat) {
    static const struct analytic none;
    struct voyage voyage = analytic_voyage(boat, &none, finish);
    voyage.conditions = belt;
    voyage.motoring = engine_of(boat);
    voyage.spar_allowed = false;
    return voyage;
}

static struct track straight(void) {
    static struct vertex vertices[2] = {{.at = {22.0, -40.0}, .pinned = true},
                                        {.at = {19.0, -40.0}, .pinned = true}};
    return (struct track){vertices, 2};
}

static double belt_m(void) {
    return geodesic_between((struct position){SOUTH_DEG, -40.0},
                            (struct position){NORTH_DEG, -40.0})
        .distance_m;
}

/* The time by hand, `motored_s` of it under engine in the belt. */
static double by_hand_s(double motored_s) {
    double way_m = geodesic_between(start_at, finish).distance_m;
    return (way_m - belt_m()) / 4.0 + motored_s +
           (belt_m() - 3.0 * motored_s) / 0.4;
}

static void she_motors_through_a_calm(void **state) {
    (void)state;
    const struct boat *boat = made_boat(100.0);
    struct voyage voyage = made_voyage(boat);
    struct track track = straight();
    struct underway from = sail_start(start_at, (struct deck){.rolled = false});
    double elapsed_s, through_s = belt_m() / 3.0;
    engine_fit(&voyage, &track, &from, &elapsed_s);
    assert_near(elapsed_s, by_hand_s(through_s), 2e-3 * elapsed_s);
    assert_near(voyage.motoring.below_mps, 1.0, 0.0);
}

/* 2.8 m/s under sail in the belt, 3.1 beyond: hardly more than the 3.0 under
 * engine. */
static enum obstacle hardly_lighter(const void *weather,
                                    struct position position, double t_s,
                                    struct conditions *conditions) {
    enum obstacle obstacle = belt(weather, position, t_s, conditions);
    bool light = vector_length(conditions->wind) < 5.0;
    conditions->wind = vector_from(0.0, light ? 7.0 : 7.75);
    return obstacle;
}

/* Speeds at the ends of a step tell nothing of the moment at which the engine
 * stops: just over 3 km at 3 m/s, to the shortest step. */
static void the_engine_stops_where_the_wind_is_back(void **state) {
    (void)state;
    struct boat *boat = made_boat(100.0);
    boat->motor.below_mps = figure_of(2.9);
    boat->motor.max_wind_mps = 8.0;
    struct voyage voyage = made_voyage(boat);
    voyage.conditions = hardly_lighter;
    struct position inside = {20.03, -40.0}, border = {SOUTH_DEG, -40.0};
    struct vertex vertices[] = {{.at = inside, .pinned = true},
                                {.at = {19.8, -40.0}, .pinned = true}};
    struct track track = {vertices, 2};
    struct underway there = sail_start(inside, (struct deck){.rolled = false});
    assert_int_equal(track_sail(&voyage, &track, &there, NULL), OBSTACLE_NONE);
    assert_near(there.motored_s,
                geodesic_between(inside, border).distance_m / 3.0, 30.0);
}

static void no_engine_means_no_motoring(void **state) {
    (void)state;
    struct boat *boat = made_boat(100.0);
    boat->motor.fitted = false;
    struct voyage voyage = made_voyage(boat);
    struct track track = straight();
    struct underway from = sail_start(start_at, (struct deck){.rolled = false});
    double elapsed_s;
    assert_true(engine_is_within(&voyage, &track, &from));
    engine_fit(&voyage, &track, &from, &elapsed_s);
    assert_near(elapsed_s, by_hand_s(0.0), 2e-3 * elapsed_s);
    assert_near(engine_litres(boat, 3600.0, 3600.0), 0.0, 0.0);
}

static void in_more_wind_she_sails_however_slowly(void **state) {
    (void)state;
    struct boat *boat = made_boat(100.0);
    boat->motor.max_wind_mps = 0.9;
    struct voyage voyage = made_voyage(boat);
    struct track track = straight();
    struct underway from = sail_start(start_at, (struct deck){.rolled = false});
    double elapsed_s;
    engine_fit(&voyage, &track, &from, &elapsed_s);
    assert_near(elapsed_s, by_hand_s(0.0), 2e-3 * elapsed_s);
}

/* Fuel for four of the ten hours that the calm takes: just those, and the rest
 * under sail. */
static void fuel_for_a_part_of_a_calm_is_spent_and_no_more(void **state) {
    (void)state;
    const double hours = 4.0;
    const struct boat *boat = made_boat(hours);
    struct voyage voyage = made_voyage(boat);
    struct track track = straight();
    struct underway from = sail_start(start_at, (struct deck){.rolled = false});
    double elapsed_s;
    assert_false(engine_is_within(&voyage, &track, &from));
    engine_fit(&voyage, &track, &from, &elapsed_s);
    assert_near(elapsed_s, by_hand_s(hours_to_s(hours)), 5e-3 * elapsed_s);
    struct underway there = from;
    track_sail(&voyage, &track, &there, NULL);
    double litres = engine_litres(boat, there.motored_s, there.t_s);
    assert_true(litres <= engine_usable_litres(boat));
    assert_near(litres, engine_usable_litres(boat), 0.2);
}

/* A day and a half under way, two hours of charging a day: 3 h of 2 litres. */
static void charging_is_burnt_beside_the_motoring(void **state) {
    (void)state;
    struct boat *boat = made_boat(10.0);
    boat->motor.charge_s_per_day = hours_to_s(2.0);
    assert_near(engine_litres(boat, hours_to_s(4.0), hours_to_s(36.0)),
                2.0 * (4.0 + 3.0), 1e-9);
    /* 20 litres, 6 of them for charging */
    assert_near(engine_usable_s(boat, hours_to_s(36.0)), hours_to_s(7.0), 1e-9);
}

static struct way found_in(enum obstacle (*weather)(const void *,
                                                    struct position, double,
                                                    struct conditions *),
                           double hours) {
    const struct boat *boat = made_boat(hours);
    struct voyage voyage = made_voyage(boat);
    voyage.conditions = weather;
    struct underway from = sail_start(start_at, (struct deck){.rolled = false});
    struct search_request asked = {.from = start_at, .to = finish};
    struct ways_ask ask = {.voyage = &voyage,
                           .start = &from,
                           .asked = &asked,
                           .cut = {.leg_loss_frac = 0.003, .most_points = 50},
                           .arena = &arena};
    struct way with = {.cost_s = HUGE_VAL}, without = {.cost_s = HUGE_VAL};
    ways_find(&ask, &with, &without);
    struct underway there = from;
    voyage.motoring = with.motoring;
    track_sail(&voyage, &with.course, &there, NULL);
    assert_true(engine_litres(boat, there.motored_s, there.t_s) <=
                engine_usable_litres(boat));
    assert_near(there.t_s, with.elapsed_s, 1e-6);
    return with;
}

/* The whole way down a meridian, the belt across it: nothing is gained by
 * going elsewhere. */
static void searched_ways_stay_within_the_fuel(void **state) {
    (void)state;
    struct way much = found_in(belt, 12.0), some = found_in(belt, 4.0),
               none = found_in(belt, 0.0);
    assert_near(much.elapsed_s, by_hand_s(belt_m() / 3.0),
                5e-3 * much.elapsed_s);
    assert_near(some.elapsed_s, by_hand_s(hours_to_s(4.0)),
                5e-3 * some.elapsed_s);
    assert_near(none.elapsed_s, by_hand_s(0.0), 5e-3 * none.elapsed_s);
}

/* The belt ends a degree east of the way. */
static enum obstacle patch(const void *weather, struct position position,
                           double t_s, struct conditions *conditions) {
    enum obstacle obstacle = belt(weather, position, t_s, conditions);
    if (position.lon_deg > -39.0)
        conditions->wind = vector_from(0.0, 10.0);
    return obstacle;
}

/* Through the patch under engine is the quickest, in ten hours of it. With fuel
 * for five of them, and the rest at 0.4 m/s, it would take more than twice as
 * long; round its end she needs none and is little later: the way without a
 * thought for fuel does not lead there. */
static void a_calm_is_gone_round_where_the_fuel_does_not_last(void **state) {
    (void)state;
    struct position north = {NORTH_DEG, -39.0}, south = {SOUTH_DEG, -39.0};
    double round_s = (geodesic_between(start_at, north).distance_m + belt_m() +
                      geodesic_between(south, finish).distance_m) /
                     4.0;
    struct way much = found_in(patch, 12.0), some = found_in(patch, 5.0);
    assert_near(much.elapsed_s, by_hand_s(belt_m() / 3.0),
                5e-3 * much.elapsed_s);
    assert_true(round_s > 1.05 * much.elapsed_s);
    assert_true(some.elapsed_s < 1.003 * round_s);
    assert_true(by_hand_s(hours_to_s(5.0)) > 2.0 * round_s);
}

/* Becalmed wholly: 0.02 m/s is not sailed. */
static enum obstacle dead_calm(const void *weather, struct position position,
                               double t_s, struct conditions *conditions) {
    enum obstacle obstacle = belt(weather, position, t_s, conditions);
    if (vector_length(conditions->wind) < 5.0)
        conditions->wind = vector_from(0.0, 0.05);
    return obstacle;
}

static void a_calm_beyond_the_fuel_has_no_way_and_says_so(void **state) {
    (void)state;
    const struct boat *boat = made_boat(4.0);
    struct voyage voyage = made_voyage(boat);
    voyage.conditions = dead_calm;
    struct underway from = sail_start(start_at, (struct deck){.rolled = false});
    struct search_request asked = {.from = start_at, .to = finish};
    struct ways_ask ask = {.voyage = &voyage,
                           .start = &from,
                           .asked = &asked,
                           .cut = {.leg_loss_frac = 0.003, .most_points = 50},
                           .arena = &arena};
    struct way with = {.cost_s = HUGE_VAL}, without = {.cost_s = HUGE_VAL};
    ways_find(&ask, &with, &without);
    assert_false(with.found.reached);
    assert_int_equal(with.found.cause, OBSTACLE_FUEL);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(she_motors_through_a_calm),
        cmocka_unit_test(the_engine_stops_where_the_wind_is_back),
        cmocka_unit_test(no_engine_means_no_motoring),
        cmocka_unit_test(in_more_wind_she_sails_however_slowly),
        cmocka_unit_test(fuel_for_a_part_of_a_calm_is_spent_and_no_more),
        cmocka_unit_test(charging_is_burnt_beside_the_motoring),
        cmocka_unit_test(searched_ways_stay_within_the_fuel),
        cmocka_unit_test(a_calm_is_gone_round_where_the_fuel_does_not_last),
        cmocka_unit_test(a_calm_beyond_the_fuel_has_no_way_and_says_so),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
