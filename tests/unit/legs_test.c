/* A course sailed and written down: means, sums, changes, the track. */
#include "../support/analytic.h"
#include "../support/check.h"

#include "base/units.h"
#include "boat/apparent.h"
#include "earth/almanac.h"
#include "earth/rhumb.h"
#include "plan/legs.h"
#include <math.h>
#include <stddef.h>

static const struct position start_at = {30.0, -40.0};

/* A course sailed in analytic weather. */
struct sailed {
    struct arena arena;
    struct voyage voyage;
    struct plan plan;
    enum obstacle obstacle;
};

/* 2026-06-01T00:00Z, `date -u -d @1780272000` */
static const struct instant departure = {1780272000};

static void sail_boat(struct sailed *sailed, const struct boat *boat,
                      const struct analytic *weather, struct vertex *vertices,
                      size_t count) {
    struct track course = {.vertices = vertices, .count = count};
    *sailed = (struct sailed){.obstacle = OBSTACLE_COUNT};
    arena_init(&sailed->arena);
    sailed->voyage = analytic_voyage(boat, weather, vertices[count - 1].at);
    sailed->plan = (struct plan){.boat = boat,
                                 .depart = departure,
                                 .forecast_run = departure,
                                 .forecast_end = instant_plus(departure, 1e6)};
    struct underway begin =
        sail_start(vertices[0].at, (struct deck){.spar = SPAR_STOWED});
    struct underway under = track_start(&sailed->voyage, &course, &begin);
    legs_sail(&sailed->voyage, &course, &under, &sailed->arena, &sailed->plan,
              &sailed->obstacle);
}

static struct vertex place(double course_deg, double distance_nmi,
                           struct position from, enum spar_place spar) {
    return (struct vertex){
        .at = rhumb_ahead(from, course_deg, nmi_to_m(distance_nmi)),
        .order = {.spar = spar}};
}

static void sail(struct sailed *sailed, const struct analytic *weather,
                 struct vertex *vertices, size_t count) {
    sail_boat(sailed, analytic_boat("wanderer-12"), weather, vertices, count);
}

/* West with the wind from the east: set, gybe, stow. */
static size_t run_west(struct vertex vertices[5]) {
    vertices[0] = (struct vertex){.at = start_at};
    vertices[1] = place(262.0, 20.0, vertices[0].at, SPAR_PORT);
    vertices[2] = place(262.0, 40.0, vertices[1].at, SPAR_STARBOARD);
    vertices[3] = place(278.0, 50.0, vertices[2].at, SPAR_STOWED);
    vertices[4] = place(278.0, 15.0, vertices[3].at, SPAR_STOWED);
    return 5;
}

static const struct analytic trades = {.wind_from_deg = 90.0,
                                       .wind_mps = 7.0,
                                       .wave_m = 1.2,
                                       .wave_period_s = 6.0,
                                       .gust_frac = {true, 1.2}};

static double leg_s(const struct plan_leg *leg) {
    return instant_minus(leg->end, leg->start);
}

/* A leg in a steady wind: as much of the way as of the time. */
static struct position on_leg(const void *context, double unix_s) {
    const struct plan_leg *leg = context;
    double part = (unix_s - (double)leg->start.unix_s) / leg_s(leg);
    return rhumb_ahead(leg->from, leg->course_deg, part * leg->distance_m);
}

/* Whichever part of a step the sun passes -6 degrees in; a leg that ends
 * before that is dark from end to end. */
static void night_ends_with_the_almanac_to_seconds(void **state) {
    (void)state;
    static const double start_h[] = {0.0, 0.1, 0.2, 0.3, 0.4};
    for (size_t i = 0; i < sizeof start_h / sizeof *start_h; i++) {
        struct sailed sailed;
        struct vertex vertices[3] = {{.at = start_at}};
        vertices[1] =
            place(200.0, 8.0 + 4.0 * start_h[i], start_at, SPAR_STOWED);
        vertices[2] = place(200.0, 100.0, vertices[1].at, SPAR_STOWED);
        sail(&sailed, &trades, vertices, 3);
        const struct plan_leg *leg = &sailed.plan.legs[1];
        struct observer aboard = {on_leg, leg};
        double begin_s = (double)leg->start.unix_s;
        struct figure dawn_s =
            almanac_next(ALMANAC_CIVIL_DAWN, &aboard, begin_s, begin_s + 86400);
        assert_true(dawn_s.known);
        assert_true(dawn_s.value < (double)leg->end.unix_s);
        assert_near(leg->night_s, dawn_s.value - begin_s, 15.0);
        assert_near(sailed.plan.legs[0].night_s, leg_s(&sailed.plan.legs[0]),
                    1.0);
        arena_free(&sailed.arena);
    }
}

static void a_steady_leg_has_the_figures_of_its_motion(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[2] = {{.at = start_at}};
    vertices[1] = place(200.0, 30.0, start_at, SPAR_STOWED);
    sail(&sailed, &trades, vertices, 2);
    struct conditions here;
    struct motion motion;
    struct deck deck = {.spar = SPAR_STOWED, .wind_starboard = false};
    voyage_look(&sailed.voyage, start_at, 0.0, &here);
    voyage_motion(&sailed.voyage, &here, 200.0, deck, false, &motion);
    const struct plan_leg *leg = &sailed.plan.legs[0];
    assert_int_equal(sailed.obstacle, OBSTACLE_NONE);
    assert_int_equal(sailed.plan.leg_count, 1);
    assert_angle_near(leg->course_deg, 200.0, 1e-6);
    assert_angle_near(leg->heading_deg, 200.0, 1e-6);
    assert_near(m_to_nmi(leg->distance_m), 30.0, 1e-6);
    assert_near(leg->tws_mps, 7.0, 1e-9);
    assert_angle_near(leg->twd_deg, 90.0, 1e-9);
    assert_angle_near(leg->twa_deg, -110.0, 1e-6);
    assert_angle_near(leg->awa_deg, voyage_awa_deg(&motion), 1e-6);
    assert_near(leg->aws_mps, motion.aws_mps, 1e-6);
    assert_near(leg->stw_mps, motion.stw_mps, 1e-6);
    assert_near(leg->sog_mps, motion.stw_mps, 1e-3);
    assert_near(leg_s(leg), nmi_to_m(30.0) / motion.stw_mps, 1.0);
    assert_near(leg->gust_mps.value, 8.4, 1e-9);
    assert_false(leg->gust_estimated);
    assert_near(leg->wave_m.value, 1.2, 1e-9);
    assert_angle_near(leg->wave_from_deg.value, 90.0, 1e-9);
    assert_false(leg->current_known);
    assert_false(leg->beating);
    arena_free(&sailed.arena);
}

/* The mean of 350 and 010 is 000, not 180; and so for the waves. */
static void directions_are_means_of_vectors(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[2] = {{.at = start_at}};
    vertices[1] = place(90.0, 60.0, start_at, SPAR_STOWED);
    struct analytic weather = trades;
    weather.wind_from_deg = 350.0;
    sail(&sailed, &weather, vertices, 2);
    double hours = s_to_hours(leg_s(&sailed.plan.legs[0]));
    arena_free(&sailed.arena);
    weather.veer_deg_per_day = 20.0 * 24.0 / hours;
    sail(&sailed, &weather, vertices, 2);
    const struct plan_leg *leg = &sailed.plan.legs[0];
    assert_angle_near(leg->twd_deg, 0.0, 1.0);
    assert_angle_near(leg->twa_deg, -90.0, 1.0);
    assert_angle_near(leg->wave_from_deg.value, 0.0, 1.0);
    assert_near(leg->tws_mps, 7.0, 1e-9);
    arena_free(&sailed.arena);
}

static void legs_join_and_add_up(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[5];
    struct analytic weather = trades;
    weather.rise_mps_per_day = 1.0;
    sail(&sailed, &weather, vertices, run_west(vertices));
    const struct plan *plan = &sailed.plan;
    double seconds = 0.0, distance_m = 0.0, roll2 = 0.0;
    assert_int_equal(plan->leg_count, 4);
    for (size_t i = 0; i < plan->leg_count; i++) {
        const struct plan_leg *leg = &plan->legs[i];
        if (i > 0) {
            assert_int_equal(leg->start.unix_s, leg[-1].end.unix_s);
            assert_near(leg->from.lon_deg, leg[-1].to.lon_deg, 0.0);
        }
        seconds += leg_s(leg);
        distance_m += leg->distance_m;
        roll2 += leg_s(leg) * leg->roll_deg * leg->roll_deg;
    }
    assert_int_equal(plan->legs[0].start.unix_s, departure.unix_s);
    assert_near(seconds, plan->summary.elapsed_s, 0.5);
    assert_near(distance_m, plan->summary.distance_m, 1e-6);
    assert_near(m_to_nmi(distance_m), 125.0, 1e-3);
    /* root mean square over the passage is that over the legs */
    assert_near(sqrt(roll2 / seconds), plan->summary.roll_mean_deg, 0.01);
    assert_true(plan->summary.roll_mean_deg > 0.1);
    arena_free(&sailed.arena);
}

/* A leg of reaching in one wind rolls alike all the way. */
static double easy_share(double easy_deg) {
    struct sailed sailed;
    struct vertex vertices[2] = {{.at = start_at}};
    struct boat *boat = analytic_boat_copy("wanderer-12");
    vertices[1] = place(200.0, 30.0, start_at, SPAR_STOWED);
    boat->comfort.easy_roll_deg = easy_deg;
    sail_boat(&sailed, boat, &trades, vertices, 2);
    double share =
        sailed.plan.summary.roll_easy_s / sailed.plan.summary.elapsed_s;
    arena_free(&sailed.arena);
    return share;
}

static void hours_below_the_easy_roll_are_counted(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[2] = {{.at = start_at}};
    vertices[1] = place(200.0, 30.0, start_at, SPAR_STOWED);
    sail(&sailed, &trades, vertices, 2);
    double roll_deg = sailed.plan.legs[0].roll_deg;
    arena_free(&sailed.arena);
    assert_true(roll_deg > 0.5);
    assert_near(easy_share(roll_deg + 0.1), 1.0, 1e-9);
    assert_near(easy_share(roll_deg - 0.1), 0.0, 1e-9);
}

static void a_leg_tells_what_makes_her_roll(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[5];
    struct analytic weather = trades;
    weather.swell = (struct wave_system){true, 1.4, 11.0, 300.0};
    sail(&sailed, &weather, vertices, run_west(vertices));
    for (size_t i = 0; i < sailed.plan.leg_count; i++) {
        const struct plan_leg *leg = &sailed.plan.legs[i];
        const struct plan_roll *roll = &leg->roll;
        double sum = roll->sails_deg2 + roll->system[0].roll2_deg2 +
                     roll->system[1].roll2_deg2;
        assert_near(sum, leg->roll_deg * leg->roll_deg, 1e-9);
        assert_true(roll->system[0].roll2_deg2 > 0.0);
        assert_false(roll->system[2].known);
        assert_near(roll->system[1].height_m, 1.4, 1e-9);
        assert_angle_near(roll->system[1].off_bow_deg, 300.0 - leg->heading_deg,
                          0.5);
        assert_true(roll->sails_deg2 > 0.0); /* a run */
    }
    arena_free(&sailed.arena);
}

/* A light wind over the stern in a swell; then a fresh one, against a current
 * to the east. */
static void what_to_beware_of_is_found_on_the_way(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[2] = {{.at = start_at}};
    struct analytic light = {.wind_from_deg = 90.0,
                             .wind_mps = kn_to_mps(8.0),
                             .swell = {true, 1.4, 11.0, 300.0}};
    vertices[1] = place(270.0, 10.0, start_at, SPAR_STOWED);
    sail(&sailed, &light, vertices, 2);
    struct plan_remarks remarks = sailed.plan.legs[0].remarks;
    assert_true(remarks.slatting);
    assert_false(remarks.against_current || remarks.steep);
    arena_free(&sailed.arena);
    light.wind_mps = kn_to_mps(15.0);
    light.current = vector_from(270.0, kn_to_mps(1.5));
    light.wave_m = 1.6;
    light.wave_period_s = 4.2; /* 27.5 m: 1 in 17 */
    sail(&sailed, &light, vertices, 2);
    remarks = sailed.plan.legs[0].remarks;
    assert_true(remarks.against_current && remarks.steep);
    assert_false(remarks.slatting);
    arena_free(&sailed.arena);
}

static void changes_belong_to_the_legs_that_start_with_them(void **state) {
    (void)state;
    static const struct {
        enum change_kind kind;
        size_t leg;
        enum sail_mode mode; /* of that leg */
    } expected[] = {{CHANGE_SET, 1, MODE_WING},
                    {CHANGE_GYBE, 2, MODE_WING},
                    {CHANGE_STOW, 3, MODE_STOWED}};
    struct sailed sailed;
    struct vertex vertices[5];
    struct analytic gentle = trades;
    gentle.wave_m = 0.6; /* no roll that makes deck work harder */
    sail(&sailed, &gentle, vertices, run_west(vertices));
    const struct plan *plan = &sailed.plan;
    assert_int_equal(plan->change_count, 3);
    for (size_t i = 0; i < plan->change_count; i++) {
        const struct plan_change *change = &plan->changes[i];
        const struct plan_leg *leg = &plan->legs[expected[i].leg];
        assert_int_equal(change->kind, expected[i].kind);
        assert_int_equal(change->leg, expected[i].leg);
        assert_int_equal(change->at.unix_s, leg->start.unix_s);
        assert_near(change->position.lat_deg, leg->from.lat_deg, 1e-9);
        assert_int_equal(leg->mode, expected[i].mode);
        assert_int_equal(deck_index(change->to), deck_index(leg->deck));
        assert_true(change->deck_work);
    }
    assert_near(plan->changes[0].seconds, 20.0 * 60.0, 1e-9);
    assert_near(plan->changes[1].seconds, 30.0 * 60.0, 1e-9);
    assert_int_equal(plan->summary.deck_work, 3);
    assert_int_equal(plan->summary.night_deck_work, 0);
    assert_near(plan->summary.hardship_s, 3.0 * 1800.0, 1e-9);
    arena_free(&sailed.arena);
}

static void hours_with_the_spar_out_add_up(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[5];
    sail(&sailed, &trades, vertices, run_west(vertices));
    const struct plan *plan = &sailed.plan;
    double out_s = leg_s(&plan->legs[1]) + leg_s(&plan->legs[2]);
    assert_near(plan->summary.spar_s, out_s, 1.0);
    assert_near(plan->summary.wing_s, out_s, 1.0);
    assert_near(plan->summary.poled_reach_s, 0.0, 0.0);
    assert_near(plan->summary.upwind_s, 0.0, 0.0);
    arena_free(&sailed.arena);
}

/* Midnight is dark at the start: the first night ends, two or more follow. */
static void the_dark_hours_of_several_nights_are_counted(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[2] = {{.at = start_at}};
    vertices[1] = place(200.0, 400.0, start_at, SPAR_STOWED);
    sail(&sailed, &trades, vertices, 2);
    const struct plan_leg *leg = &sailed.plan.legs[0];
    struct observer aboard = {on_leg, leg};
    double at_s = (double)leg->start.unix_s, end_s = (double)leg->end.unix_s;
    double dark_s = 0.0;
    bool dark = true;
    while (at_s < end_s) {
        struct figure turn_s =
            almanac_next(dark ? ALMANAC_CIVIL_DAWN : ALMANAC_CIVIL_DUSK,
                         &aboard, at_s, end_s);
        double until_s = turn_s.known ? turn_s.value : end_s;
        dark_s += dark ? until_s - at_s : 0.0;
        dark = !dark;
        at_s = until_s;
    }
    assert_true(s_to_hours(leg_s(leg)) > 48.0);
    assert_true(dark_s > hours_to_s(12.0));
    assert_near(leg->night_s, dark_s, 120.0);
    arena_free(&sailed.arena);
}

static void work_at_night_takes_longer_and_is_counted(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[5];
    struct analytic weather = trades;
    weather.night_every_s = hours_to_s(1000.0); /* dark all the time */
    sail(&sailed, &weather, vertices, run_west(vertices));
    const struct plan *plan = &sailed.plan;
    assert_int_equal(plan->summary.night_deck_work, 3);
    assert_near(plan->changes[0].seconds, 1.5 * 20.0 * 60.0, 1e-9);
    assert_int_equal(plan->changes[0].light, LIGHT_NIGHT);
    arena_free(&sailed.arena);
}

static void an_unknown_gust_is_estimated_and_marked(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[5];
    struct analytic weather = trades;
    weather.gust_frac = figure_unknown();
    sail(&sailed, &weather, vertices, run_west(vertices));
    assert_true(sailed.plan.legs[0].gust_estimated);
    assert_near(sailed.plan.legs[0].gust_mps.value, 1.4 * 7.0, 1e-9);
    assert_false(sailed.plan.summary.max_gust_mps.known);
    assert_true(sailed.plan.changes[0].gust_estimated);
    assert_near(sailed.plan.changes[0].gust_mps.value, 1.4 * 7.0, 1e-9);
    arena_free(&sailed.arena);
}

static void an_unknown_sea_is_unknown(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[5];
    struct analytic weather = trades;
    weather.wave_m = 0.0;
    sail(&sailed, &weather, vertices, run_west(vertices));
    assert_false(sailed.plan.legs[0].wave_m.known);
    assert_false(sailed.plan.legs[0].wave_from_deg.known);
    assert_false(sailed.plan.summary.max_wave_m.known);
    arena_free(&sailed.arena);
}

/* A current across: the boat heads up to hold her course, and what she makes
 * good is distance by time. */
static void a_current_turns_the_heading_not_the_course(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[2] = {{.at = start_at}};
    struct analytic weather = trades;
    weather.current = (struct vector_mps){0.5, 0.0};
    vertices[1] = place(180.0, 40.0, start_at, SPAR_STOWED);
    sail(&sailed, &weather, vertices, 2);
    const struct plan_leg *leg = &sailed.plan.legs[0];
    double crab_deg = asin(0.5 / leg->stw_mps) / RADIANS_PER_DEGREE;
    assert_angle_near(leg->course_deg, 180.0, 1e-6);
    assert_angle_near(leg->heading_deg, 180.0 + crab_deg, 0.01);
    assert_near(leg->sog_mps, leg->distance_m / leg_s(leg), 1e-3);
    assert_true(leg->current_known);
    assert_near(leg->current_mps, 0.5, 1e-9);
    assert_angle_near(leg->current_towards_deg, 90.0, 1e-9);
    /* the wind over the water is the wind less the current */
    assert_near(leg->tws_mps, 7.5, 1e-6);
    arena_free(&sailed.arena);
}

static void the_end_of_the_forecast_ends_the_plan_there(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[5];
    struct analytic weather = trades;
    weather.horizon_s = hours_to_s(6.0);
    sail(&sailed, &weather, vertices, run_west(vertices));
    const struct plan *plan = &sailed.plan;
    assert_int_equal(sailed.obstacle, OBSTACLE_HORIZON);
    assert_int_equal(plan->leg_count, 2);
    assert_in_range(instant_minus(plan->legs[1].end, departure),
                    hours_to_s(6.0) - 31.0, hours_to_s(6.0));
    assert_near(instant_minus(plan->legs[1].end, departure),
                plan->summary.elapsed_s, 0.5);
    arena_free(&sailed.arena);
}

static enum obstacle beyond_after_a_while(const void *weather,
                                          struct position position, double t_s,
                                          struct conditions *conditions) {
    enum obstacle obstacle =
        analytic_conditions(weather, position, t_s, conditions);
    conditions->beyond_forecast = t_s > hours_to_s(8.0);
    return obstacle;
}

static void legs_beyond_the_forecast_are_marked(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[5];
    size_t count = run_west(vertices);
    sail(&sailed, &trades, vertices, count);
    struct track course = {.vertices = vertices, .count = count};
    struct underway begin =
        sail_start(start_at, (struct deck){.spar = SPAR_STOWED});
    struct plan plan = {.boat = sailed.plan.boat,
                        .depart = departure,
                        .forecast_run = departure,
                        .forecast_end = instant_plus(departure, 28800.0)};
    sailed.voyage.conditions = beyond_after_a_while;
    struct underway boat = track_start(&sailed.voyage, &course, &begin);
    legs_sail(&sailed.voyage, &course, &boat, &sailed.arena, &plan,
              &sailed.obstacle);
    assert_false(plan.legs[0].beyond_forecast);
    assert_true(plan.legs[3].beyond_forecast);
    assert_int_equal(plan.legs[0].trust, TRUST_GOOD);
    assert_int_equal(plan.legs[3].trust, TRUST_GUESS);
    assert_near(plan.summary.beyond_forecast_s,
                plan.summary.elapsed_s - 28800.0, 900.0);
    arena_free(&sailed.arena);
}

static void the_track_samples_the_legs(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[5];
    sail(&sailed, &trades, vertices, run_west(vertices));
    const struct plan *plan = &sailed.plan;
    const struct plan_point *last = &plan->track[plan->track_count - 1];
    assert_int_equal(plan->track[0].at.unix_s, departure.unix_s);
    assert_int_equal(last->at.unix_s, plan->legs[3].end.unix_s);
    assert_near(last->position.lon_deg, vertices[4].at.lon_deg, 1e-9);
    for (size_t i = 1; i < plan->track_count; i++)
        assert_in_range(instant_minus(plan->track[i].at, plan->track[i - 1].at),
                        1.0, 3600.0);
    arena_free(&sailed.arena);
}

/* A leg on which the crew has to roll the sail for the last bit is one of
 * wing-and-wing still. */
static void the_deck_state_of_a_leg_is_that_of_most_of_it(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[3] = {{.at = start_at}};
    struct analytic weather = trades;
    weather.wind_mps = 10.0;
    weather.rise_mps_per_day = 4.0;
    vertices[1] = place(265.0, 10.0, start_at, SPAR_PORT);
    vertices[2] = place(265.0, 90.0, vertices[1].at, SPAR_STOWED);
    sail(&sailed, &weather, vertices, 3);
    const struct plan *plan = &sailed.plan;
    assert_true(plan->change_count >= 2);
    assert_int_equal(plan->changes[plan->change_count - 1].kind, CHANGE_ROLL);
    assert_int_equal(plan->legs[1].mode, MODE_WING);
    arena_free(&sailed.arena);
}

/* On the way along a leg: what the wind is there and then, not the mean of the
 * leg, nor of the next. */
static void a_change_has_the_wind_of_its_own_moment(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[3] = {{.at = start_at}};
    struct analytic weather = trades;
    weather.veer_deg_per_day = -60.0;
    vertices[1] = place(262.0, 10.0, start_at, SPAR_PORT);
    vertices[2] = place(262.0, 120.0, vertices[1].at, SPAR_STOWED);
    sail(&sailed, &weather, vertices, 3);
    const struct plan_change *set = &sailed.plan.changes[0];
    const struct plan_change *roll = &sailed.plan.changes[1];
    double hours = instant_minus(roll->at, departure) / 3600.0;
    assert_true(set->starts_leg);
    assert_int_equal(roll->kind, CHANGE_MAINSAIL_GYBE);
    assert_false(roll->starts_leg);
    assert_int_equal(roll->leg, 1);
    assert_angle_near(roll->twd_deg, 90.0 - 2.5 * hours, 0.01);
    assert_angle_near(roll->twa_deg, roll->twd_deg - 262.0, 0.01);
    assert_true(fabs(roll->awa_deg) < fabs(roll->twa_deg));
    assert_true(fabs(roll->twd_deg - sailed.plan.legs[1].twd_deg) > 5.0);
    arena_free(&sailed.arena);
}

/* What the helm keeps: without the slow minutes while the spar is being set. */
static void the_apparent_wind_is_that_of_sailing(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[3] = {
        {.at = start_at, .order = {.spar = SPAR_PORT}}};
    vertices[1] = place(255.0, 6.0, start_at, SPAR_STOWED);
    vertices[2] = place(255.0, 20.0, vertices[1].at, SPAR_STOWED);
    sail(&sailed, &trades, vertices, 3);
    const struct plan_leg *leg = &sailed.plan.legs[0];
    const struct boat *boat = sailed.plan.boat;
    struct motion motion = {.twa_deg = leg->twa_deg, .tws_mps = 7.0};
    motion.stw_mps = polar_speed(&boat->spar_out, fabs(leg->twa_deg), 7.0);
    assert_int_equal(sailed.plan.changes[0].kind, CHANGE_SET);
    assert_true(leg->stw_mps < 0.9 * motion.stw_mps);
    assert_angle_near(leg->awa_deg, voyage_awa_deg(&motion), 0.1);
    assert_near(leg->aws_mps, apparent_speed(leg->twa_deg, 7.0, motion.stw_mps),
                0.01);
    arena_free(&sailed.arena);
}

/* What stands on the instruments before the work and at its limit: before the
 * set the boat runs at 262 under the stowed polar. */
static void limits_have_the_apparent_wind_beside(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[5];
    sail(&sailed, &trades, vertices, run_west(vertices));
    const struct boat *boat = sailed.plan.boat;
    const struct plan_change *set = &sailed.plan.changes[0];
    const struct plan_leg *wing = &sailed.plan.legs[1];
    double most = boat->work.max_wind_mps, spar = boat->spar.wing_max_wind_mps;
    double speed = boat->factor * polar_speed(&boat->stowed, 172.0, 7.0);
    assert_near(set->aws_mps.value, apparent_speed(172.0, 7.0, speed), 1e-6);
    speed = boat->factor * polar_speed(&boat->stowed, 172.0, most);
    assert_near(set->most_aws_mps.value, apparent_speed(172.0, most, speed),
                1e-6);
    speed = boat->factor * polar_speed(&boat->spar_out, 172.0, spar);
    assert_near(wing->most_aws_mps.value, apparent_speed(172.0, spar, speed),
                1e-3);
    assert_true(set->aws_mps.value < 0.7 * 7.0);
    assert_false(sailed.plan.legs[0].most_aws_mps.known);
    arena_free(&sailed.arena);
}

static void nothing_is_apparent_before_departure(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[2] = {
        {.at = start_at, .order = {.spar = SPAR_PORT}}};
    vertices[1] = place(262.0, 20.0, start_at, SPAR_STOWED);
    sail(&sailed, &trades, vertices, 2);
    assert_int_equal(sailed.plan.changes[0].kind, CHANGE_SET);
    assert_false(sailed.plan.changes[0].aws_mps.known);
    assert_false(sailed.plan.changes[0].most_aws_mps.known);
    arena_free(&sailed.arena);
}

/* From a reach with the wind on the port side to a run with it on the other:
 * the boom first, then the spar, further on. */
static void the_parts_of_a_change_follow_each_other(void **state) {
    (void)state;
    struct sailed sailed;
    struct vertex vertices[3] = {{.at = start_at}};
    vertices[1] = place(230.0, 20.0, start_at, SPAR_STARBOARD);
    vertices[2] = place(285.0, 40.0, vertices[1].at, SPAR_STOWED);
    sail(&sailed, &trades, vertices, 3);
    const struct plan_change *change = sailed.plan.changes;
    assert_int_equal(sailed.plan.change_count, 2);
    assert_int_equal(change[0].kind, CHANGE_MAINSAIL_GYBE);
    assert_int_equal(change[1].kind, CHANGE_SET);
    assert_int_equal(change[0].to.spar, SPAR_STOWED);
    assert_false(change[0].from.wind_starboard);
    assert_true(change[0].to.wind_starboard);
    assert_int_equal(deck_index(change[0].to), deck_index(change[1].from));
    assert_int_equal(change[1].to.spar, SPAR_STARBOARD);
    assert_near(instant_minus(change[1].at, change[0].at), 480.0, 1.0);
    double on_m =
        rhumb_between(change[0].position, change[1].position).distance_m;
    assert_in_range(on_m, 480.0 * 1.0, 480.0 * 4.0); /* 1 to 4 m/s */
    arena_free(&sailed.arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(night_ends_with_the_almanac_to_seconds),
        cmocka_unit_test(a_steady_leg_has_the_figures_of_its_motion),
        cmocka_unit_test(directions_are_means_of_vectors),
        cmocka_unit_test(legs_join_and_add_up),
        cmocka_unit_test(hours_below_the_easy_roll_are_counted),
        cmocka_unit_test(a_leg_tells_what_makes_her_roll),
        cmocka_unit_test(what_to_beware_of_is_found_on_the_way),
        cmocka_unit_test(changes_belong_to_the_legs_that_start_with_them),
        cmocka_unit_test(hours_with_the_spar_out_add_up),
        cmocka_unit_test(the_dark_hours_of_several_nights_are_counted),
        cmocka_unit_test(work_at_night_takes_longer_and_is_counted),
        cmocka_unit_test(an_unknown_gust_is_estimated_and_marked),
        cmocka_unit_test(an_unknown_sea_is_unknown),
        cmocka_unit_test(a_current_turns_the_heading_not_the_course),
        cmocka_unit_test(the_end_of_the_forecast_ends_the_plan_there),
        cmocka_unit_test(legs_beyond_the_forecast_are_marked),
        cmocka_unit_test(the_track_samples_the_legs),
        cmocka_unit_test(a_change_has_the_wind_of_its_own_moment),
        cmocka_unit_test(the_apparent_wind_is_that_of_sailing),
        cmocka_unit_test(limits_have_the_apparent_wind_beside),
        cmocka_unit_test(nothing_is_apparent_before_departure),
        cmocka_unit_test(the_parts_of_a_change_follow_each_other),
        cmocka_unit_test(the_deck_state_of_a_leg_is_that_of_most_of_it),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
