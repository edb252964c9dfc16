/* How early or late she may be, against the dark: at the equator on the day of
 * the equinox dark ends at 05:43 and begins at 18:31 (worked out by hand in
 * daylight_test.c). */
#include "../support/check.h"
#include "../support/plan_example.h"

#include "base/units.h"
#include "plan/arrival.h"
#include "report/marked.h"

/* 2024-03-20T00:00Z, date -u -d @1710892800 */
#define EQUINOX_S 1710892800

static struct plan_example example;

static struct instant hour(double hours) {
    return (struct instant){EQUINOX_S + (int64_t)(hours * 3600.0)};
}

/* Arrives at that hour of the equinox after so long under way, the forecast's
 * lead as given. */
static const struct plan_arrival *arrive(double at_h, double elapsed_h,
                                         double lead_h) {
    struct plan *plan = &example.plan;
    plan_example_make(&example);
    plan->to = (struct position){0.0, 0.0};
    plan->summary.arrive = hour(at_h);
    plan->summary.elapsed_s = hours_to_s(elapsed_h);
    plan->forecast_run = hour(at_h - lead_h);
    arrival_give(plan);
    return &plan->arrival;
}

static void band_is(const struct plan_arrival *arrival, double early_h,
                    double late_h) {
    assert_true(arrival->known);
    assert_near(instant_minus(arrival->early, hour(early_h)), 0.0, 1.0);
    assert_near(instant_minus(arrival->late, hour(late_h)), 0.0, 1.0);
}

/* An hour a day of lead, a quarter of the time under way at most. */
static void the_band_grows_with_the_lead(void **state) {
    (void)state;
    band_is(arrive(12.0, 40.0, 96.0), 8.0, 16.0);
    band_is(arrive(12.0, 100.0, 144.0), 6.0, 18.0);
    band_is(arrive(12.0, 4.0, 48.0), 11.0, 13.0);
    band_is(arrive(12.0, 40.0, -3.0), 12.0, 12.0);
}

static void the_nearest_dark_within_it_is_found(void **state) {
    (void)state;
    const struct plan_arrival *arrival = arrive(12.0, 40.0, 96.0);
    assert_false(arrival->dark || arrival->dark_before || arrival->dark_after);
    arrival = arrive(16.0, 40.0, 96.0);
    assert_false(arrival->dark || arrival->dark_before);
    assert_true(arrival->dark_after);
    assert_near(instant_minus(arrival->dark_from, hour(18.0 + 31.0 / 60.0)),
                0.0, 60.0);
    arrival = arrive(8.0, 40.0, 96.0);
    assert_false(arrival->dark || arrival->dark_after);
    assert_true(arrival->dark_before);
    assert_near(instant_minus(arrival->dark_until, hour(5.0 + 43.0 / 60.0)),
                0.0, 60.0);
    arrival = arrive(12.0, 100.0, 192.0); /* from 04:00 to 20:00 */
    assert_true(arrival->dark_before && arrival->dark_after);
    arrival = arrive(20.0, 40.0, 96.0);
    assert_true(arrival->dark && arrival->light_known);
    assert_near(instant_minus(arrival->light_from, hour(29.0 + 43.0 / 60.0)),
                0.0, 120.0);
}

static void the_crew_is_warned_of_an_arrival_in_the_dark(void **state) {
    (void)state;
    struct arena arena;
    arena_init(&arena);
    arrive(12.0, 40.0, 96.0);
    assert_null(arrival_warning(&example.plan, &arena));
    arrive(16.0, 40.0, 96.0);
    example.plan.depart = hour(-24.0);
    assert_string_equal(
        marked_in_utc(&arena, &example.plan,
                      arrival_warning(&example.plan, &arena)),
        "the arrival may fall in the dark: it may be early or late, from Wed "
        "20 Mar 12:00 UTC to Wed 20 Mar 20:00 UTC");
    arrive(20.0, 40.0, 96.0);
    assert_contains(arrival_warning(&example.plan, &arena),
                    "the arrival falls in the dark");
    arrive(12.0, 100.0, 192.0); /* 16 h, from 04:00 */
    assert_contains(arrival_warning(&example.plan, &arena),
                    "the arrival may fall in the dark");
    arena_free(&arena);
}

static void what_is_not_reached_has_no_band(void **state) {
    (void)state;
    struct arena arena;
    arena_init(&arena);
    plan_example_make(&example);
    example.plan.summary.reached = false;
    arrival_give(&example.plan);
    assert_false(example.plan.arrival.known);
    assert_null(arrival_warning(&example.plan, &arena));
    arena_free(&arena);
}

/* Where the sun does not rise there is no light to wait for. */
static void the_polar_night_has_no_light(void **state) {
    (void)state;
    plan_example_make(&example);
    struct plan *plan = &example.plan;
    plan->to = (struct position){-80.0, 0.0};
    plan->summary.arrive = hour(12.0 + 93.0 * 24.0); /* in June */
    plan->forecast_run = plan->summary.arrive;
    arrival_give(plan);
    assert_true(plan->arrival.dark);
    assert_false(plan->arrival.light_known);
}

/* Seconds of the equinox. */
static double at_s(double at_h) {
    return (double)hour(at_h).unix_s;
}

static void the_dark_is_waited_out(void **state) {
    (void)state;
    const struct position equator = {0.0, 0.0};
    double dawn_h = 5.0 + 43.0 / 60.0, dusk_h = 18.0 + 31.0 / 60.0;
    assert_near(arrival_dark_s(equator, at_s(12.0)).value, 0.0, 0.0);
    assert_near(arrival_dark_s(equator, at_s(dawn_h) + 60.0).value, 0.0, 0.0);
    assert_near(arrival_dark_s(equator, at_s(dusk_h) - 60.0).value, 0.0, 0.0);
    assert_near(arrival_dark_s(equator, at_s(3.0)).value,
                hours_to_s(dawn_h - 3.0), 60.0);
    /* that of the next day, within a minute's shift */
    assert_near(arrival_dark_s(equator, at_s(20.0)).value,
                hours_to_s(24.0 + dawn_h - 20.0), 90.0);
    struct figure wait_s = arrival_dark_s(equator, at_s(20.0));
    assert_near(arrival_dark_s(equator, at_s(20.0) + wait_s.value).value, 0.0,
                0.0);
}

/* Until a quarter of an hour after first light, which she may come into. */
static void an_arrival_by_daylight_has_a_reserve(void **state) {
    (void)state;
    struct arrival_light light = {{0.0, 0.0}, hour(0.0)};
    double dawn_s = arrival_dark_s(light.finish, at_s(3.0)).value + 10800.0;
    double dusk_s = hours_to_s(18.0 + 31.0 / 60.0);
    assert_near(arrival_wait_s(&light, 10800.0), dawn_s + 900.0 - 10800.0, 0.5);
    assert_near(arrival_wait_s(&light, dawn_s + 300.0), 600.0, 0.5);
    assert_near(arrival_wait_s(&light, dawn_s + 901.0), 0.0, 0.0);
    assert_near(arrival_wait_s(&light, dusk_s - 120.0), 0.0, 0.0);
    assert_near(arrival_wait_s(&light, dusk_s + 120.0),
                86400.0 + dawn_s + 900.0 - dusk_s - 120.0, 90.0);
}

static void where_the_sun_stays_nothing_is_waited_for(void **state) {
    (void)state;
    const struct position north = {80.0, 0.0}, south = {-80.0, 0.0};
    double june_s = at_s(93.0 * 24.0);
    assert_true(arrival_dark_s(north, june_s).known);
    assert_near(arrival_dark_s(north, june_s).value, 0.0, 0.0);
    assert_false(arrival_dark_s(south, june_s).known);
    struct arrival_light light = {.finish = south, .depart = hour(0.0)};
    assert_near(arrival_wait_s(&light, 93.0 * 86400.0), 0.0, 0.0);
}

static void a_night_without_end_is_told(void **state) {
    (void)state;
    struct plan *plan = &example.plan;
    plan_example_make(&example);
    plan->to = (struct position){-80.0, 0.0};
    plan->summary.arrive = hour(93.0 * 24.0);
    plan->arrive_by_day = true;
    arrival_give(plan);
    struct arena arena;
    arena_init(&arena);
    assert_contains(arrival_warning(plan, &arena),
                    "it stays dark all day; planned as for any arrival");
    arena_free(&arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_band_grows_with_the_lead),
        cmocka_unit_test(the_nearest_dark_within_it_is_found),
        cmocka_unit_test(the_crew_is_warned_of_an_arrival_in_the_dark),
        cmocka_unit_test(what_is_not_reached_has_no_band),
        cmocka_unit_test(the_polar_night_has_no_light),
        cmocka_unit_test(an_arrival_by_daylight_has_a_reserve),
        cmocka_unit_test(the_dark_is_waited_out),
        cmocka_unit_test(where_the_sun_stays_nothing_is_waited_for),
        cmocka_unit_test(a_night_without_end_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
