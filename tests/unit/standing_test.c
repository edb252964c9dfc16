/* The sea of a wind with a past: growth by equivalent duration. */
#include "../support/check.h"

#include "base/units.h"
#include "sea/growth.h"
#include "sea/standing.h"
#include <math.h>

static double height_m(const struct standing_sea *sea) {
    return hypot(sea->wind_sea.height_m, sea->left.height_m);
}

static struct standing_sea begun(double from_deg, double mps, double hours) {
    return standing_begin(vector_from(from_deg, mps), hours_to_s(hours));
}

static void blow(struct standing_sea *sea, double from_deg, double mps,
                 double hours) {
    standing_blow(sea, vector_from(from_deg, mps), hours_to_s(hours));
}

static double comes_from_deg(const struct standing_system *system) {
    return vector_direction_towards(system->from);
}

/* --- a steady wind ----------------------------------------------------------
 */

static void a_steady_wind_gives_the_closed_law(void **state) {
    (void)state;
    for (double mps = 2.0; mps <= 32.0; mps *= 2.0) {
        struct standing_sea sea = begun(200.0, mps, 1.0);
        for (int hour = 2; hour <= 48; hour++) {
            blow(&sea, 200.0, mps, 1.0);
            struct wave_system law = growth_wind_sea(
                mps, 200.0, GROWTH_OPEN_WATER_M, hours_to_s((double)hour));
            assert_near(sea.wind_sea.height_m, law.height_m, 1e-9);
            assert_near(sea.wind_sea.period_s, law.period_s, 1e-9);
            assert_angle_near(comes_from_deg(&sea.wind_sea), 200.0, 1e-9);
            /* the square root of a rounding error */
            assert_near(sea.left.height_m, 0.0, 1e-6 * mps * mps);
        }
    }
}

static void steps_of_a_steady_wind_don_t_count(void **state) {
    (void)state;
    struct standing_sea once = begun(90.0, 9.0, 2.0), often = once;
    blow(&once, 90.0, 9.0, 6.0);
    for (int i = 0; i < 60; i++)
        blow(&often, 90.0, 9.0, 0.1);
    assert_near(often.wind_sea.height_m, once.wind_sea.height_m, 1e-9);
    assert_near(often.wind_sea.period_s, once.wind_sea.period_s, 1e-9);
}

static void the_fetch_is_the_one_that_raises_that_sea(void **state) {
    (void)state;
    struct standing_sea sea = begun(0.0, 11.0, 3.0);
    struct wave_system law =
        growth_wind_sea(11.0, 0.0, sea.wind_sea.fetch_m, hours_to_s(1000.0));
    assert_near(sea.wind_sea.height_m, law.height_m, 1e-9);
}

static void no_wind_at_all_is_a_flat_sea(void **state) {
    (void)state;
    struct standing_sea sea = begun(0.0, 0.0, 12.0);
    assert_near(height_m(&sea), 0.0, 0.0);
    blow(&sea, 0.0, 0.0, 3.0);
    assert_near(height_m(&sea), 0.0, 0.0);
    blow(&sea, 30.0, 8.0, 3.0);
    assert_near(sea.wind_sea.height_m, growth_after(8.0, 10800.0).height_m,
                1e-9);
    assert_angle_near(comes_from_deg(&sea.wind_sea), 30.0, 1e-9);
}

/* --- a wind that rises and drops --------------------------------------------
 */

/* The sea that stands counts as so many hours of the new wind. */
static void a_rising_wind_goes_on_from_the_sea_that_stands(void **state) {
    (void)state;
    struct standing_sea sea = begun(0.0, 6.0, 12.0);
    double age_s = growth_time_s(12.0, sea.wind_sea.height_m);
    assert_true(age_s > 0.0 && age_s < hours_to_s(12.0));
    blow(&sea, 0.0, 12.0, 3.0);
    assert_near(sea.wind_sea.height_m,
                growth_after(12.0, age_s + hours_to_s(3.0)).height_m, 1e-9);
}

static void a_dropping_wind_leaves_what_it_can_t_hold(void **state) {
    (void)state;
    struct standing_sea sea = begun(120.0, 12.0, 18.0), before = sea;
    blow(&sea, 120.0, 5.0, 1e-3);
    assert_near(sea.wind_sea.height_m, growth_full_height_m(5.0), 1e-9);
    assert_near(height_m(&sea), before.wind_sea.height_m, 1e-3);
    assert_near(sea.left.period_s, before.wind_sea.period_s, 1e-9);
    assert_angle_near(comes_from_deg(&sea.left), 120.0, 1e-6);
    double left_m = sea.left.height_m;
    blow(&sea, 120.0, 5.0, 12.0);
    assert_near(sea.left.height_m, 0.5 * left_m, 1e-3 * left_m);
    assert_near(sea.left.period_s, before.wind_sea.period_s, 1e-9);
}

/* The period is not that of the lower wind at once. */
static void a_dropping_wind_shortens_its_sea_slowly(void **state) {
    (void)state;
    struct standing_sea sea = begun(120.0, 12.0, 18.0);
    double before_s = sea.wind_sea.period_s;
    double law_s = growth_after(8.0, 1e7).period_s;
    assert_true(law_s < 0.7 * before_s);
    for (int hour = 0; hour < 36; hour++) {
        blow(&sea, 120.0, 8.0, 1.0);
        assert_true(sea.wind_sea.period_s < before_s);
        assert_true(sea.wind_sea.period_s > law_s);
        if (hour == 0)
            assert_true(sea.wind_sea.period_s > 0.9 * before_s);
        before_s = sea.wind_sea.period_s;
    }
    assert_near(before_s, law_s, 0.05 * law_s);
}

/* However the wind goes on, a sea goes down no faster than by half in twelve
 * hours. */
static void no_sea_goes_down_faster_than_the_rule(void **state) {
    (void)state;
    struct seed seed = {11};
    struct standing_sea sea = begun(0.0, 14.0, 24.0);
    for (int i = 0; i < 2000; i++) {
        double before_m = height_m(&sea);
        double hours = seed_between(&seed, 0.1, 6.0);
        blow(&sea, seed_between(&seed, 0.0, 360.0),
             seed_between(&seed, 0.0, 18.0), hours);
        assert_true(height_m(&sea) >=
                    before_m * exp2(-hours / 12.0) * (1.0 - 1e-9));
    }
}

/* A lull of three hours: the sea is nearly where it was before. */
static void after_a_lull_the_wind_takes_its_sea_up_again(void **state) {
    (void)state;
    struct standing_sea sea = begun(0.0, 10.0, 24.0);
    double before_m = sea.wind_sea.height_m;
    blow(&sea, 0.0, 6.0, 3.0);
    assert_true(sea.wind_sea.height_m < 0.5 * before_m);
    blow(&sea, 0.0, 10.0, 0.1);
    assert_near(sea.wind_sea.height_m, before_m, 0.2 * before_m);
    assert_true(sea.left.height_m < 0.05 * before_m);
}

/* --- a wind that turns ------------------------------------------------------
 */

static void a_wind_that_turns_far_starts_a_new_sea(void **state) {
    (void)state;
    struct standing_sea sea = begun(225.0, 12.0, 18.0), before = sea;
    blow(&sea, 315.0, 12.0, 1.0);
    assert_near(sea.wind_sea.height_m, growth_after(12.0, 3600.0).height_m,
                1e-9);
    assert_angle_near(comes_from_deg(&sea.wind_sea), 315.0, 1e-9);
    assert_near(sea.left.height_m, before.wind_sea.height_m,
                0.06 * before.wind_sea.height_m);
    assert_near(sea.left.period_s, before.wind_sea.period_s, 1e-9);
    assert_angle_near(comes_from_deg(&sea.left), 225.0, 1e-9);
}

static void a_wind_that_turns_a_little_takes_its_sea_along(void **state) {
    (void)state;
    struct standing_sea sea = begun(225.0, 12.0, 6.0), before = sea;
    double last_deg = 225.0;
    for (int hour = 0; hour < 48; hour++) {
        blow(&sea, 255.0, 12.0, 1.0);
        double from_deg = comes_from_deg(&sea.wind_sea);
        assert_true(from_deg > last_deg && from_deg < 255.0);
        assert_true(sea.wind_sea.height_m >= before.wind_sea.height_m);
        last_deg = from_deg;
    }
    assert_angle_near(last_deg, 255.0, 3.0);
    assert_near(sea.left.height_m, 0.0, 1e-6);
}

/* A young sea turns faster than an old one. */
static void an_old_sea_is_slow_to_turn(void **state) {
    (void)state;
    struct standing_sea young = begun(0.0, 10.0, 2.0);
    struct standing_sea old = begun(0.0, 10.0, 12.0);
    blow(&young, 40.0, 10.0, 2.0);
    blow(&old, 40.0, 10.0, 2.0);
    assert_true(comes_from_deg(&young.wind_sea) >
                2.0 * comes_from_deg(&old.wind_sea));
}

/* --- whatever the wind does -------------------------------------------------
 */

static void mirrored_winds_raise_mirrored_seas(void **state) {
    (void)state;
    struct seed seed = {12};
    struct standing_sea a = begun(10.0, 8.0, 12.0), b = begun(-10.0, 8.0, 12.0);
    for (int i = 0; i < 200; i++) {
        double from_deg = seed_between(&seed, -180.0, 180.0);
        double mps = seed_between(&seed, 0.5, 15.0);
        blow(&a, from_deg, mps, 3.0);
        blow(&b, -from_deg, mps, 3.0);
        assert_near(a.wind_sea.height_m, b.wind_sea.height_m, 1e-9);
        assert_near(a.left.height_m, b.left.height_m, 1e-9);
        assert_angle_near(comes_from_deg(&a.left), -comes_from_deg(&b.left),
                          1e-6);
    }
}

/* All together never above the full sea of the strongest wind that was, nor
 * longer; the wind sea never above that of now. */
static void no_sea_is_above_the_full_one(void **state) {
    (void)state;
    struct seed seed = {13};
    struct standing_sea sea = begun(0.0, 3.0, 12.0);
    double most_mps = 3.0, from_deg = 0.0;
    for (int i = 0; i < 5000; i++) {
        double mps = seed_between(&seed, 0.0, 20.0);
        from_deg += seed_between(&seed, -50.0, 50.0);
        most_mps = fmax(most_mps, mps);
        blow(&sea, from_deg, mps, seed_between(&seed, 0.1, 12.0));
        assert_true(sea.wind_sea.height_m <=
                    growth_full_height_m(mps) * (1.0 + 1e-9));
        assert_true(sea.left.height_m <=
                    growth_full_height_m(most_mps) * (1.0 + 1e-9));
        assert_true(sea.left.period_s <=
                    growth_after(most_mps, 1e7).period_s * (1.0 + 1e-9));
        assert_near(vector_length(sea.left.from), 1.0, 1e-9);
        assert_near(vector_length(sea.wind_sea.from), 1.0, 1e-9);
    }
}

static void more_wind_all_along_never_makes_less_wind_sea(void **state) {
    (void)state;
    struct seed seed = {14};
    struct standing_sea weak = begun(0.0, 5.0, 6.0);
    struct standing_sea strong = begun(0.0, 5.5, 6.0);
    for (int i = 0; i < 500; i++) {
        double mps = seed_between(&seed, 3.0, 15.0);
        blow(&weak, 0.0, mps, 3.0);
        blow(&strong, 0.0, 1.1 * mps, 3.0);
        assert_true(strong.wind_sea.height_m >= weak.wind_sea.height_m);
    }
}

/* A wind that swells and swings over two days, with a front in it. */
static struct vector_mps wind_at(double hours) {
    double swing_deg = 30.0 * sin(0.13 * hours);
    double front_deg = 50.0 * (1.0 + tanh((hours - 40.0) / 3.0));
    return vector_from(220.0 + swing_deg + front_deg,
                       9.0 + 5.0 * sin(0.2 * hours));
}

/* Greatest difference of the whole sea's height from that of steps of six
 * minutes. */
static double off_m(double step_h) {
    struct standing_sea fine = begun(220.0, 9.0, 12.0), coarse = fine;
    double worst_m = 0.0;
    for (double hour = 0.0; hour < 72.0; hour += step_h) {
        int parts = (int)lround(step_h / 0.1);
        for (int i = 0; i < parts; i++)
            standing_blow(&fine, wind_at(hour + 0.1 * (i + 0.5)), 360.0);
        standing_blow(&coarse, wind_at(hour + 0.5 * step_h),
                      hours_to_s(step_h));
        worst_m = fmax(worst_m, fabs(height_m(&fine) - height_m(&coarse)));
    }
    return worst_m;
}

/* Of a sea of 3 m: steps of an hour and a half, as the raster over a forecast
 * takes them, are within a tenth; halving them brings the sea nearer. */
static void the_step_hardly_counts(void **state) {
    (void)state;
    double long_m = off_m(3.0), middle_m = off_m(1.5), short_m = off_m(0.5);
    print_message("steps of 3, 1.5, 0.5 h: off by %.3f, %.3f, %.3f m\n", long_m,
                  middle_m, short_m);
    assert_true(middle_m < 0.3);
    assert_true(middle_m < 0.6 * long_m);
    assert_true(short_m < 0.5 * middle_m);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_steady_wind_gives_the_closed_law),
        cmocka_unit_test(steps_of_a_steady_wind_don_t_count),
        cmocka_unit_test(the_fetch_is_the_one_that_raises_that_sea),
        cmocka_unit_test(no_wind_at_all_is_a_flat_sea),
        cmocka_unit_test(a_rising_wind_goes_on_from_the_sea_that_stands),
        cmocka_unit_test(a_dropping_wind_leaves_what_it_can_t_hold),
        cmocka_unit_test(a_dropping_wind_shortens_its_sea_slowly),
        cmocka_unit_test(no_sea_goes_down_faster_than_the_rule),
        cmocka_unit_test(after_a_lull_the_wind_takes_its_sea_up_again),
        cmocka_unit_test(a_wind_that_turns_far_starts_a_new_sea),
        cmocka_unit_test(a_wind_that_turns_a_little_takes_its_sea_along),
        cmocka_unit_test(an_old_sea_is_slow_to_turn),
        cmocka_unit_test(mirrored_winds_raise_mirrored_seas),
        cmocka_unit_test(no_sea_is_above_the_full_one),
        cmocka_unit_test(more_wind_all_along_never_makes_less_wind_sea),
        cmocka_unit_test(the_step_hardly_counts),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
