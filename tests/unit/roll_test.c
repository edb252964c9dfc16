/* Roll: contracts and edges. What must hold on seeded cases, and before the
 * wind: tests/property/roll_test.c; against the textbooks:
 * tests/published/rolling_test.c. */
#include "../support/check.h"

#include "earth/angle.h"
#include "sea/roll.h"
#include <math.h>

static const struct roller hull = {.length_m = 10.5,
                                   .beam_m = 3.7,
                                   .draft_m = 1.8,
                                   .period_s = 3.6,
                                   .damping = 0.08,
                                   .sail_reach = ROLL_SAIL_REACH,
                                   .sail_run_loose = ROLL_SAIL_RUN_LOOSE,
                                   .sail_run_spar = ROLL_SAIL_RUN_SPAR};

static const struct roll_course beam_reach = {
    .heading_deg = 0.0, .speed_mps = 3.0, .twa_deg = 90.0, .aws_mps = 8.0};

static struct sea sea_from(double from_deg, double height_m, double period_s) {
    return (struct sea){.system = {{true, height_m, period_s, from_deg}}};
}

static double roll_on(const struct roller *roller, const struct sea *sea,
                      struct roll_course course) {
    double roll_deg = roll_rms_deg(roller, sea, &course);
    assert_true(isfinite(roll_deg) && roll_deg >= 0.0);
    assert_true(roll_deg < ROLL_CEILING_DEG);
    return roll_deg;
}

/* --- one sea -----------------------------------------------------------------
 */

static void a_flat_sea_and_no_wind_do_not_roll_her(void **state) {
    (void)state;
    struct sea none = {.height_known = false};
    struct roll_course course = {.heading_deg = 120.0};
    assert_near(roll_on(&hull, &none, course), 0.0, 0.0);
}

/* The encounter, not the waves' own period, is what must meet hers. */
static void running_takes_her_away_from_resonance(void **state) {
    (void)state;
    struct sea sea = sea_from(180.0, 1.0, hull.period_s);
    struct roll_course lying = {.heading_deg = 0.0, .twa_deg = 120.0};
    struct roll_course running = {
        .heading_deg = 0.0, .speed_mps = 3.0, .twa_deg = 120.0};
    assert_true(roll_on(&hull, &sea, running) < roll_on(&hull, &sea, lying));
}

static void systems_add_in_squares(void **state) {
    (void)state;
    struct sea first = {.system[0] = {true, 0.5, 6.0, 90.0}};
    struct sea second = {.system[1] = {true, 0.8, 11.0, 200.0}};
    struct sea both = {.system = {first.system[0], second.system[1]}};
    double a = roll_on(&hull, &first, beam_reach);
    double b = roll_on(&hull, &second, beam_reach);
    assert_near(roll_on(&hull, &both, beam_reach), hypot(a, b), 5e-3);
}

static void waves_of_no_height_or_period_do_nothing(void **state) {
    (void)state;
    struct sea sea = {.system = {{true, 0.0, 0.0, 90.0},
                                 {true, 3.0, 0.0, 90.0},
                                 {true, 0.0, 8.0, 90.0},
                                 {false, 9.0, 6.0, 90.0}}};
    assert_near(roll_on(&hull, &sea, beam_reach), 0.0, 0.0);
}

/* Short-crested seas: even a sea from right astern has something abeam. */
static void every_course_feels_some_of_the_sea(void **state) {
    (void)state;
    struct sea sea = sea_from(0.0, 2.0, 7.0);
    double least_deg = 99.0, most_deg = 0.0;
    for (double heading_deg = 0.0; heading_deg < 360.0; heading_deg += 10.0) {
        struct roll_course course = {.heading_deg = heading_deg,
                                     .speed_mps = 3.0,
                                     .twa_deg = angle_wrap_180(-heading_deg),
                                     .aws_mps = 0.0};
        double roll_deg = roll_on(&hull, &sea, course);
        least_deg = fmin(least_deg, roll_deg);
        most_deg = fmax(most_deg, roll_deg);
    }
    assert_true(least_deg > 0.5);
    assert_true(most_deg > 1.5 * least_deg);
}

static void roll_rises_with_wave_height(void **state) {
    (void)state;
    for (double heading_deg = 0.0; heading_deg < 360.0; heading_deg += 45.0) {
        double before_deg = 0.0;
        for (double height_m = 0.5; height_m <= 8.0; height_m += 0.5) {
            struct sea sea = sea_from(30.0, height_m, 8.0);
            struct roll_course course = beam_reach;
            course.heading_deg = heading_deg;
            double roll_deg = roll_on(&hull, &sea, course);
            assert_true(roll_deg > before_deg);
            before_deg = roll_deg;
        }
    }
}

/* Whatever a file holds, the figure stays finite and below its ceiling. */
static void no_sea_makes_a_senseless_figure(void **state) {
    (void)state;
    static const double heights_m[] = {0.0, 0.01, 3.0, 30.0, 1e6};
    static const double periods_s[] = {0.0, 1e-9, 0.5, 1.0, 3.6, 30.0, 1e6};
    for (size_t h = 0; h < sizeof heights_m / sizeof *heights_m; h++)
        for (size_t p = 0; p < sizeof periods_s / sizeof *periods_s; p++)
            for (double twa_deg = -180.0; twa_deg <= 180.0; twa_deg += 60.0) {
                struct sea sea = sea_from(77.0, heights_m[h], periods_s[p]);
                struct roll_course course = {.heading_deg = 10.0,
                                             .speed_mps = 12.0,
                                             .twa_deg = twa_deg,
                                             .aws_mps = 60.0};
                roll_on(&hull, &sea, course);
            }
}

/* --- damping by the sails
 * ------------------------------------------------------ */

static double damping_at(double twa_deg, double aws_mps, bool spar_drawing) {
    struct roll_course course = {
        .twa_deg = twa_deg, .aws_mps = aws_mps, .spar_drawing = spar_drawing};
    return roll_damping(&hull, &course);
}

static void without_wind_the_hull_damps_alone(void **state) {
    (void)state;
    assert_near(damping_at(90.0, 0.0, false), hull.damping, 1e-12);
    assert_near(damping_at(180.0, 0.0, false), hull.damping, 1e-12);
}

static void sails_damp_on_a_reach_and_feed_on_a_run(void **state) {
    (void)state;
    double full = ROLL_FULL_WIND_MPS;
    assert_near(damping_at(60.0, full, false), 0.33, 1e-12);
    assert_near(damping_at(-120.0, full, false), 0.33, 1e-12);
    assert_near(damping_at(180.0, full, false), 0.03, 1e-12);
    assert_near(damping_at(180.0, full, true), 0.11, 1e-12);
    assert_near(damping_at(90.0, 0.5 * full, false), 0.205, 1e-12);
    assert_near(damping_at(90.0, 3.0 * full, false), 0.33, 1e-12);
}

static void damping_falls_smoothly_towards_the_run(void **state) {
    (void)state;
    for (double twa_deg = 100.0; twa_deg < 180.0; twa_deg += 0.5) {
        double step =
            damping_at(twa_deg, 10, false) - damping_at(twa_deg + 0.5, 10, 0);
        assert_true(step >= 0.0 && step < 0.009);
    }
}

static void damping_never_falls_below_its_floor(void **state) {
    (void)state;
    struct roller fed = hull;
    fed.sail_run_loose = -0.3;
    struct roll_course course = {.twa_deg = 180.0, .aws_mps = 12.0};
    assert_near(roll_damping(&fed, &course), ROLL_DAMPING_FLOOR, 0.0);
    struct sea sea = sea_from(180.0, 3.0, 7.0);
    roll_on(&fed, &sea, course);
}

/* --- the sails' own drive ----------------------------------------------------
 */

static double drive_at(double twa_deg, double aws_mps, bool spar_drawing) {
    struct roll_course course = {
        .twa_deg = twa_deg, .aws_mps = aws_mps, .spar_drawing = spar_drawing};
    return roll_drive_rad2(&course, 0.1);
}

static void sails_drive_on_a_run_alone(void **state) {
    (void)state;
    assert_near(drive_at(90.0, 10.0, false), 0.0, 0.0);
    assert_near(drive_at(-135.0, 10.0, false), 0.0, 0.0);
    assert_near(drive_at(180.0, 0.0, false), 0.0, 0.0);
    assert_true(drive_at(150.0, 10.0, false) > 0.0);
    assert_true(drive_at(180.0, 10.0, false) > drive_at(150.0, 10.0, false));
    assert_true(drive_at(180.0, 10.0, false) > drive_at(180.0, 10.0, true));
    assert_near(drive_at(180.0, 30.0, true),
                drive_at(180.0, ROLL_FULL_WIND_MPS, true), 1e-15);
}

/* --- steep and short seas ----------------------------------------------------
 */

/* No sea stands higher than a seventh of its length. */
static void a_sea_is_no_higher_than_it_can_stand(void **state) {
    (void)state;
    struct wave_system system = {true, 99.0, 5.0, 0.0};
    assert_near(roll_height_m(&system), wave_length_m(5.0) / 7.0, 1e-12);
    system.height_m = 1.0;
    assert_near(roll_height_m(&system), 1.0, 0.0);
    system.known = false;
    assert_near(roll_height_m(&system), 0.0, 0.0);
}

static void ripples_count_as_the_shortest_waves_or_not_at_all(void **state) {
    (void)state;
    struct wave_system system = {true, 0.1, 1.5, 0.0};
    assert_near(roll_period_s(&system), ROLL_SHORTEST_S, 0.0);
    assert_near(roll_height_m(&system), 0.1, 0.0);
    system.period_s = 0.9 * ROLL_NO_WAVE_S;
    assert_near(roll_height_m(&system), 0.0, 0.0);
}

/* --- the Code's range --------------------------------------------------------
 */

/* Its 24 m from memory; B/d < 3.5 and T < 20 s as it prints them. */
static void yachts_are_outside_the_stability_code(void **state) {
    (void)state;
    assert_true(roll_period_in_code(6.0, 2.5, 25.0, 6.0));
    assert_false(roll_period_in_code(3.9, 1.9, 11.0, 3.8));
    assert_false(roll_period_in_code(9.0, 2.5, 25.0, 6.0));
    assert_false(roll_period_in_code(6.0, 2.5, 25.0, 21.0));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_flat_sea_and_no_wind_do_not_roll_her),
        cmocka_unit_test(running_takes_her_away_from_resonance),
        cmocka_unit_test(systems_add_in_squares),
        cmocka_unit_test(waves_of_no_height_or_period_do_nothing),
        cmocka_unit_test(every_course_feels_some_of_the_sea),
        cmocka_unit_test(roll_rises_with_wave_height),
        cmocka_unit_test(no_sea_makes_a_senseless_figure),
        cmocka_unit_test(without_wind_the_hull_damps_alone),
        cmocka_unit_test(sails_damp_on_a_reach_and_feed_on_a_run),
        cmocka_unit_test(damping_falls_smoothly_towards_the_run),
        cmocka_unit_test(damping_never_falls_below_its_floor),
        cmocka_unit_test(sails_drive_on_a_run_alone),
        cmocka_unit_test(a_sea_is_no_higher_than_it_can_stand),
        cmocka_unit_test(ripples_count_as_the_shortest_waves_or_not_at_all),
        cmocka_unit_test(yachts_are_outside_the_stability_code),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
