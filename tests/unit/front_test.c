#include "../support/check.h"

#include "../support/analytic.h"
#include "base/units.h"
#include "earth/geodesic.h"
#include "search/front.h"
#include <math.h>
#include <omp.h>
#include <string.h>

static struct arena arena;

static int set_up(void **state) {
    (void)state;
    arena_init(&arena);
    return 0;
}

static int tear_down(void **state) {
    (void)state;
    arena_free(&arena);
    return 0;
}

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
    if (own.top_mps <= 0.0)
        own.top_mps = voyage_top_speed(voyage) + voyage->max_current_mps;
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
        const struct track *track = &result.track;
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
    assert_int_equal(one.track.count, three.track.count);
    for (size_t i = 0; i < one.track.count; i++) {
        const struct vertex *a = &one.track.vertices[i];
        const struct vertex *b = &three.track.vertices[i];
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
    assert_true(result.track.count >= 2);
    /* straight towards the goal, all the time there is but for one step */
    double left_m = geodesic_between(result.end.at, goal).distance_m;
    double sailed_m = 4.0 * hours_to_s(10.3);
    assert_true(left_m < nmi_to_m(150.0) - sailed_m + 4.0 * 1800.0 + 100.0);
    assert_true(left_m > nmi_to_m(150.0) - sailed_m - 100.0);
    struct position last = result.track.vertices[result.track.count - 1].at;
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
    options.top_mps = 1.05 * open.fastest_mps;
    options.corridor = (struct corridor){
        .track = &open.track, .half_width_m = nmi_to_m(40.0), .turn_deg = 90.0};
    struct front_result narrow = run(&voyage, goal, &options);
    assert_true(open.reached && narrow.reached);
    assert_near(narrow.cost_s / open.cost_s, 1.0, 0.003);
    assert_true(narrow.expansions < open.expansions / 2);
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

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_boat_of_one_speed_goes_straight_to_any_side),
        cmocka_unit_test(the_track_costs_what_was_promised),
        cmocka_unit_test(a_slow_boat_leaves_her_own_cell),
        cmocka_unit_test(more_threads_change_no_byte),
        cmocka_unit_test(a_horizon_stops_at_the_best_place_so_far),
        cmocka_unit_test(the_front_goes_round_what_bars_the_direct_way),
        cmocka_unit_test(a_corridor_and_a_bound_change_nothing_but_the_work),
        cmocka_unit_test(a_bound_below_the_best_finds_nothing),
        cmocka_unit_test(isochrones_are_a_layer_apart_and_keep_their_distance),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
