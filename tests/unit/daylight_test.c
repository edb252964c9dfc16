/* Day, night and what lies between at the end of a passage. */
#include "../support/check.h"
#include "../support/plan_example.h"
#include "../support/scratch.h"

#include "report/daylight.h"

static struct plan_example example;

/* 2024-03-20T00:00Z, date -u -d @1710892800: the day of the equinox. */
#define EQUINOX_S 1710892800

static int begin(void **state) {
    scratch_begin(state);
    plan_example_make(&example);
    example.plan.to = (struct position){0.0, 0.0};
    return 0;
}

/* `after_h`: how long the passage has lasted, which decides how sharply its
 * end is known. */
static void arrive_at(double hour, double after_h) {
    struct instant at = {EQUINOX_S + (int64_t)(hour * 3600.0)};
    example.plan.summary.arrive = at;
    example.plan.depart = instant_plus(at, -after_h * 3600.0);
}

/* Sunrise and sunset at the equator, worked out by hand: noon at 12:07:26 (the
 * equation of time of that day), the sun 15 degrees further every hour, its rim
 * on the horizon at -0.833 degrees, dark at -6: 06:04, 18:11, 05:43, 18:31. */
static void the_turns_of_the_day_are_told_in_order(void **state) {
    (void)state;
    arrive_at(13.0, 5.0);
    assert_string_equal(daylight_turns(&arena, &example.plan),
                        "dark until 05:43, sunrise 06:04, sunset 18:11, dark "
                        "from 18:31 UTC");
    arrive_at(5.0, 5.0);
    example.plan.display.zone_s = 3600.0;
    assert_string_equal(daylight_turns(&arena, &example.plan),
                        "sunset 19:11, dark from 19:32, dark until 06:43, "
                        "sunrise 07:04 UTC+1");
}

static void where_the_sun_stays_there_are_no_turns(void **state) {
    (void)state;
    arrive_at(12.0 + 93.0 * 24.0, 5.0); /* in June */
    example.plan.to.lat_deg = 75.0;
    assert_string_equal(daylight_turns(&arena, &example.plan),
                        "the sun does not set");
    assert_string_equal(daylight_on_arrival(&example.plan), "by day");
    example.plan.to.lat_deg = -80.0;
    assert_string_equal(daylight_turns(&arena, &example.plan), "dark all day");
    assert_string_equal(daylight_on_arrival(&example.plan), "at night");
    /* By hand: -6 degrees at an hour angle of acos((sin -6 - sin -70 sin 23.44)
     * / (cos 70 cos 23.44)) = 30.9 degrees, 2 h 4 min round noon at 12:02. */
    example.plan.to.lat_deg = -70.0;
    assert_string_equal(daylight_turns(&arena, &example.plan),
                        "dark until 09:58, dark from 14:06 UTC");
}

/* By the times above; a passage of 5 h is known to 7 min, of 60 h to half an
 * hour, of 100 h to the watch. */
static void the_whole_window_is_judged(void **state) {
    (void)state;
    static const struct {
        double hour, after_h;
        const char *light, *advice, *word;
    } cases[] = {
        {12.0, 5.0, "by day", "", "day"},
        {6.2, 5.0, "by day", "", "day"},
        {6.0, 5.0, "at dawn", ": it is dark before; slow down rather", "dawn"},
        {18.25, 5.0, "at dusk", ": dark comes after; be early, or stand off",
         "dusk"},
        {18.0, 5.0, "by day", "", "day"},
        {18.0, 60.0, "at dusk", ": dark comes after", "dusk"},
        {6.0, 60.0, "dark at first", ": slow down rather than enter", "part"},
        {1.0, 5.0, "at night", ": slow down or stand off", "night"},
        {18.5, 5.0, "dark at its end", ": be early, or stand off", "part"},
        {17.0, 100.0, "dark at its end", ": be early, or stand off", "part"},
        {5.0, 100.0, "dark at first", ": slow down rather than enter", "part"},
        {9.0, 100.0, "by day", "", "day"},
        {21.0, 100.0, "at night", ": slow down or stand off", "night"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        arrive_at(cases[i].hour, cases[i].after_h);
        assert_string_equal(daylight_on_arrival(&example.plan), cases[i].light);
        assert_string_equal(daylight_word(&example.plan), cases[i].word);
        const char *advice = daylight_advice(&example.plan);
        assert_contains(advice, cases[i].advice);
        assert_int_equal(*advice == '\0', *cases[i].advice == '\0');
    }
}

/* Light at 06:10 and planned so, but told as the watch from 04:00, which begins
 * in the dark, or to the hour; without the wish, or with the plan itself in the
 * dark, that is what is said. */
static void what_is_planned_for_light_is_not_called_dark(void **state) {
    (void)state;
    struct plan *plan = &example.plan;
    plan->arrival.known = true;
    for (int i = 0; i < 2; i++) {
        arrive_at(i ? 6.0 : 6.17, i ? 60.0 : 100.0);
        plan->arrive_by_day = true;
        plan->arrival.dark = false;
        assert_string_equal(daylight_on_arrival(plan),
                            "in that part of it that is light");
        assert_string_equal(daylight_word(plan), "day");
        assert_contains(daylight_advice(plan), ": planned for daylight; if");
        plan->arrival.dark = true;
        assert_string_equal(daylight_on_arrival(plan), "dark at first");
        plan->arrive_by_day = plan->arrival.dark = false;
        assert_string_equal(daylight_on_arrival(plan), "dark at first");
    }
    arrive_at(12.0, 5.0);
    plan->arrive_by_day = true;
    assert_string_equal(daylight_on_arrival(plan), "by day");
}

/* The watch of 16 to 20 by ship's time. */
static void watches_are_those_of_ships_time(void **state) {
    (void)state;
    arrive_at(17.5, 100.0);
    example.plan.display.zone_s = 2.0 * 3600.0; /* 19:30: 14 to 18 UTC */
    assert_string_equal(daylight_on_arrival(&example.plan), "by day");
    example.plan.display.zone_s = 0.0;
    assert_string_equal(daylight_on_arrival(&example.plan), "dark at its end");
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(the_turns_of_the_day_are_told_in_order),
        TEST(where_the_sun_stays_there_are_no_turns),
        TEST(the_whole_window_is_judged),
        TEST(what_is_planned_for_light_is_not_called_dark),
        TEST(watches_are_those_of_ships_time),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
