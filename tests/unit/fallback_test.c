/* Ports to run to, on a plane near the equator: a boat that makes 6 kn on all
 * courses from 45 degrees off the wind on, 200 nmi due west. */
#include "../support/analytic.h"
#include "../support/check.h"
#include "../support/scratch.h"
#include "../support/waters.h"

#include "base/units.h"
#include "earth/rhumb.h"
#include "plan/fallback.h"
#include "plan/legs.h"

#include <math.h>
#include <string.h>

static const struct position start_at = {0.0, -30.0};

/* 2026-06-01T00:00Z, `date -u -d @1780272000` */
static const struct instant departure = {1780272000};

static const double SPEED_KN = 6.0;

static struct analytic weather;
static struct voyage voyage;
static struct water water;
static struct plan plan;
static struct request request;
static struct request_port asked;

static double six_knots(double twa_deg) {
    (void)twa_deg;
    return kn_to_mps(SPEED_KN);
}

static int start(void **state) {
    scratch_begin(state);
    water = (struct water){.depart_unix_s = (double)departure.unix_s};
    water_prepare(&water, &arena);
    return 0;
}

/* So many miles west and north of the start. */
static struct position place(double west_nmi, double north_nmi) {
    struct position at = rhumb_ahead(start_at, 270.0, nmi_to_m(west_nmi));
    return rhumb_ahead(at, north_nmi < 0.0 ? 180.0 : 0.0,
                       nmi_to_m(fabs(north_nmi)));
}

/* Two legs of 100 nmi. */
static void sail_west(double wind_from_deg) {
    struct vertex vertices[] = {
        {.at = start_at}, {.at = place(100.0, 0.0)}, {.at = place(200.0, 0.0)}};
    struct track course = {.vertices = vertices, .count = 3};
    struct boat *boat = analytic_free_boat(six_knots);
    boat->stowed = boat->spar_out = analytic_polar(six_knots, 45.0);
    boat->night_factor = boat->factor = 1.0;
    weather =
        (struct analytic){.wind_from_deg = wind_from_deg, .wind_mps = 8.0};
    voyage = analytic_voyage(boat, &weather, vertices[2].at);
    enum obstacle obstacle;
    struct underway begin =
        sail_start(start_at, (struct deck){.spar = SPAR_STOWED});
    struct underway under = track_start(&voyage, &course, &begin);
    plan = (struct plan){.boat = boat,
                         .depart = departure,
                         .forecast_run = departure,
                         .forecast_end = instant_plus(departure, 1e6)};
    legs_sail(&voyage, &course, &under, &arena, &plan, &obstacle);
    assert_int_equal(obstacle, OBSTACLE_NONE);
    plan.summary.reached = true;
    plan.summary.arrive = instant_plus(departure, under.t_s);
    assert_near(s_to_hours(under.t_s), 200.0 / SPEED_KN, 0.01);
}

static const struct plan_port *run_to(double west_nmi, double north_nmi) {
    struct error error;
    asked = (struct request_port){"Cala Bruna", place(west_nmi, north_nmi)};
    request = (struct request){.ports = &asked, .port_count = 1};
    plan.port_count = 0;
    assert_true(fallback_find(&plan, &request, &water, &arena, &error));
    fallback_give(&plan, &voyage, &water, &arena);
    assert_int_equal(plan.port_count, 1);
    return &plan.ports[0];
}

static double turn_off_nmi(const struct plan_port *port) {
    assert_true(port->turn_off_known);
    return SPEED_KN * s_to_hours(instant_minus(port->turn_off.at, departure));
}

static void refuge_is(const struct plan_refuge *refuge, double nmi,
                      double hours, double off_bow_deg) {
    assert_true(refuge->known);
    assert_near(m_to_nmi(refuge->distance_m), nmi, 0.01 * nmi);
    assert_near(s_to_hours(refuge->seconds), hours, 0.02 * hours);
    assert_angle_near(refuge->off_bow_deg, off_bow_deg, 1.0);
}

/* Wind from the north, the port 100 nmi on and 50 to leeward. x miles on, it is
 * nearer than the finish while (100-x)^2 + 50^2 < (200-x)^2: x < 137.5. A point
 * of the track every half hour, 3 nmi; the ellipsoid's degree of latitude is
 * half a per cent short. */
static void it_is_worth_it_while_it_is_sooner_than_the_finish(void **state) {
    (void)state;
    sail_west(0.0);
    const struct plan_port *port = run_to(100.0, -50.0);
    assert_string_equal(port->name, "Cala Bruna");
    double far_nmi = hypot(100.0, 50.0);
    /* course 180 + atan(100/50) = 243.4, the wind 116.6 on the starboard side
     */
    refuge_is(&port->from_leg[0], far_nmi, far_nmi / SPEED_KN, 116.6);
    refuge_is(&port->from_leg[1], 50.0, 50.0 / SPEED_KN, 180.0);
    assert_near(turn_off_nmi(port), 137.5 - 1.5, 3.0);
    assert_near(s_to_hours(port->left_s),
                (200.0 - turn_off_nmi(port)) / SPEED_KN, 0.05);
    assert_true(port->from_turn_off.seconds < port->left_s);
    assert_near(m_to_nmi(port->from_turn_off.distance_m),
                hypot(turn_off_nmi(port) - 100.0, 50.0), 1.0);
}

/* The same to windward: the first course is 60 degrees off the wind where the
 * port is 50 tan 60 = 86.6 nmi further west: 13.4 nmi on. */
static void not_to_windward(void **state) {
    (void)state;
    sail_west(0.0);
    const struct plan_port *port = run_to(100.0, 50.0);
    assert_near(turn_off_nmi(port), 13.4 - 1.5, 3.0);
    assert_true(fabs(port->from_turn_off.off_bow_deg) >= FALLBACK_OFF_DEG);
    /* dead to windward from the second leg on: boards 45 degrees off it */
    refuge_is(&port->from_leg[1], 50.0, 50.0 * sqrt(2.0) / SPEED_KN, 0.0);
}

static void beyond_the_finish_it_is_never_worth_it(void **state) {
    (void)state;
    sail_west(0.0);
    const struct plan_port *port = run_to(230.0, -5.0);
    assert_false(port->turn_off_known);
    assert_int_equal(port->turn_off_why, OBSTACLE_NONE);
    assert_true(port->from_leg[0].known);  /* told at departure */
    assert_false(port->from_leg[1].known); /* no sooner than the finish */
}

static void where_the_forecast_ends_nothing_is_known(void **state) {
    (void)state;
    sail_west(0.0);
    weather.south_deg = -0.5;
    weather.north_deg = 0.5;
    weather.west_deg = -40.0;
    weather.east_deg = -20.0;
    const struct plan_port *port = run_to(100.0, -50.0);
    assert_true(port->outside);
    assert_false(port->from_leg[0].known);
    assert_false(port->turn_off_known);
}

/* The port lies in a zone. */
static void what_stopped_a_look_is_kept(void **state) {
    (void)state;
    sail_west(0.0);
    struct position low = place(130.0, -80.0), high = place(70.0, -30.0);
    waters_add_square(&water, low, high, &arena);
    const struct plan_port *port = run_to(100.0, -55.0);
    assert_false(port->outside);
    assert_false(port->from_leg[0].known);
    assert_int_equal(port->from_leg[0].why, OBSTACLE_ZONE);
    assert_false(port->turn_off_known);
    assert_int_equal(port->turn_off_why, OBSTACLE_ZONE);
}

/* A zone across the straight way, from 20 nmi east of it to 30 west and from 30
 * to 40 south. At best round its eastern end: (20, 30), 10 along it, (20, 15);
 * the waterway's squares are as large as that, and it may take the other. */
static void it_goes_round_what_bars_the_way(void **state) {
    (void)state;
    sail_west(0.0);
    struct position low = place(130.0, -40.0), high = place(80.0, -30.0);
    waters_add_square(&water, low, high, &arena);
    const struct plan_refuge *refuge = &run_to(100.0, -55.0)->from_leg[1];
    double least_nmi = hypot(20.0, 30.0) + 10.0 + hypot(20.0, 15.0);
    assert_true(refuge->known);
    assert_true(m_to_nmi(refuge->distance_m) > 0.99 * least_nmi);
    assert_true(m_to_nmi(refuge->distance_m) < 100.0);
    assert_near(s_to_hours(refuge->seconds),
                m_to_nmi(refuge->distance_m) / SPEED_KN, 0.3);
}

/* The finish is not known: neither is what is sooner. */
static void without_a_finish_there_is_no_turn_off(void **state) {
    (void)state;
    sail_west(0.0);
    plan.summary.reached = false;
    const struct plan_port *port = run_to(100.0, -50.0);
    assert_true(port->from_leg[0].known && port->from_leg[1].known);
    assert_false(port->turn_off_known);
}

/* The middle of Malta is 3 nmi from the sea or so; Debian's shorelines. */
static void a_port_inland_is_refused(void **state) {
    (void)state;
    struct error error;
    struct coast_box malta = {34, 38, 12, 16};
    if (!waters_load(&water, malta, &arena))
        skip();
    asked = (struct request_port){"High Town", {37.2, 14.5}};
    request = (struct request){.ports = &asked, .port_count = 1};
    plan = (struct plan){.port_count = 0};
    assert_false(fallback_find(&plan, &request, &water, &arena, &error));
    assert_int_equal(error.status, STATUS_INPUT);
    assert_contains(error.text, "'fallback High Town' is inland");
}

/* Valletta's fort is on land, the sea within half a mile on three sides (chart,
 * from memory). */
static void a_port_on_land_near_the_sea_is_moved_there(void **state) {
    (void)state;
    struct error error;
    struct coast_box malta = {34, 38, 12, 16};
    if (!waters_load(&water, malta, &arena))
        skip();
    asked = (struct request_port){"Fort", {35.8985, 14.512}};
    assert_true(water_is_inland(&water, asked.at));
    request = (struct request){.ports = &asked, .port_count = 1};
    plan = (struct plan){.port_count = 0};
    assert_true(fallback_find(&plan, &request, &water, &arena, &error));
    const struct plan_port *port = &plan.ports[0];
    assert_false(water_is_inland(&water, port->position));
    assert_true(port->moved_m > 20.0 && port->moved_m < 0.5 * METRES_PER_NMI);
    assert_near(rhumb_between(asked.at, port->position).distance_m,
                port->moved_m, 1.0);
}

/* 18.6 h from departure; where the second leg starts, after 16.7 h, 8.3 more;
 * the wind ends after 20. */
static void beyond_the_forecast_it_is_a_guess(void **state) {
    (void)state;
    sail_west(0.0);
    plan.forecast_end = instant_plus(departure, hours_to_s(20.0));
    const struct plan_port *port = run_to(100.0, -50.0);
    assert_true(port->from_leg[0].known && !port->from_leg[0].guess);
    assert_true(port->from_leg[1].known && port->from_leg[1].guess);
    assert_true(port->from_turn_off.guess);
    assert_near(port->moved_m, 0.0, 0.0);
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, start, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(it_is_worth_it_while_it_is_sooner_than_the_finish),
        TEST(not_to_windward),
        TEST(beyond_the_finish_it_is_never_worth_it),
        TEST(where_the_forecast_ends_nothing_is_known),
        TEST(what_stopped_a_look_is_kept),
        TEST(it_goes_round_what_bars_the_way),
        TEST(without_a_finish_there_is_no_turn_off),
        TEST(a_port_inland_is_refused),
        TEST(a_port_on_land_near_the_sea_is_moved_there),
        TEST(beyond_the_forecast_it_is_a_guess),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
