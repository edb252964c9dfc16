/* Tubes in compression, and the pressure of wind, against figures whose inputs
 * are published; the results are calculated from Euler's formula, since no
 * source prints them to so many digits. */
#include "../support/check.h"

#include "base/units.h"
#include "boat/strength.h"
#include "boat/tube.h"

#define M_PER_INCH 0.0254
#define PA_PER_KSI 6.894757e6 /* NIST SP 811 */
#define N_PER_KIP 4448.222    /* NIST SP 811 */

static double euler_n(double modulus_pa, struct tube tube, double length_m) {
    return euler_load_n(modulus_pa, tube_inertia_m4(tube), length_m);
}

/* Inputs: tutorsglobe.com, question 5844749, a steel tube of 44.5 x 2.5 mm, E
 * 200 GPa, 2.7 m long; the 1.5 m row is ours. */
static void a_steel_tube_of_two_lengths(void **state) {
    (void)state;
    struct tube tube = {44.5e-3, 2.5e-3};
    assert_near(tube_inertia_m4(tube), 7.2993e-8, 5e-13);
    assert_near(euler_n(200e9, tube, 2.7), 19764.5, 0.05);
    assert_near(euler_n(200e9, tube, 1.5), 64037.0, 0.05);
}

/* Inputs: tutorbin.com, an aluminium tube of 2.5 in outside and a wall of 0.29
 * in, 10 ft long, E 9500 ksi. */
static void an_aluminium_tube_in_inches(void **state) {
    (void)state;
    struct tube tube = {2.5 * M_PER_INCH, 0.29 * M_PER_INCH};
    double length_m = 120.0 * M_PER_INCH;
    double radius2_m2 = tube_inertia_m4(tube) / tube_area_m2(tube);
    assert_near(length_m * length_m / radius2_m2, 152.27 * 152.27, 1.6);
    assert_near(euler_n(9500 * PA_PER_KSI, tube, length_m) / N_PER_KIP, 8.1416,
                5e-5);
}

/* A pole of 80 x 2 mm in 6061-T6, 4.5 m long: calculated; E 68.9 GPa and yield
 * 276 MPa from MMPDS as quoted in data sheets. So slender a tube breaks as
 * Euler has it. */
static void a_pole_of_6061_t6(void **state) {
    (void)state;
    struct tube tube = {80e-3, 2e-3};
    const struct material *aluminium = material_named("6061-T6");
    assert_near(aluminium->modulus_pa, 68.9e9, 0.0);
    assert_near(aluminium->yield_pa, 276e6, 0.0);
    assert_near(tube_inertia_m4(tube), 3.72957e-7, 5e-13);
    assert_near(tube_load_n(tube, aluminium, 4.5), 12524.0, 0.5);
}

/* 0.5 rho v^2 with rho 1.225 kg/m3 (standard atmosphere) at 20 kn. */
static void the_pressure_of_twenty_knots(void **state) {
    (void)state;
    assert_near(wind_pressure_pa(kn_to_mps(20.0)), 64.840, 5e-4);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_steel_tube_of_two_lengths),
        cmocka_unit_test(an_aluminium_tube_in_inches),
        cmocka_unit_test(a_pole_of_6061_t6),
        cmocka_unit_test(the_pressure_of_twenty_knots),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
