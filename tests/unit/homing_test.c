/* Home through a wind that shifts ahead within one step. */
#include "../support/analytic.h"
#include "../support/check.h"

#include "base/units.h"
#include "earth/rhumb.h"
#include "plan/homing.h"

#include <math.h>

static const struct position start_at = {0.0, -30.0};
static const double SPEED_KN = 6.0;

static double six_knots(double twa_deg) {
    (void)twa_deg;
    return kn_to_mps(SPEED_KN);
}

/* Of 8 m/s from the north, until it shifts to the west, where the goal lies:
 * by 70 degrees in 10 minutes after two hours and a half. Or none at all. */
static bool calm;

static enum obstacle shifting(const void *context, struct position position,
                              double t_s, struct conditions *conditions) {
    double part = fmin(fmax((t_s - 9000.0) / 600.0, 0.0), 1.0);
    enum obstacle why = analytic_conditions(context, position, t_s, conditions);
    double mps = calm ? 0.0 : 8.0;
    conditions->wind = vector_from(340.0 - 70.0 * part, mps);
    return why;
}

static struct analytic weather;

static struct voyage voyage_made(struct position goal) {
    struct boat *boat = analytic_free_boat(six_knots);
    boat->stowed = boat->spar_out = analytic_polar(six_knots, 45.0);
    weather = (struct analytic){.wind_from_deg = 0.0, .wind_mps = 8.0};
    struct voyage voyage = analytic_voyage(boat, &weather, goal);
    voyage.conditions = shifting;
    voyage.spar_allowed = false;
    return voyage;
}

/* 60 nmi due west: 15 of them are made until the wind is ahead; the rest takes
 * boards of 45 degrees, the root of two times as long. */
static void a_shift_ahead_does_not_end_the_way(void **state) {
    (void)state;
    struct position goal = rhumb_ahead(start_at, 270.0, nmi_to_m(60.0));
    struct voyage voyage = voyage_made(goal);
    struct homeward way = homeward_from(NULL, start_at, goal);
    struct underway boat =
        sail_start(start_at, (struct deck){.wind_starboard = true});
    calm = false;
    struct underway once = boat;
    struct corners turned;
    assert_int_equal(
        homeward_sail(&voyage, &once, &way, hours_to_s(50.0), &turned),
        OBSTACLE_NONE);
    assert_true(once.t_s > 9600.0); /* past the shift */
    assert_int_equal(homing_sail(&voyage, &boat, &way, hours_to_s(50.0)),
                     OBSTACLE_NONE);
    assert_near(rhumb_between(boat.at, goal).distance_m, 0.0, 1.0);
    double least_h = 2.5 + 45.0 * sqrt(2.0) / SPEED_KN;
    assert_true(s_to_hours(boat.t_s) > least_h - 0.5);
    assert_true(s_to_hours(boat.t_s) < least_h + 0.5);
}

static void it_ends_when_the_time_is_over(void **state) {
    (void)state;
    struct position goal = rhumb_ahead(start_at, 270.0, nmi_to_m(60.0));
    struct voyage voyage = voyage_made(goal);
    struct homeward way = homeward_from(NULL, start_at, goal);
    struct underway boat =
        sail_start(start_at, (struct deck){.wind_starboard = true});
    calm = false;
    assert_int_equal(homing_sail(&voyage, &boat, &way, hours_to_s(5.0)),
                     OBSTACLE_NONE);
    assert_near(s_to_hours(boat.t_s), 5.0, 0.01);
    assert_true(rhumb_between(boat.at, goal).distance_m > nmi_to_m(20.0));
}

static void in_a_calm_there_is_no_way(void **state) {
    (void)state;
    struct position goal = rhumb_ahead(start_at, 270.0, nmi_to_m(60.0));
    struct voyage voyage = voyage_made(goal);
    struct homeward way = homeward_from(NULL, start_at, goal);
    struct underway boat =
        sail_start(start_at, (struct deck){.wind_starboard = true});
    calm = true;
    assert_int_equal(homing_sail(&voyage, &boat, &way, hours_to_s(5.0)),
                     OBSTACLE_NO_SPEED);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_shift_ahead_does_not_end_the_way),
        cmocka_unit_test(it_ends_when_the_time_is_over),
        cmocka_unit_test(in_a_calm_there_is_no_way),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
