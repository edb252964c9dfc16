/* What the spar carries and what a sail asks of it, on boats whose triangles
 * of the wind can be worked out by hand. */
#include "../support/analytic.h"
#include "../support/check.h"

#include "base/units.h"
#include "boat/strength.h"
#include "boat/tube.h"
#include "earth/angle.h"
#include <math.h>

static double four_mps(double twa_deg) {
    (void)twa_deg;
    return 4.0;
}

/* 4 m/s whatever the wind; wing-and-wing dead before it alone, poled reach from
 * AWA 105, wind to 10 m/s, gusts to 14. */
static struct boat *made(void) {
    struct boat *boat = analytic_free_boat(four_mps);
    struct spar *spar = &boat->spar;
    *spar = (struct spar){.length_m = {3.0, 6.0},
                          .wing_awa_deg = {179.9, 180.0},
                          .reach_awa_deg = {105.0, 145.0},
                          .wing_max_wind_mps = 10.0,
                          .wing_max_gust_mps = 14.0,
                          .reach_max_wind_mps = 10.0,
                          .reach_max_gust_mps = 14.0};
    boat->factor = 1.0;
    return boat;
}

static const struct headsail genoa = {
    .name = "genoa", .foot_m = 5.0, .area_m2 = {true, 40.0}};

/* --- what it carries
 * ------------------------------------------------------------- */

static void the_ground_of_the_safe_load_is_told(void **state) {
    (void)state;
    const struct figure none = figure_unknown();
    const struct figure some = figure_of(90.0), wall = figure_of(2.0);
    const struct {
        struct spar spar;
        enum strength_basis basis;
    } rows[] = {
        {{.max_compression_n = some}, STRENGTH_MAKER},
        /* the maker's word goes before the tube */
        {{.max_compression_n = some,
          .tube_diameter_mm = some,
          .wall_mm = wall,
          .material = "aluminium"},
         STRENGTH_MAKER},
        {{.tube_diameter_mm = some, .wall_mm = wall, .material = "aluminium"},
         STRENGTH_TUBE},
        {{.material = NULL}, STRENGTH_NOT_GIVEN},
        {{.material = ""}, STRENGTH_NOT_GIVEN},
        {{.material = "aluminium"}, STRENGTH_INCOMPLETE},
        {{.tube_diameter_mm = some, .material = "aluminium"},
         STRENGTH_INCOMPLETE},
        {{.wall_mm = wall, .material = "aluminium"}, STRENGTH_INCOMPLETE},
        {{.tube_diameter_mm = some, .wall_mm = wall}, STRENGTH_INCOMPLETE},
        {{.tube_diameter_mm = some, .wall_mm = wall, .material = "carbon"},
         STRENGTH_MATERIAL},
        {{.tube_diameter_mm = none, .material = "wood"}, STRENGTH_MATERIAL},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        assert_int_equal(strength_basis(&rows[i].spar), rows[i].basis);
        assert_int_equal(strength_safe_n(&rows[i].spar, 5.0).known,
                         rows[i].basis == STRENGTH_MAKER ||
                             rows[i].basis == STRENGTH_TUBE);
    }
}

static void a_maker_s_limit_holds_as_it_is_given(void **state) {
    (void)state;
    struct spar spar = {.max_compression_n = figure_of(8000.0)};
    assert_near(strength_safe_n(&spar, 3.0).value, 8000.0, 0.0);
    assert_near(strength_safe_n(&spar, 6.0).value, 8000.0, 0.0);
}

/* 12524 N breaks 80 x 2 mm at 4.5 m (tests/published/column_test.c); a third of
 * it is safe. */
static void a_third_of_what_breaks_the_tube_is_safe(void **state) {
    (void)state;
    struct spar spar = {.tube_diameter_mm = figure_of(80.0),
                        .wall_mm = figure_of(2.0),
                        .material = "aluminium"};
    assert_near(strength_safe_n(&spar, 4.5).value, 12524.0 / 3.0, 0.5);
    assert_true(strength_safe_n(&spar, 3.0).value >
                strength_safe_n(&spar, 4.5).value);
}

/* --- what is asked of it
 * --------------------------------------------------------- */

/* 10 m/s: 61.25 Pa; 40 m2 x 1.4 or 1.6, and 10/9 of it. */
static void the_load_is_worked_out_by_hand(void **state) {
    (void)state;
    assert_near(strength_load_n(10.0, 40.0, true), 3811.11, 0.01);
    assert_near(strength_load_n(10.0, 40.0, false), 4355.56, 0.01);
    assert_near(strength_load_n(0.0, 40.0, false), 0.0, 0.0);
}

/* The share of the sail's force that goes along the spar, strip by strip: each
 * hangs between luff and leech as a parabola, its ends pulling with p c / 8 of
 * its depth; moments about the head give what the clew has to hold. */
static void the_model_of_the_load_adds_up(void **state) {
    (void)state;
    enum { STRIPS = 1000 };
    const double depth = 0.15;
    double force = 0.0, moment = 0.0;
    for (int i = 0; i < STRIPS; i++) {
        double height = (i + 0.5) / STRIPS, chord = 1.0 - height;
        force += chord;
        moment += chord / (8.0 * depth) * (1.0 - height);
    }
    assert_near(2.0 * moment / force, COMPRESSION_FRAC, 1e-5);
}

/* Dead before 10 m/s at 4: 6 are felt, and 10 of a gust of 14. */
static void dead_before_it_her_speed_is_taken_off(void **state) {
    (void)state;
    struct strength_limits limits = strength_limits(made(), &genoa, true);
    assert_true(limits.usable);
    assert_near(limits.wind_mps, 10.0, 0.0);
    assert_near(limits.gust_mps, 14.0, 0.0);
    assert_near(limits.wind_aws_mps, 6.0, 1e-9);
    assert_near(limits.gust_aws_mps, 10.0, 1e-9);
}

/* The triangle by the law of cosines at the range's forward end: 4 cos 105 +
 * sqrt(100 - (4 sin 105)^2) = 8.188 m/s; angles are tried by the degree, and
 * one of true wind is 0.07 m/s at most. */
static void the_forward_end_of_the_range_counts(void **state) {
    (void)state;
    double end_rad = 105.0 * RADIANS_PER_DEGREE;
    double felt_mps =
        4.0 * cos(end_rad) + sqrt(100.0 - pow(4.0 * sin(end_rad), 2.0));
    struct strength_limits limits = strength_limits(made(), &genoa, false);
    assert_near(felt_mps, 8.188, 5e-4);
    assert_true(limits.wind_aws_mps <= felt_mps);
    assert_near(limits.wind_aws_mps, felt_mps, 0.07);
}

static void a_sail_that_comes_off_sooner_pulls_less(void **state) {
    (void)state;
    struct headsail light = genoa;
    light.max_wind_mps = figure_of(7.0);
    struct strength_limits limits = strength_limits(made(), &light, true);
    assert_near(limits.wind_mps, 7.0, 0.0);
    assert_near(limits.gust_mps, 9.8, 1e-12);
    assert_near(limits.gust_aws_mps, 5.8, 1e-9);
    light.max_wind_mps = figure_of(30.0);
    limits = strength_limits(made(), &light, true);
    assert_near(limits.wind_mps, 10.0, 0.0);
    assert_near(limits.gust_mps, 14.0, 0.0);
}

static void a_mode_that_no_angle_serves_is_of_no_use(void **state) {
    (void)state;
    struct boat *boat = made();
    boat->spar.reach_awa_deg[0] = 60.0;
    boat->spar.reach_awa_deg[1] = 61.0;
    boat->spar.angle_margin_deg = 1.0; /* nothing left */
    struct strength_limits limits = strength_limits(boat, &genoa, false);
    assert_false(limits.usable);
    assert_near(limits.gust_aws_mps, 0.0, 0.0);
}

/* --- where the margin ends
 * -------------------------------------------------------- */

/* Safe to the load of 10 m/s felt: a gust of 14 on her 4. */
static void the_margin_ends_in_a_gust(void **state) {
    (void)state;
    struct boat *boat = made();
    struct strength_limits limits = strength_limits(boat, &genoa, true);
    struct strength_end end = strength_end(boat, &genoa, true, &limits,
                                           strength_load_n(10.0, 40.0, true));
    assert_false(end.steady);
    assert_near(end.wind_mps, 14.0, 1e-9);
    assert_near(end.aws_mps, 10.0, 1e-9);
}

/* Safe to 5 m/s felt: a steady 9. */
static void the_margin_ends_in_a_steady_wind_before_its_limit(void **state) {
    (void)state;
    struct boat *boat = made();
    struct strength_limits limits = strength_limits(boat, &genoa, true);
    struct strength_end end = strength_end(boat, &genoa, true, &limits,
                                           strength_load_n(5.0, 40.0, true));
    assert_true(end.steady);
    assert_true(end.wind_mps <= 9.0 + 1e-9);
    assert_near(end.wind_mps, 9.0, 0.051);
    assert_near(end.aws_mps, 5.0, 1e-9);
}

/* A boat that reaches at 4 m/s feels 3.9 of them by herself at AWA 105: a spar
 * for less is never safe. */
static void too_weak_for_her_own_way_it_is_never_safe(void **state) {
    (void)state;
    struct boat *boat = made();
    struct strength_limits limits = strength_limits(boat, &genoa, false);
    struct strength_end end = strength_end(boat, &genoa, false, &limits,
                                           strength_load_n(0.1, 40.0, false));
    assert_true(end.steady);
    assert_true(end.wind_mps < 4.2);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_ground_of_the_safe_load_is_told),
        cmocka_unit_test(a_maker_s_limit_holds_as_it_is_given),
        cmocka_unit_test(a_third_of_what_breaks_the_tube_is_safe),
        cmocka_unit_test(the_load_is_worked_out_by_hand),
        cmocka_unit_test(the_model_of_the_load_adds_up),
        cmocka_unit_test(dead_before_it_her_speed_is_taken_off),
        cmocka_unit_test(the_forward_end_of_the_range_counts),
        cmocka_unit_test(a_sail_that_comes_off_sooner_pulls_less),
        cmocka_unit_test(a_mode_that_no_angle_serves_is_of_no_use),
        cmocka_unit_test(the_margin_ends_in_a_gust),
        cmocka_unit_test(the_margin_ends_in_a_steady_wind_before_its_limit),
        cmocka_unit_test(too_weak_for_her_own_way_it_is_never_safe),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
