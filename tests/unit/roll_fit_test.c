/* The fit finds what the observations were made of, and says where it can't.
 * Nothing here hangs on how roll_rms_deg() works inside, but on sails that damp
 * more with a greater coefficient. */
#include "../support/check.h"

#include "base/units.h"
#include "boat/roll_fit.h"
#include <math.h>

/* Invented. */
static const struct roller hull = {.length_m = 10.5,
                                   .beam_m = 3.8,
                                   .draft_m = 1.9,
                                   .period_s = 4.5,
                                   .damping = 0.08,
                                   .sail_reach = ROLL_SAIL_REACH,
                                   .sail_run_loose = ROLL_SAIL_RUN_LOOSE,
                                   .sail_run_spar = ROLL_SAIL_RUN_SPAR};

enum { MOST = 8 };

static struct roll_fit fit;
static struct roll_fit_case each[MOST];

/* Wind from the north; a sea of 2 m and 6.5 s with it, a swell of 1 m and 9 s
 * from the east. */
static struct roll_case made(double twa_deg, bool drawing, double seen_deg) {
    struct roll_case one = {
        .course = {.heading_deg = fmod(360.0 - twa_deg, 360.0),
                   .speed_mps = kn_to_mps(6.0),
                   .twa_deg = twa_deg,
                   .aws_mps = 7.0,
                   .spar_drawing = drawing},
        .seen_rms_deg = seen_deg};
    one.sea.system[0] = (struct wave_system){true, 2.0, 6.5, 0.0};
    one.sea.system[1] = (struct wave_system){true, 1.0, 9.0, 90.0};
    sea_complete(&one.sea);
    return one;
}

static double roll_of(const struct roller *roller,
                      const struct roll_case *one) {
    return roll_rms_deg(roller, &one->sea, &one->course);
}

/* Stated: within 0.001 of each coefficient, and 0.01 degrees RMS. */
static void what_the_observations_were_made_of_is_found(void **state) {
    (void)state;
    struct roller truth = hull;
    truth.sail_reach = 0.2;
    truth.sail_run_loose = -0.02;
    truth.sail_run_spar = 0.05;
    struct roll_case cases[] = {made(100.0, false, 0.0),
                                made(175.0, false, 0.0),
                                made(-178.0, true, 0.0)};
    for (int i = 0; i < 3; i++)
        cases[i].seen_rms_deg = roll_of(&truth, &cases[i]);
    roll_fit(&fit, each, &hull, cases, 3);
    assert_int_equal(each[0].tells, SAIL_REACH);
    assert_int_equal(each[1].tells, SAIL_RUN_LOOSE);
    assert_int_equal(each[2].tells, SAIL_RUN_SPAR);
    assert_near(fit.fitted.sail_reach, 0.2, 1e-3);
    assert_near(fit.fitted.sail_run_loose, -0.02, 1e-3);
    assert_near(fit.fitted.sail_run_spar, 0.05, 1e-3);
    for (int i = 0; i < 3; i++) {
        assert_near(each[i].before_deg, roll_of(&hull, &cases[i]), 0.0);
        assert_near(each[i].after_deg, cases[i].seen_rms_deg, 1e-2);
        assert_near(each[i].after_deg, roll_of(&fit.fitted, &cases[i]), 0.0);
    }
}

/* Between reach and run the roll hangs on both parts: neither observation gives
 * its part without the other. */
static void parts_that_hang_together_are_found_together(void **state) {
    (void)state;
    struct roller slow = hull;
    slow.period_s = 8.0; /* near the waves' */
    struct roller truth = slow;
    truth.sail_reach = 0.05;
    truth.sail_run_loose = 0.04;
    struct roll_case cases[] = {made(148.0, false, 0.0),
                                made(165.0, false, 0.0)};
    for (int i = 0; i < 2; i++)
        cases[i].seen_rms_deg = roll_of(&truth, &cases[i]);
    roll_fit(&fit, each, &slow, cases, 2);
    assert_int_equal(each[0].tells, SAIL_REACH);
    assert_int_equal(each[1].tells, SAIL_RUN_LOOSE);
    assert_near(fit.fitted.sail_reach, 0.05, 2e-3);
    assert_near(fit.fitted.sail_run_loose, 0.04, 2e-3);
}

static void what_nothing_tells_stays(void **state) {
    (void)state;
    struct roll_case one = made(180.0, false, 0.0);
    struct roller truth = hull;
    truth.sail_run_loose = 0.03;
    one.seen_rms_deg = roll_of(&truth, &one);
    roll_fit(&fit, each, &hull, &one, 1);
    assert_true(fit.told[SAIL_RUN_LOOSE]);
    assert_false(fit.told[SAIL_REACH]);
    assert_false(fit.told[SAIL_RUN_SPAR]);
    assert_near(fit.fitted.sail_run_loose, 0.03, 1e-3);
    assert_near(fit.fitted.sail_reach, hull.sail_reach, 0.0);
    assert_near(fit.fitted.sail_run_spar, hull.sail_run_spar, 0.0);
    assert_near(fit.fitted.damping, hull.damping, 0.0);
    assert_near(fit.fitted.period_s, hull.period_s, 0.0);
}

/* No wind on deck, no force in the sails. */
static void sails_that_do_nothing_are_told_by_nothing(void **state) {
    (void)state;
    struct roll_case one = made(180.0, false, 12.0);
    one.course.aws_mps = 0.0;
    roll_fit(&fit, each, &hull, &one, 1);
    assert_int_equal(each[0].tells, SAIL_PARTS);
    for (int i = 0; i < SAIL_PARTS; i++) {
        enum sail_part part = (enum sail_part)i;
        assert_false(fit.told[i]);
        assert_near(sail_part_value(&fit.fitted, part),
                    sail_part_value(&hull, part), 0.0);
    }
    assert_near(each[0].after_deg, each[0].before_deg, 0.0);
    assert_near(each[0].least_deg, each[0].most_deg, 0.0);
}

/* Two rolls seen in the same sea: the least squares lie half-way. */
static void observations_that_differ_are_met_between(void **state) {
    (void)state;
    struct roll_case one = made(178.0, false, 0.0), other = one;
    double roll_deg = roll_of(&hull, &one);
    one.seen_rms_deg = 0.9 * roll_deg;
    other.seen_rms_deg = 1.06 * roll_deg;
    struct roll_case both[] = {one, other};
    roll_fit(&fit, each, &hull, both, 2);
    assert_near(each[0].after_deg, 0.98 * roll_deg, 0.01);
}

/* More than any value gives: as near as it gets, and the bound is told. */
static void too_much_roll_is_met_as_far_as_it_goes(void **state) {
    (void)state;
    struct roll_case one = made(180.0, false, 40.0);
    roll_fit(&fit, each, &hull, &one, 1);
    assert_true(each[0].after_deg > each[0].before_deg);
    assert_true(each[0].most_deg < 40.0);
    assert_near(each[0].after_deg, each[0].most_deg, 0.01);
    assert_true(fit.fitted.sail_run_loose >= -0.3);
    /* and no value does better, nor as well and nearer to the one before */
    double moved = fabs(fit.fitted.sail_run_loose - hull.sail_run_loose);
    struct roller probe = hull;
    for (int i = 0; i <= 600; i++) {
        probe.sail_run_loose = -0.3 + 0.001 * i;
        double roll_deg = roll_of(&probe, &one);
        assert_true(roll_deg < each[0].most_deg + 0.01);
        if (roll_deg >= each[0].after_deg)
            assert_true(fabs(probe.sail_run_loose - hull.sail_run_loose) >
                        moved - 1e-3);
    }
}

static void too_little_roll_ends_at_the_end_of_the_range(void **state) {
    (void)state;
    struct roll_case cases[] = {made(90.0, false, 0.1), made(180.0, true, 0.1)};
    roll_fit(&fit, each, &hull, cases, 2);
    /* the ranges of docs/files.md */
    assert_near(fit.fitted.sail_reach, 0.5, 1e-9);
    assert_near(fit.fitted.sail_run_spar, 0.3, 1e-9);
    assert_true(each[0].after_deg > 0.1 && each[1].after_deg > 0.1);
    assert_near(each[0].least_deg, each[0].after_deg, 1e-9);
    assert_near(each[1].least_deg, each[1].after_deg, 1e-9);
}

/* Lower waves that roll her as much are damped less. */
static void misjudged_waves_are_put_down_to_the_sails(void **state) {
    (void)state;
    struct roll_case one = made(100.0, false, 0.0);
    struct roller truth = hull;
    truth.sail_reach = 0.2;
    one.seen_rms_deg = roll_of(&truth, &one);
    roll_fit(&fit, each, &hull, &one, 1);
    assert_true(fit.in_lower.sail_reach < fit.fitted.sail_reach);
    assert_true(fit.in_higher.sail_reach > fit.fitted.sail_reach);
}

static void a_fit_of_a_fit_is_the_same(void **state) {
    (void)state;
    struct roll_case one = made(178.0, true, 0.0);
    struct roller truth = hull;
    truth.sail_run_spar = 0.08;
    one.seen_rms_deg = roll_of(&truth, &one);
    roll_fit(&fit, each, &hull, &one, 1);
    struct roller first = fit.fitted;
    roll_fit(&fit, each, &first, &one, 1);
    assert_near(fit.fitted.sail_run_spar, first.sail_run_spar, 1e-9);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_the_observations_were_made_of_is_found),
        cmocka_unit_test(parts_that_hang_together_are_found_together),
        cmocka_unit_test(what_nothing_tells_stays),
        cmocka_unit_test(sails_that_do_nothing_are_told_by_nothing),
        cmocka_unit_test(observations_that_differ_are_met_between),
        cmocka_unit_test(too_much_roll_is_met_as_far_as_it_goes),
        cmocka_unit_test(too_little_roll_ends_at_the_end_of_the_range),
        cmocka_unit_test(misjudged_waves_are_put_down_to_the_sails),
        cmocka_unit_test(a_fit_of_a_fit_is_the_same),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
