/* The wind triangle against worked examples. They give the apparent wind and
 * ask for the true one; here the recomputed true wind is put in, and the
 * apparent wind of the example must come out. */
#include "../support/check.h"

#include "base/units.h"
#include "boat/apparent.h"

/* `true_from_deg`, `course_deg` over the water, `relative_deg` as the examples
 * say it: + on the starboard bow. Angles and speeds were recomputed from the
 * inputs to 0.001; the first example prints 315 and 20 kn. */
static void check_triangle(double course_deg, double boat_kn,
                           double true_from_deg, double true_kn,
                           double relative_deg, double relative_kn) {
    double twa_deg = true_from_deg - course_deg;
    if (twa_deg <= -180.0)
        twa_deg += 360.0;
    struct apparent felt =
        apparent_wind(twa_deg, kn_to_mps(true_kn), kn_to_mps(boat_kn));
    assert_angle_near(felt.awa_deg, relative_deg, 0.002);
    assert_near(mps_to_kn(felt.aws_mps), relative_kn, 0.002);
}

/* Worked in the radar plotting of NGA Pub. 1310 (Bowditch): ship 240 at 18 kn,
 * apparent wind 040 relative at 30 kn; true wind printed as from 315, 20 kn. */
static void pub_1310_radar_plotting_example(void **state) {
    (void)state;
    check_triangle(240, 18, 315.516, 19.917, 40, 30);
}

/* Questions of the USCG deck examination (seatrials.net); the answers are
 * worked here from the question's figures. */
static void deck_examination_questions(void **state) {
    (void)state;
    check_triangle(180, 22, 51.109, 24.146, -70, 20);
    check_triangle(270, 10, 255.075, 20.227, -10, 30);
}

/* A sailors' forum (forums.sailboatowners.com, thread 51090): boat 5 kn,
 * apparent 10 kn at 60: about 8 2/3 kn true, on the beam. */
static void a_beam_wind_felt_at_sixty(void **state) {
    (void)state;
    check_triangle(0, 5, 90, 8.660254, 60, 10);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pub_1310_radar_plotting_example),
        cmocka_unit_test(deck_examination_questions),
        cmocka_unit_test(a_beam_wind_felt_at_sixty),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
