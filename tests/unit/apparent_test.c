/* True to apparent wind; published triangles stand in
 * tests/published/wind_triangle_test.c. */
#include "../support/check.h"

#include "boat/apparent.h"
#include "earth/angle.h"
#include <math.h>

static void a_boat_at_rest_feels_the_true_wind(void **state) {
    (void)state;
    for (double twa_deg = -179.0; twa_deg <= 180.0; twa_deg += 1.0) {
        struct apparent felt = apparent_wind(twa_deg, 8.0, 0.0);
        assert_near(felt.awa_deg, twa_deg, 1e-9);
        assert_near(felt.aws_mps, 8.0, 1e-12);
    }
}

static void wind_from_ahead_adds_and_from_astern_takes_off(void **state) {
    (void)state;
    assert_near(apparent_wind(0.0, 8.0, 3.0).aws_mps, 11.0, 1e-12);
    assert_near(apparent_wind(180.0, 8.0, 3.0).aws_mps, 5.0, 1e-12);
    assert_near(apparent_wind(180.0, 8.0, 3.0).awa_deg, 180.0, 0.0);
}

/* Under engine in a light wind from astern. */
static void a_boat_faster_than_the_wind_feels_it_ahead(void **state) {
    (void)state;
    struct apparent felt = apparent_wind(180.0, 2.0, 3.0);
    assert_near(felt.awa_deg, 0.0, 0.0);
    assert_near(felt.aws_mps, 1.0, 1e-12);
}

static void no_wind_and_no_way_is_no_apparent_wind(void **state) {
    (void)state;
    struct apparent felt = apparent_wind(60.0, 0.0, 0.0);
    assert_near(felt.aws_mps, 0.0, 0.0);
    assert_near(felt.awa_deg, 0.0, 0.0);
    assert_near(apparent_wind(120.0, 0.0, 4.0).awa_deg, 0.0, 1e-12);
}

static void both_sides_are_mirror_images(void **state) {
    (void)state;
    for (double twa_deg = 1.0; twa_deg < 180.0; twa_deg += 7.0) {
        struct apparent right = apparent_wind(twa_deg, 9.0, 3.5);
        struct apparent left = apparent_wind(-twa_deg, 9.0, 3.5);
        assert_near(left.awa_deg, -right.awa_deg, 0.0);
        assert_near(left.aws_mps, right.aws_mps, 0.0);
        assert_true(right.awa_deg > 0.0 && right.awa_deg < twa_deg);
    }
}

/* The triangle closes: boat's own wind plus true wind. */
static void the_triangle_closes(void **state) {
    (void)state;
    struct seed seed = {6};
    for (int i = 0; i < 1000; i++) {
        double twa_deg = seed_between(&seed, -180.0, 180.0);
        double tws_mps = seed_between(&seed, 0.0, 30.0);
        double boat_mps = seed_between(&seed, 0.0, 8.0);
        struct apparent felt = apparent_wind(twa_deg, tws_mps, boat_mps);
        double awa_rad = felt.awa_deg * RADIANS_PER_DEGREE;
        double ahead_mps = felt.aws_mps * cos(awa_rad) - boat_mps;
        assert_near(hypot(ahead_mps, felt.aws_mps * sin(awa_rad)), tws_mps,
                    1e-9);
        assert_true(felt.awa_deg > -180.0 && felt.awa_deg <= 180.0);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_boat_at_rest_feels_the_true_wind),
        cmocka_unit_test(wind_from_ahead_adds_and_from_astern_takes_off),
        cmocka_unit_test(a_boat_faster_than_the_wind_feels_it_ahead),
        cmocka_unit_test(no_wind_and_no_way_is_no_apparent_wind),
        cmocka_unit_test(both_sides_are_mirror_images),
        cmocka_unit_test(the_triangle_closes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
