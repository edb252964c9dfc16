/* Roll: what it must do on every course, and the order of the courses before
 * the wind that every crew knows (common practice, no source). */
#include "../support/check.h"

#include "base/units.h"
#include "boat/apparent.h"
#include "boat/boat.h"
#include "earth/angle.h"
#include "sea/growth.h"
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

/* --- one oscillator ----------------------------------------------------------
 */

static void a_flat_sea_and_no_wind_do_not_roll_her(void **state) {
    (void)state;
    struct sea none = {.height_known = false};
    struct roll_course course = {.heading_deg = 120.0};
    assert_near(roll_on(&hull, &none, course), 0.0, 0.0);
}

/* Waves far longer than the period: she lies along the slope. RMS slope of a
 * sea is k Hs / 4; long-crested swell abeam leaves (1 + 0.857) / 2 of its
 * square abeam. */
static void in_long_waves_she_follows_the_slope(void **state) {
    (void)state;
    struct sea sea = {.system[1] = {true, 4.0, 25.0, 90.0}};
    struct roll_course drifting = {.heading_deg = 0.0, .twa_deg = 90.0};
    double w = 2.0 * PI / 25.0;
    double slope_deg = w * w / GRAVITY_MPS2 * 1.0 / RADIANS_PER_DEGREE;
    double abeam = sqrt(0.5 * (1.0 + 0.857));
    assert_near(roll_on(&hull, &sea, drifting), slope_deg * abeam,
                0.05 * slope_deg);
}

/* At resonance the slope is amplified 1 / (2 damping) times (textbook): a
 * boat without sails, waves of her own period abeam. */
static void at_resonance_damping_alone_holds_her(void **state) {
    (void)state;
    struct roller stiff = hull;
    struct sea sea = sea_from(90.0, 0.05, hull.period_s);
    struct roll_course drifting = {.heading_deg = 0.0, .twa_deg = 90.0};
    double once_deg = roll_on(&stiff, &sea, drifting);
    stiff.damping = 2.0 * hull.damping;
    assert_near(roll_on(&stiff, &sea, drifting), once_deg / 2.0,
                1e-3 * once_deg);
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

static void both_halves_give_what_the_whole_gives(void **state) {
    (void)state;
    struct seed seed = {11};
    for (int i = 0; i < 500; i++) {
        struct sea sea = sea_from(seed_between(&seed, 0, 360), 2.0, 7.0);
        sea.system[2] = (struct wave_system){true, 1.5, 12.0, 200.0};
        struct roll_course course = {.heading_deg = seed_between(&seed, 0, 360),
                                     .speed_mps = seed_between(&seed, 0, 5),
                                     .twa_deg = seed_between(&seed, -180, 180),
                                     .aws_mps = seed_between(&seed, 0, 20)};
        struct roll_sea waves = roll_sea_of(&hull, &sea);
        assert_near(roll_rms_in_sea_deg(&hull, &waves, &course),
                    roll_rms_deg(&hull, &sea, &course), 0.0);
    }
}

/* The mirror image of boat, sea and wind. */
static void port_and_starboard_roll_alike(void **state) {
    (void)state;
    struct seed seed = {7};
    for (int i = 0; i < 1000; i++) {
        double heading_deg = seed_between(&seed, 0.0, 360.0);
        struct sea right = sea_from(seed_between(&seed, 0, 360), 2.0,
                                    seed_between(&seed, 2, 14));
        struct sea left = sea_from(360.0 - right.system[0].from_deg, 2.0,
                                   right.system[0].period_s);
        struct roll_course course = {.heading_deg = heading_deg,
                                     .speed_mps = seed_between(&seed, 0, 5),
                                     .twa_deg = seed_between(&seed, -180, 180),
                                     .aws_mps = seed_between(&seed, 0, 20),
                                     .spar_drawing = i % 2 == 0};
        struct roll_course mirrored = course;
        mirrored.heading_deg = 360.0 - heading_deg;
        mirrored.twa_deg = -course.twa_deg;
        assert_near(roll_on(&hull, &left, mirrored),
                    roll_on(&hull, &right, course), 1e-9);
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
    assert_near(damping_at(60.0, full, false), 0.20, 1e-12);
    assert_near(damping_at(-120.0, full, false), 0.20, 1e-12);
    assert_near(damping_at(180.0, full, false), 0.04, 1e-12);
    assert_near(damping_at(180.0, full, true), 0.09, 1e-12);
    assert_near(damping_at(90.0, 0.5 * full, false), 0.14, 1e-12);
    assert_near(damping_at(90.0, 3.0 * full, false), 0.20, 1e-12);
}

static void damping_falls_smoothly_towards_the_run(void **state) {
    (void)state;
    for (double twa_deg = 100.0; twa_deg < 180.0; twa_deg += 0.5) {
        double step =
            damping_at(twa_deg, 10, false) - damping_at(twa_deg + 0.5, 10, 0);
        assert_true(step >= 0.0 && step < 0.004);
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

/* --- before the wind: a growth-law sea from the wind's own direction
 * ------------ */

static double before_wind(const struct boat *boat, double tws_kn,
                          double twa_deg, bool spar_drawing) {
    double tws_mps = kn_to_mps(tws_kn);
    double speed_mps = polar_speed(
        spar_drawing ? &boat->spar_out : &boat->stowed, twa_deg, tws_mps);
    struct sea sea = {.system[0] =
                          growth_wind_sea(tws_mps, twa_deg, GROWTH_OPEN_WATER_M,
                                          hours_to_s(GROWTH_ASSUMED_HOURS))};
    struct roll_course course = {
        .heading_deg = 0.0,
        .speed_mps = speed_mps,
        .twa_deg = twa_deg,
        .aws_mps = apparent_wind(twa_deg, tws_mps, speed_mps).aws_mps,
        .spar_drawing = spar_drawing};
    return roll_on(&boat->roller, &sea, course);
}

static void load(struct boat *boat, const char *path, struct arena *arena) {
    struct error error = {.text = ""};
    if (!boat_load(boat, path, arena, &error))
        print_error("%s\n", error.text);
    assert_string_equal(error.text, "");
}

static void check_running_rolls_most(const char *path) {
    struct arena arena;
    arena_init(&arena);
    struct boat boat;
    load(&boat, path, &arena);
    for (double tws_kn = 8.0; tws_kn <= 22.0; tws_kn += 0.5) {
        double stowed_deg = before_wind(&boat, tws_kn, 180.0, false);
        assert_true(stowed_deg > before_wind(&boat, tws_kn, 180.0, true));
        assert_true(stowed_deg > before_wind(&boat, tws_kn, 140.0, true));
    }
    arena_free(&arena);
}

static void stowed_dead_downwind_rolls_most(void **state) {
    (void)state;
    check_running_rolls_most("polars/wanderer-12.ini");
    check_running_rolls_most("polars/heron-9.ini");
}

/* What the sails' coefficients are tuned to (common practice, no source). */
static void a_dead_run_in_twenty_knots_rolls_as_crews_tell(void **state) {
    (void)state;
    struct arena arena;
    arena_init(&arena);
    struct boat boat;
    load(&boat, "polars/wanderer-12.ini", &arena);
    assert_near(before_wind(&boat, 20.0, 180.0, false), 5.5, 0.5);
    assert_near(before_wind(&boat, 20.0, 180.0, true), 3.5, 0.5);
    arena_free(&arena);
}

/* With the spar out, a little off the dead run rolls less, for the reach's
 * damping comes back sooner than the sea comes abeam. */
static void heading_up_from_the_dead_run_eases_the_roll(void **state) {
    (void)state;
    struct arena arena;
    arena_init(&arena);
    struct boat boat;
    load(&boat, "polars/wanderer-12.ini", &arena);
    for (double tws_kn = 10.0; tws_kn <= 22.0; tws_kn += 2.0) {
        assert_true(before_wind(&boat, tws_kn, 160.0, false) <
                    before_wind(&boat, tws_kn, 180.0, false));
        assert_true(before_wind(&boat, tws_kn, 160.0, true) <
                    before_wind(&boat, tws_kn, 180.0, true));
    }
    arena_free(&arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_flat_sea_and_no_wind_do_not_roll_her),
        cmocka_unit_test(in_long_waves_she_follows_the_slope),
        cmocka_unit_test(at_resonance_damping_alone_holds_her),
        cmocka_unit_test(running_takes_her_away_from_resonance),
        cmocka_unit_test(systems_add_in_squares),
        cmocka_unit_test(waves_of_no_height_or_period_do_nothing),
        cmocka_unit_test(every_course_feels_some_of_the_sea),
        cmocka_unit_test(roll_rises_with_wave_height),
        cmocka_unit_test(both_halves_give_what_the_whole_gives),
        cmocka_unit_test(port_and_starboard_roll_alike),
        cmocka_unit_test(no_sea_makes_a_senseless_figure),
        cmocka_unit_test(without_wind_the_hull_damps_alone),
        cmocka_unit_test(sails_damp_on_a_reach_and_feed_on_a_run),
        cmocka_unit_test(damping_falls_smoothly_towards_the_run),
        cmocka_unit_test(damping_never_falls_below_its_floor),
        cmocka_unit_test(stowed_dead_downwind_rolls_most),
        cmocka_unit_test(a_dead_run_in_twenty_knots_rolls_as_crews_tell),
        cmocka_unit_test(heading_up_from_the_dead_run_eases_the_roll),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
