#include "../support/check.h"

#include "../support/analytic.h"
#include "../support/scratch.h"
#include "base/units.h"
#include "earth/geodesic.h"
#include "earth/rhumb.h"
#include "search/expand.h"
#include <math.h>

static const struct position here = {20.0, -40.0};
static const double LAYER_S = 3600.0;

static double four_mps(double twa_deg) {
    (void)twa_deg;
    return 4.0;
}

static struct boat *boat_of_one_speed(void) {
    struct boat *boat = analytic_boat_copy("wanderer-12");
    boat->stowed = boat->spar_out = analytic_polar(four_mps, 0.0);
    analytic_widen_limits(boat);
    return boat;
}

/* A front of one label, far from its goal. Points into itself. */
struct bench {
    struct analytic weather;
    struct front_options options;
    struct cells cells;
    struct expander expander;
    struct harvest harvest;
    struct label label;
};

static void lay_out(struct bench *bench, const struct boat *boat,
                    struct analytic weather, double goal_m) {
    struct position goal = geodesic_ahead(here, 260.0, goal_m);
    *bench = (struct bench){.weather = weather};
    bench->options = (struct front_options){.layer_s = LAYER_S,
                                            .step_s = 0.5 * LAYER_S,
                                            .cell_m = 5000.0,
                                            .fan_deg = 15.0,
                                            .fair_mps = 4.0,
                                            .top_mps = 6.0,
                                            .must_stow = true};
    bench->expander = (struct expander){
        .voyage = analytic_voyage(boat, &bench->weather, goal),
        .options = &bench->options,
        .goal = goal,
        .cells = &bench->cells,
        .bound_s = HUGE_VAL,
        .fair_s_per_m = 1.0 / 4.0,
        .least_s_per_m = 1.0 / 6.0};
    cells_init(&bench->cells, &arena, bench->options.cell_m, here);
    fan_init(&bench->expander.fan, &bench->expander.voyage, 15.0, &arena);
    bench->harvest.items =
        arena_alloc(&arena, expand_most(&bench->expander.fan),
                    sizeof *bench->harvest.items);
    bench->label = (struct label){.at = here, .twa_deg = 180.0};
}

static void expand(struct bench *bench) {
    expand_label(&bench->expander, &bench->label, 2.0 * LAYER_S,
                 &bench->harvest);
}

static const struct analytic steady = {.wind_from_deg = 80.0, .wind_mps = 8.0};

/* 4 m/s for an hour on all sides, and the current with it; the time is the
 * cost. 23 headings of the fan, none into the wind, and the one home. */
static void a_run_is_a_layer_on_every_heading_and_the_current(void **state) {
    (void)state;
    static const double set_mps[] = {0.0, 1.0, 6.0};
    struct boat *boat = boat_of_one_speed();
    analytic_free_changes(boat);
    for (size_t i = 0; i < 3; i++) {
        struct bench bench;
        struct analytic weather = steady;
        weather.current = vector_towards(200.0, set_mps[i]);
        lay_out(&bench, boat, weather, nmi_to_m(500.0));
        bench.expander.voyage.spar_allowed = false;
        bench.label.cost_s = 1000.0;
        expand(&bench);
        assert_int_equal(bench.harvest.count, 24);
        struct position drifted =
            rhumb_ahead(here, 200.0, set_mps[i] * LAYER_S);
        for (size_t k = 0; k < bench.harvest.count; k++) {
            const struct label *next = &bench.harvest.items[k];
            assert_near(rhumb_between(drifted, next->at).distance_m,
                        4.0 * LAYER_S, 15.0); /* on a plane: 0.1 % */
            assert_near(next->cost_s, 1000.0 + LAYER_S, 1e-9);
        }
    }
}

/* She was thought to make 3 m/s and is found to make 4: half of the
 * difference, for the time that she sailed, on the heading that she held. */
static void a_label_is_put_right_by_the_mean_of_both_ends(void **state) {
    (void)state;
    struct bench bench;
    lay_out(&bench, boat_of_one_speed(), steady, nmi_to_m(500.0));
    bench.label.heading_deg = 230.0;
    bench.label.twa_deg = -150.0;
    bench.label.from = here;
    bench.label.sailed_s = 3000.0;
    bench.label.velocity_mps = vector_towards(230.0, 3.0);
    expand(&bench);
    struct rhumb moved = rhumb_between(here, bench.label.at);
    assert_near(moved.distance_m, 0.5 * 3000.0 * 1.0, 0.1);
    assert_angle_near(moved.course_deg, 230.0, 0.01);
    double left_m = expand_left_m(&bench.expander, bench.label.at);
    assert_near(bench.harvest.closing_mps,
                (bench.label.from_left_m - left_m) / LAYER_S, 1e-9);
}

/* On the way the wind has come by the lee, or to where the spar may not draw:
 * the crew has brought the mainsail over, has rolled the sail. */
static void what_the_crew_had_to_do_on_the_way_is_done(void **state) {
    (void)state;
    static const struct {
        struct deck deck;
        double heading_deg; /* the wind is from 80 */
        bool rolled, wind_starboard;
        double work_s;
    } rows[] = {
        {{.spar = SPAR_STOWED}, 230.0, false, false, 0.0},
        {{.spar = SPAR_STOWED}, 300.0, false, true, 480.0},
        {{.spar = SPAR_STOWED}, 262.0, false, false, 0.0}, /* 2 by the lee */
        {{.spar = SPAR_PORT}, 250.0, false, false, 0.0},   /* wing, TWA 170 */
        {{.spar = SPAR_PORT}, 200.0, true, false, 180.0},  /* 120: too far */
        {{.spar = SPAR_STARBOARD}, 218.0, false, false, 0.0}, /* reach, 138 */
    };
    struct boat *boat = boat_of_one_speed();
    boat->handling.mainsail_gybe_s = 480.0;
    boat->spar.roll_s = 180.0;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct bench bench;
        lay_out(&bench, boat, steady, nmi_to_m(500.0));
        bench.label.deck = rows[i].deck;
        bench.label.heading_deg = rows[i].heading_deg;
        bench.label.sailed_s = LAYER_S;
        bench.label.velocity_mps = vector_towards(rows[i].heading_deg, 4.0);
        expand(&bench);
        assert_int_equal(bench.label.deck.rolled, rows[i].rolled);
        assert_int_equal(bench.label.deck.wind_starboard,
                         rows[i].wind_starboard);
        assert_near(bench.label.work_left_s, rows[i].work_s, 1e-9);
    }
}

/* Work goes on into the next layer; only a spar that comes in is stowing. */
static void only_a_spar_that_comes_in_is_stowing(void **state) {
    (void)state;
    static const struct {
        enum spar_place spar;
        bool stowing; /* the label's work */
    } rows[] = {{SPAR_STOWED, false}, {SPAR_STOWED, true}, {SPAR_PORT, false}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct bench bench;
        lay_out(&bench, boat_of_one_speed(), steady, nmi_to_m(500.0));
        bench.label.deck.spar = rows[i].spar;
        bench.label.work_left_s = LAYER_S + 1500.0;
        bench.label.stowing = rows[i].stowing;
        expand(&bench);
        assert_true(bench.harvest.count > 0);
        for (size_t k = 0; k < bench.harvest.count; k++) {
            const struct label *next = &bench.harvest.items[k];
            assert_true(next->work_left_s >= 1500.0);
            bool stows =
                next->deck.spar == SPAR_STOWED && rows[i].spar != SPAR_STOWED;
            assert_int_equal(next->stowing, rows[i].stowing || stows);
        }
    }
}

/* Nearer to the finish than 5 nmi nothing may be out, nor be coming in; also
 * where she has worked all through the layer and sailed none of it. */
static void inside_the_landfall_circle_the_spar_is_in(void **state) {
    (void)state;
    static const struct {
        double off_nmi, sailed_s;
        enum spar_place spar;
        bool stowing, barred;
    } rows[] = {
        {4.9, LAYER_S, SPAR_PORT, false, true},
        {4.9, LAYER_S, SPAR_STOWED, true, true},
        {4.9, LAYER_S, SPAR_STOWED, false, false},
        {4.9, 0.0, SPAR_STOWED, true, true},
        {5.1, 0.0, SPAR_STOWED, true, false},
        {5.1, LAYER_S, SPAR_PORT, false, false},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct bench bench;
        lay_out(&bench, boat_of_one_speed(), steady, nmi_to_m(rows[i].off_nmi));
        bench.label.deck.spar = rows[i].spar;
        bench.label.stowing = rows[i].stowing;
        bench.label.work_left_s = rows[i].stowing ? 600.0 : 0.0;
        bench.label.heading_deg = 250.0;
        bench.label.sailed_s = rows[i].sailed_s;
        bench.label.velocity_mps = vector_towards(250.0, 4.0);
        expand(&bench);
        assert_int_equal(bench.harvest.stopped_by[OBSTACLE_LANDFALL],
                         rows[i].barred);
        if (rows[i].barred)
            assert_int_equal(bench.harvest.count, 0);
    }
}

/* A label whose bound is passed at top speed, or that is beyond a limit or the
 * forecast, has no followers. */
static void a_label_without_hope_ends(void **state) {
    (void)state;
    static const struct {
        double bound_s, max_wind_mps, horizon_s; /* 0: none */
        enum obstacle obstacle;
        bool ends;
    } rows[] = {
        {0.0, 0.0, 0.0, OBSTACLE_NONE, false},
        {150000.0, 0.0, 0.0, OBSTACLE_NONE, true}, /* 500 nmi / 6: 154333 */
        {170000.0, 0.0, 0.0, OBSTACLE_NONE, false},
        {0.0, 7.9, 0.0, OBSTACLE_WIND, true},
        {0.0, 8.1, 0.0, OBSTACLE_NONE, false},
        {0.0, 0.0, LAYER_S, OBSTACLE_HORIZON, true},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct bench bench;
        struct analytic weather = steady;
        weather.horizon_s = rows[i].horizon_s;
        lay_out(&bench, boat_of_one_speed(), weather, nmi_to_m(500.0));
        if (rows[i].bound_s > 0.0)
            bench.expander.bound_s = rows[i].bound_s;
        if (rows[i].max_wind_mps > 0.0)
            bench.expander.voyage.max_wind_mps =
                figure_of(rows[i].max_wind_mps);
        expand(&bench);
        assert_int_equal(bench.harvest.count == 0, rows[i].ends);
        assert_int_equal(bench.harvest.stopped_by[rows[i].obstacle], 1);
        assert_int_equal(bench.harvest.horizon_met,
                         rows[i].obstacle == OBSTACLE_HORIZON);
    }
}

/* From within a layer and a half of runs the way to the goal is sailed by the
 * integrator: 5.5 nmi at 4 m/s. */
static void near_the_goal_she_arrives(void **state) {
    (void)state;
    static const struct {
        double off_nmi;
        bool arrives;
    } rows[] = {{5.5, true}, {11.6, true}, {11.8, false}};
    for (size_t i = 0; i < 3; i++) {
        struct bench bench;
        lay_out(&bench, boat_of_one_speed(), steady, nmi_to_m(rows[i].off_nmi));
        bench.expander.voyage.spar_allowed = false;
        expand(&bench);
        const struct arrival *arrival = &bench.harvest.arrival;
        assert_int_equal(arrival->known, rows[i].arrives);
        if (!rows[i].arrives)
            continue;
        assert_near(arrival->boat.cost_s, nmi_to_m(rows[i].off_nmi) / 4.0,
                    0.002 * arrival->boat.cost_s);
        assert_near(arrival->boat.at.lon_deg, bench.expander.goal.lon_deg, 0.0);
        assert_int_equal(arrival->count, 2);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_run_is_a_layer_on_every_heading_and_the_current),
        cmocka_unit_test(a_label_is_put_right_by_the_mean_of_both_ends),
        cmocka_unit_test(what_the_crew_had_to_do_on_the_way_is_done),
        cmocka_unit_test(only_a_spar_that_comes_in_is_stowing),
        cmocka_unit_test(inside_the_landfall_circle_the_spar_is_in),
        cmocka_unit_test(a_label_without_hope_ends),
        cmocka_unit_test(near_the_goal_she_arrives),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
