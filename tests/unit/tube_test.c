/* Tubes as columns: what gives way first. */
#include "../support/check.h"

#include "boat/tube.h"
#include "earth/angle.h"
#include <math.h>

static const struct material soft = {"soft", 70e9, 100e6};

static void a_tube_with_no_hole_is_a_rod(void **state) {
    (void)state;
    struct tube rod = {0.04, 0.02};
    assert_near(tube_area_m2(rod), PI * 4e-4, 1e-12);
    assert_near(tube_inertia_m4(rod), PI * 0.25 * pow(0.02, 4.0), 1e-15);
}

static void twice_the_length_takes_a_quarter(void **state) {
    (void)state;
    assert_near(euler_load_n(70e9, 1e-7, 6.0),
                0.25 * euler_load_n(70e9, 1e-7, 3.0), 1e-9);
}

/* Squash load of 80 x 4 mm at 100 MPa: pi 0.076 0.004 100e6 = 95504 N, worked
 * out by hand. */
static void
the_shortest_spar_is_not_credited_with_more_than_yield(void **state) {
    (void)state;
    struct tube tube = {0.08, 0.004};
    double squash_n = PI * 0.076 * 0.004 * 100e6;
    assert_near(squash_n, 95504.0, 1.0);
    for (double length_m = 0.05; length_m < 2.0; length_m += 0.05)
        assert_true(tube_load_n(tube, &soft, length_m) < squash_n);
    assert_near(tube_load_n(tube, &soft, 0.01), squash_n, 1.0);
}

/* Where Euler's load is half of the squash load both formulas give it, and
 * both fall there as fast. */
static void euler_and_johnson_meet_smoothly(void **state) {
    (void)state;
    struct tube tube = {0.08, 0.004};
    double squash_n = 100e6 * tube_area_m2(tube);
    double meet_m =
        PI * sqrt(soft.modulus_pa * tube_inertia_m4(tube) / (0.5 * squash_n));
    double step_m = 1e-4;
    double before_n = tube_load_n(tube, &soft, meet_m - step_m);
    double there_n = tube_load_n(tube, &soft, meet_m);
    double after_n = tube_load_n(tube, &soft, meet_m + step_m);
    assert_near(there_n, 0.5 * squash_n, 1e-3);
    assert_near(before_n - there_n, there_n - after_n,
                1e-3 * (before_n - there_n));
    assert_true(before_n > there_n);
    /* Johnson's is the lower one of the two on the short side */
    assert_true(
        tube_load_n(tube, &soft, 0.8 * meet_m) <
        euler_load_n(soft.modulus_pa, tube_inertia_m4(tube), 0.8 * meet_m));
}

/* A fifth of 0.605 E t/r is below the yield of 276 MPa where r/t is over 30.2
 * (calculated). */
static void a_thin_wall_wrinkles_before_it_yields(void **state) {
    (void)state;
    const struct material *aluminium = material_named("aluminium");
    struct tube stout = {0.061, 0.001}, thin = {0.121, 0.001};
    assert_near(tube_stress_pa(stout, aluminium), 276e6, 1.0);
    assert_near(tube_stress_pa(thin, aluminium), 0.121 * 68.9e9 / 60.0, 1.0);
}

static void only_what_is_alike_everywhere_has_figures(void **state) {
    (void)state;
    static const char *const known[] = {"aluminium", "Aluminum", "6061-t6"};
    static const char *const unknown[] = {"carbon", "wood", "", "alum"};
    for (int i = 0; i < 3; i++)
        assert_non_null(material_named(known[i]));
    for (int i = 0; i < 4; i++)
        assert_null(material_named(unknown[i]));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_tube_with_no_hole_is_a_rod),
        cmocka_unit_test(twice_the_length_takes_a_quarter),
        cmocka_unit_test(
            the_shortest_spar_is_not_credited_with_more_than_yield),
        cmocka_unit_test(euler_and_johnson_meet_smoothly),
        cmocka_unit_test(a_thin_wall_wrinkles_before_it_yields),
        cmocka_unit_test(only_what_is_alike_everywhere_has_figures),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
