#include "../support/check.h"

#include "../support/analytic.h"
#include "../support/banks.h"
#include "../support/scratch.h"
#include "base/units.h"
#include "earth/geodesic.h"
#include "search/front.h"
#include <math.h>
#include <omp.h>
#include <string.h>

static const struct position begin = {10.0, -40.0};
static const struct deck stowed = {.spar = SPAR_STOWED};

static double four_mps(double twa_deg) {
    (void)twa_deg;
    return 4.0;
}

static struct boat *boat_of_one_speed(void) {
    struct boat *boat = analytic_boat_copy("wanderer-12");
    boat->stowed = boat->spar_out = analytic_polar(four_mps, 0.0);
    return boat;
}

static struct front_options options_for(double layer_s, double run_mps) {
    return (struct front_options){.layer_s = layer_s,
                                  .step_s = 0.5 * layer_s,
                                  .cell_m = 0.4 * layer_s * run_mps,
                                  .fan_deg = 15.0,
                                  .fair_mps = run_mps,
                                  .bound_s = HUGE_VAL,
                                  .must_stow = true};
}

static struct front_result run(const struct voyage *voyage,
                               struct position goal,
                               const struct front_options *options) {
    struct front_result result;
    struct underway start = sail_start(begin, stowed);
    struct front_options own = *options;
    own.top_mps = voyage_top_speed(voyage) + voyage->max_current_mps;
    if (own.closing_mps <= 0.0)
        own.closing_mps = own.top_mps;
    front_run(voyage, &start, goal, &own, &arena, &result);
    return result;
}

static void a_boat_of_one_speed_goes_straight_to_any_side(void **state) {
    (void)state;
    struct analytic weather = {.wind_from_deg = 77.0, .wind_mps = 8.0};
    for (int course = 0; course < 360; course += 60) {
        struct position goal =
            geodesic_ahead(begin, course + 3.0, nmi_to_m(150.0));
        struct voyage voyage =
            analytic_voyage(boat_of_one_speed(), &weather, goal);
        voyage.spar_allowed = false;
        struct front_options options = options_for(7200.0, 4.0);
        struct front_result result = run(&voyage, goal, &options);
        assert_true(result.reached);
        /* no change costs time but the mainsail's, which the start frees */
        double least_s = nmi_to_m(150.0) / 4.0;
        assert_true(result.cost_s < 1.0005 * least_s + 150.0);
        assert_true(result.cost_s > 0.9999 * least_s);
    }
}

/* What a front hands back is a whole track, pinned at both ends, whose cost as
 * the integrator sails it is what was promised, but for its coarse steps. */
static void the_track_costs_what_was_promised(void **state) {
    (void)state;
    static const double wind_from_deg[] = {90.0, 250.0, 300.0};
    for (size_t i = 0; i < 3; i++) {
        struct analytic weather = {.wind_from_deg = wind_from_deg[i],
                                   .wind_mps = 7.5,
                                   .veer_deg_per_day = 10.0};
        struct position goal = geodesic_ahead(begin, 265.0, nmi_to_m(120.0));
        struct voyage voyage =
            analytic_voyage(analytic_boat("wanderer-12"), &weather, goal);
        struct front_options options = options_for(7200.0, 3.0);
        struct front_result result = run(&voyage, goal, &options);
        assert_true(result.reached);
        const struct track *track = &result.ways[0];
        assert_true(track->vertices[0].pinned);
        assert_true(track->vertices[track->count - 1].pinned);
        assert_near(track->vertices[0].at.lat_deg, begin.lat_deg, 0.0);
        assert_near(track->vertices[track->count - 1].at.lat_deg, goal.lat_deg,
                    0.0);
        struct underway boat = sail_start(begin, stowed);
        boat = track_start(&voyage, track, &boat);
        assert_int_equal(track_sail(&voyage, track, &boat, NULL),
                         OBSTACLE_NONE);
        assert_near(boat.cost_s / result.cost_s, 1.0, 0.01);
        assert_int_equal(boat.deck.spar, SPAR_STOWED);
        assert_near(result.end.cost_s, result.cost_s, 0.0);
    }
}

/* A boat that moves less than a cell per layer leaves her own cell all the
 * same. With cells of 3 runs and no such rule nobody would get away. */
static void a_slow_boat_leaves_her_own_cell(void **state) {
    (void)state;
    static const double cells_per_run[] = {0.4, 1.0, 3.0};
    double cost_s[3];
    struct analytic weather = {.wind_from_deg = 100.0, .wind_mps = 8.0};
    struct position goal = geodesic_ahead(begin, 200.0, nmi_to_m(120.0));
    struct voyage voyage = analytic_voyage(boat_of_one_speed(), &weather, goal);
    voyage.spar_allowed = false;
    for (size_t i = 0; i < 3; i++) {
        struct front_options options = options_for(3600.0, 4.0);
        options.cell_m = cells_per_run[i] * 3600.0 * 4.0;
        struct front_result result = run(&voyage, goal, &options);
        assert_true(result.reached);
        cost_s[i] = result.cost_s;
    }
    assert_near(cost_s[1] / cost_s[0], 1.0, 0.001);
    assert_near(cost_s[2] / cost_s[0], 1.0, 0.01);
}

static void more_threads_change_no_byte(void **state) {
    (void)state;
    struct analytic weather = {.wind_from_deg = 80.0,
                               .wind_mps = 7.0,
                               .veer_deg_per_lat_deg = 10.0,
                               .lat_deg = 10.0,
                               .wave_m = 2.0,
                               .wave_period_s = 7.0,
                               .current = {-0.2, 0.3}};
    struct position goal = geodesic_ahead(begin, 265.0, nmi_to_m(120.0));
    struct voyage voyage =
        analytic_voyage(analytic_boat("heron-9"), &weather, goal);
    voyage.ease = 1.0;
    struct front_options options = options_for(7200.0, 3.0);
    int threads = omp_get_max_threads();
    omp_set_num_threads(1);
    struct front_result one = run(&voyage, goal, &options);
    omp_set_num_threads(3);
    struct front_result three = run(&voyage, goal, &options);
    omp_set_num_threads(threads);
    assert_true(one.reached && three.reached);
    assert_memory_equal(&one.cost_s, &three.cost_s, sizeof one.cost_s);
    assert_int_equal(one.expansions, three.expansions);
    assert_int_equal(one.labels, three.labels);
    assert_int_equal(one.ways[0].count, three.ways[0].count);
    for (size_t i = 0; i < one.ways[0].count; i++) {
        const struct vertex *a = &one.ways[0].vertices[i];
        const struct vertex *b = &three.ways[0].vertices[i];
        assert_memory_equal(&a->at, &b->at, sizeof a->at);
        assert_int_equal(a->order.spar, b->order.spar);
        assert_int_equal(a->order.rolled, b->order.rolled);
    }
    assert_int_equal(one.isochrone_count, three.isochrone_count);
    for (size_t i = 0; i < one.isochrone_count; i++)
        assert_memory_equal(
            one.isochrones[i].points, three.isochrones[i].points,
            one.isochrones[i].count * sizeof *one.isochrones[i].points);
}

static void a_horizon_stops_at_the_best_place_so_far(void **state) {
    (void)state;
    struct analytic weather = {
        .wind_from_deg = 90.0, .wind_mps = 8.0, .horizon_s = hours_to_s(10.3)};
    struct position goal = geodesic_ahead(begin, 230.0, nmi_to_m(150.0));
    struct voyage voyage = analytic_voyage(boat_of_one_speed(), &weather, goal);
    voyage.spar_allowed = false;
    struct front_options options = options_for(3600.0, 4.0);
    struct front_result result = run(&voyage, goal, &options);
    assert_false(result.reached);
    assert_true(result.stopped_by[OBSTACLE_HORIZON] > 0);
    assert_true(result.ways[0].count >= 2);
    /* straight towards the goal, up to the layer in which the forecast ends */
    double left_m = geodesic_between(result.end.at, goal).distance_m;
    double sailed_m = 4.0 * hours_to_s(11.0);
    assert_near(left_m, nmi_to_m(150.0) - sailed_m, 100.0);
    struct position last = result.ways[0].vertices[result.ways[0].count - 1].at;
    assert_near(last.lat_deg, result.end.at.lat_deg, 0.0);
    assert_near(last.lon_deg, result.end.at.lon_deg, 0.0);
}

/* A bar across the direct way, open at its southern end. */
static enum obstacle bar(const void *water, struct position from,
                         struct position to, double start_s, double end_s) {
    (void)water, (void)start_s, (void)end_s;
    const double bar_lon_deg = -41.0, end_lat_deg = 9.2;
    double a = from.lon_deg - bar_lon_deg, b = to.lon_deg - bar_lon_deg;
    if (a * b > 0.0)
        return OBSTACLE_NONE;
    double lat_deg = from.lat_deg + (to.lat_deg - from.lat_deg) * (a / (a - b));
    return lat_deg > end_lat_deg ? OBSTACLE_LAND : OBSTACLE_NONE;
}

static void the_front_goes_round_what_bars_the_direct_way(void **state) {
    (void)state;
    struct analytic weather = {.wind_from_deg = 0.0, .wind_mps = 8.0};
    struct position goal = {10.0, -42.0}, corner = {9.2, -41.0};
    struct voyage voyage = analytic_voyage(boat_of_one_speed(), &weather, goal);
    voyage.spar_allowed = false;
    voyage.blocked = bar;
    struct front_options options = options_for(3600.0, 4.0);
    struct front_result result = run(&voyage, goal, &options);
    double least_s = (geodesic_between(begin, corner).distance_m +
                      geodesic_between(corner, goal).distance_m) /
                     4.0;
    assert_true(result.reached);
    assert_true(result.stopped_by[OBSTACLE_LAND] > 0);
    assert_true(result.cost_s > 0.999 * least_s);
    assert_true(result.cost_s < 1.04 * least_s);
}

static void a_corridor_and_a_bound_change_nothing_but_the_work(void **state) {
    (void)state;
    struct analytic weather = {
        .wind_from_deg = 70.0, .wind_mps = 7.0, .veer_deg_per_day = 15.0};
    struct position goal = geodesic_ahead(begin, 265.0, nmi_to_m(120.0));
    struct voyage voyage =
        analytic_voyage(analytic_boat("wanderer-12"), &weather, goal);
    struct front_options options = options_for(7200.0, 3.0);
    struct front_result open = run(&voyage, goal, &options);
    options.bound_s = 1.01 * open.cost_s;
    options.closing_mps = 1.05 * open.closing_mps;
    options.corridor = (struct corridor){
        .tracks = open.ways, .count = 1, .half_width_m = nmi_to_m(40.0)};
    struct front_result narrow = run(&voyage, goal, &options);
    assert_true(open.reached && narrow.reached);
    assert_near(narrow.cost_s / open.cost_s, 1.0, 0.003);
    assert_true(narrow.expansions < open.expansions / 2);
}

/* --- several ways --------------------------------------------------------- */

/* 150 nmi to the west, and something round 25 nmi wide in the middle of the
 * way: to pass it in the north or in the south costs the same. */
static const struct position opposite = {10.0, -42.5}, between = {10.0, -41.25};
static const double ROUND_M = 25.0 * METRES_PER_NMI;

static const struct bank island = {
    {10.0, -41.25}, {10.0, -41.25}, 25.0 * METRES_PER_NMI, OBSTACLE_LAND};
static struct banks islands = {.items = &island, .count = 1};

static enum obstacle calm_inside(const void *context, struct position position,
                                 double t_s, struct conditions *conditions) {
    struct analytic weather = *(const struct analytic *)context;
    if (geodesic_between(position, between).distance_m < ROUND_M)
        weather.wind_mps = 0.0;
    return analytic_conditions(&weather, position, t_s, conditions);
}

static struct voyage divided_voyage(const struct analytic *weather, bool calm) {
    struct voyage voyage =
        analytic_voyage(boat_of_one_speed(), weather, opposite);
    voyage.spar_allowed = false;
    if (calm)
        voyage.conditions = calm_inside;
    else
        banks_put(&voyage, &islands);
    return voyage;
}

/* Where a track passes the middle: its offing to the north, m. */
static double offing_m(const struct track *track) {
    for (size_t i = 0; i + 1 < track->count; i++) {
        struct position a = track->vertices[i].at,
                        b = track->vertices[i + 1].at;
        if (a.lon_deg >= between.lon_deg && b.lon_deg < between.lon_deg) {
            double part =
                (a.lon_deg - between.lon_deg) / (a.lon_deg - b.lon_deg);
            return (a.lat_deg + part * (b.lat_deg - a.lat_deg) -
                    between.lat_deg) *
                   60.0 * METRES_PER_NMI;
        }
    }
    fail_msg("the track does not pass the middle");
    return 0.0;
}

static void both_ways_round_the_middle_are_handed_back(void **state) {
    (void)state;
    struct analytic weather = {.wind_from_deg = 0.0, .wind_mps = 8.0};
    for (int calm = 0; calm < 2; calm++) {
        struct voyage voyage = divided_voyage(&weather, calm);
        struct front_options options = options_for(3600.0, 4.0);
        struct front_result result = run(&voyage, opposite, &options);
        assert_true(result.reached);
        assert_in_range(result.way_count, 2, FRONT_WAYS);
        double first_m = offing_m(&result.ways[0]);
        double second_m = offing_m(&result.ways[1]);
        assert_true(first_m * second_m < 0.0);
        assert_true(fabs(first_m) > 0.8 * ROUND_M);
        assert_true(fabs(second_m) > 0.8 * ROUND_M);
        assert_true(result.cost_s >
                    geodesic_between(begin, opposite).distance_m / 4.0);
    }
}

static size_t turns(const struct track *track) {
    size_t count = 0;
    for (size_t i = 1; i + 1 < track->count; i++)
        count += track->vertices[i - 1].order.wind_starboard !=
                 track->vertices[i].order.wind_starboard;
    return count;
}

/* Dead before the wind, all so near the straight way that no two are apart. */
static void ways_that_turn_more_often_are_handed_back_too(void **state) {
    (void)state;
    struct analytic weather = {.wind_from_deg = 90.0, .wind_mps = 6.0};
    struct voyage voyage =
        analytic_voyage(analytic_boat("heron-9"), &weather, opposite);
    struct front_options options = options_for(3600.0, 3.0);
    struct vertex ends[] = {{.at = begin}, {.at = opposite}};
    struct track straight = {.vertices = ends, .count = 2};
    voyage.spar_allowed = false;
    options.corridor = (struct corridor){
        .tracks = &straight, .count = 1, .half_width_m = 1.2 * options.cell_m};
    struct front_result result = run(&voyage, opposite, &options);
    assert_true(result.reached);
    assert_in_range(result.way_count, 2, FRONT_WAYS);
    for (size_t i = 1; i < result.way_count; i++)
        for (size_t k = 0; k < i; k++)
            assert_int_not_equal(turns(&result.ways[i]),
                                 turns(&result.ways[k]));
}

/* Near one of the ways only that side is searched, near both of them both. */
static void a_corridor_is_round_each_of_its_tracks(void **state) {
    (void)state;
    struct analytic weather = {.wind_from_deg = 0.0, .wind_mps = 8.0};
    struct voyage voyage = divided_voyage(&weather, false);
    struct front_options options = options_for(3600.0, 4.0);
    struct front_result open = run(&voyage, opposite, &options);
    assert_true(open.way_count >= 2);
    for (size_t count = 1; count <= 2; count++)
        for (size_t first = 0; first + count <= 2; first++) {
            options.corridor =
                (struct corridor){.tracks = &open.ways[first],
                                  .count = count,
                                  .half_width_m = nmi_to_m(15.0)};
            struct front_result near = run(&voyage, opposite, &options);
            assert_true(near.reached);
            assert_near(near.cost_s / open.cost_s, 1.0, 0.01);
            bool both = near.way_count >= 2 &&
                        offing_m(&near.ways[0]) * offing_m(&near.ways[1]) < 0.0;
            assert_int_equal(both, count == 2);
            if (count == 1)
                assert_true(offing_m(&near.ways[0]) *
                                offing_m(&open.ways[first]) >
                            0.0);
        }
}

/* A boat of 4 m/s in a current of 5 to the west. She can't hold her place, but
 * goals down the stream are reached: by the triangle of speeds at
 * 5 cos a + sqrt(16 - (5 sin a)^2) on a course a off the stream. The further
 * off, the more the cells of the front cost: 0.004 to 2.2 % here. */
static void in_a_current_stronger_than_the_boat_she_drifts(void **state) {
    (void)state;
    static const double off_deg[] = {0.0, 20.0, -20.0, 45.0};
    struct analytic weather = {.wind_from_deg = 0.0,
                               .wind_mps = 8.0,
                               .current = vector_towards(270.0, 5.0)};
    for (size_t i = 0; i < sizeof off_deg / sizeof *off_deg; i++) {
        struct position goal =
            geodesic_ahead(begin, 270.0 + off_deg[i], nmi_to_m(150.0));
        struct voyage voyage =
            analytic_voyage(boat_of_one_speed(), &weather, goal);
        voyage.spar_allowed = false;
        double along_mps = 5.0 * cos(off_deg[i] * RADIANS_PER_DEGREE);
        double across_mps = 5.0 * sin(off_deg[i] * RADIANS_PER_DEGREE);
        double least_s = nmi_to_m(150.0) /
                         (along_mps + sqrt(16.0 - across_mps * across_mps));
        struct front_options options = options_for(1800.0, 4.0);
        options.fair_mps = 8.0;
        options.fan_deg = 5.0;
        struct front_result result = run(&voyage, goal, &options);
        assert_true(result.reached);
        assert_true(result.cost_s > 0.999 * least_s);
        assert_true(result.cost_s < 1.03 * least_s);
    }
}

/* Up the stream there is no way; she is carried off until the forecast ends. */
static void against_such_a_current_there_is_no_way(void **state) {
    (void)state;
    struct analytic weather = {.wind_from_deg = 0.0,
                               .wind_mps = 8.0,
                               .horizon_s = hours_to_s(20.0),
                               .current = vector_towards(270.0, 5.0)};
    struct position goal = geodesic_ahead(begin, 90.0, nmi_to_m(60.0));
    struct voyage voyage = analytic_voyage(boat_of_one_speed(), &weather, goal);
    voyage.spar_allowed = false;
    struct front_options options = options_for(3600.0, 4.0);
    assert_false(run(&voyage, goal, &options).reached);
}

static void a_bound_below_the_best_finds_nothing(void **state) {
    (void)state;
    struct analytic weather = {.wind_from_deg = 70.0, .wind_mps = 7.0};
    struct position goal = geodesic_ahead(begin, 265.0, nmi_to_m(100.0));
    struct voyage voyage = analytic_voyage(boat_of_one_speed(), &weather, goal);
    struct front_options options = options_for(7200.0, 4.0);
    options.bound_s = 0.9 * nmi_to_m(100.0) / 4.0;
    assert_false(run(&voyage, goal, &options).reached);
    options.bound_s = 1.1 * nmi_to_m(100.0) / 4.0;
    assert_true(run(&voyage, goal, &options).reached);
}

static void isochrones_are_a_layer_apart_and_keep_their_distance(void **state) {
    (void)state;
    struct analytic weather = {.wind_from_deg = 0.0, .wind_mps = 8.0};
    struct position goal = geodesic_ahead(begin, 200.0, nmi_to_m(100.0));
    struct voyage voyage = analytic_voyage(boat_of_one_speed(), &weather, goal);
    voyage.spar_allowed = false;
    struct front_options options = options_for(3600.0, 4.0);
    struct front_result result = run(&voyage, goal, &options);
    assert_true(result.isochrone_count >= 10);
    for (size_t i = 0; i < 10; i++) {
        const struct isochrone *line = &result.isochrones[i];
        double furthest_m = 0.0;
        assert_near(line->t_s, 3600.0 * (double)(i + 1), 1e-6);
        for (size_t k = 0; k < line->count; k++)
            furthest_m =
                fmax(furthest_m,
                     geodesic_between(begin, line->points[k]).distance_m);
        assert_true(furthest_m <= 4.0 * line->t_s * 1.0001);
        assert_true(furthest_m > 0.97 * 4.0 * line->t_s);
    }
}

/* A passage by many places is many fronts: what one of them worked with goes
 * when it is done. */
static void only_the_result_stays_in_memory(void **state) {
    (void)state;
    struct analytic weather = {.wind_from_deg = 70.0, .wind_mps = 7.0};
    struct position goal = geodesic_ahead(begin, 265.0, nmi_to_m(100.0));
    struct voyage voyage = analytic_voyage(boat_of_one_speed(), &weather, goal);
    struct front_options options = options_for(7200.0, 4.0);
    size_t before_bytes = arena.used_bytes;
    assert_true(run(&voyage, goal, &options).reached);
    assert_true(arena.used_bytes - before_bytes < 1000000);
}

static void what_stopped_most_is_the_cause_but_never_land(void **state) {
    (void)state;
    struct front_result result = {.stopped_by = {[OBSTACLE_LAND] = 90,
                                                 [OBSTACLE_WIND] = 3,
                                                 [OBSTACLE_GUST] = 5,
                                                 [OBSTACLE_ZONE] = 4}};
    assert_int_equal(front_main_cause(&result), OBSTACLE_GUST);
    result.stopped_by[OBSTACLE_ZONE] = 6;
    assert_int_equal(front_main_cause(&result), OBSTACLE_ZONE);
    struct front_result land = {.stopped_by = {[OBSTACLE_LAND] = 90}};
    assert_int_equal(front_main_cause(&land), OBSTACLE_NO_SPEED);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_stopped_most_is_the_cause_but_never_land),
        cmocka_unit_test(a_boat_of_one_speed_goes_straight_to_any_side),
        cmocka_unit_test(the_track_costs_what_was_promised),
        cmocka_unit_test(a_slow_boat_leaves_her_own_cell),
        cmocka_unit_test(more_threads_change_no_byte),
        cmocka_unit_test(a_horizon_stops_at_the_best_place_so_far),
        cmocka_unit_test(the_front_goes_round_what_bars_the_direct_way),
        cmocka_unit_test(a_corridor_and_a_bound_change_nothing_but_the_work),
        cmocka_unit_test(both_ways_round_the_middle_are_handed_back),
        cmocka_unit_test(ways_that_turn_more_often_are_handed_back_too),
        cmocka_unit_test(a_corridor_is_round_each_of_its_tracks),
        cmocka_unit_test(in_a_current_stronger_than_the_boat_she_drifts),
        cmocka_unit_test(against_such_a_current_there_is_no_way),
        cmocka_unit_test(a_bound_below_the_best_finds_nothing),
        cmocka_unit_test(isochrones_are_a_layer_apart_and_keep_their_distance),
        cmocka_unit_test(only_the_result_stays_in_memory),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
