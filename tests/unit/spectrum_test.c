/* Spectra: what any of them must do. */
#include "../support/check.h"

#include "earth/angle.h"
#include "sea/spectrum.h"
#include <math.h>

static void its_height_and_peak_are_those_given(void **state) {
    (void)state;
    for (int kind = 0; kind < SPECTRUM_KINDS; kind++) {
        struct spectrum sea = spectrum_make(&spectrum_shapes[kind], 2.5, 8.0);
        assert_near(4.0 * sqrt(spectrum_moment(&sea, 0)), 2.5, 1e-9);
        double top = spectrum_density_m2s(&sea, sea.peak_rad_s);
        assert_near(sea.peak_rad_s, 2.0 * PI / 8.0, 1e-12);
        for (double x = 0.3; x < 5.0; x *= 1.02)
            assert_true(spectrum_density_m2s(&sea, x * sea.peak_rad_s) <= top);
    }
}

static void swell_is_narrower_both_ways(void **state) {
    (void)state;
    const struct spectrum_shape *wind = &spectrum_shapes[SPECTRUM_WIND_SEA];
    const struct spectrum_shape *swell = &spectrum_shapes[SPECTRUM_SWELL];
    struct spectrum a = spectrum_make(wind, 2.0, 8.0);
    struct spectrum b = spectrum_make(swell, 2.0, 8.0);
    assert_true(spectrum_density_m2s(&b, b.peak_rad_s) >
                1.2 * spectrum_density_m2s(&a, a.peak_rad_s));
    assert_true(spectrum_spread_cos2(swell) > spectrum_spread_cos2(wind));
}

/* Over all directions 1; cos(2 angle) has its mean n / (n + 2). */
static void the_spread_holds_all_of_it(void **state) {
    (void)state;
    for (int power = 0; power <= 20; power++) {
        struct spectrum_shape shape = spectrum_shapes[SPECTRUM_WIND_SEA];
        shape.spread_power = power;
        struct spectrum sea = spectrum_make(&shape, 1.0, 8.0);
        double all = 0.0, cos2 = 0.0, step = PI / 20000.0;
        for (int i = 0; i < 20000; i++) {
            double angle = (i + 0.5) * step - 0.5 * PI;
            double part = spectrum_spread_per_rad(&sea, cos(angle)) * step;
            all += part;
            cos2 += part * cos(2.0 * angle);
        }
        assert_near(all, 1.0, 1e-4);
        assert_near(cos2, spectrum_spread_cos2(&shape), 1e-4);
        assert_near(spectrum_spread_per_rad(&sea, -0.1), 0.0, 0.0);
    }
    struct spectrum_shape one = {.spread_power = SPECTRUM_LONG_CRESTED};
    assert_near(spectrum_spread_cos2(&one), 1.0, 0.0);
}

static void next_to_nothing_lies_below_its_lowest_frequency(void **state) {
    (void)state;
    for (int kind = 0; kind < SPECTRUM_KINDS; kind++) {
        struct spectrum sea = spectrum_make(&spectrum_shapes[kind], 2.5, 8.0);
        double top = spectrum_density_m2s(&sea, sea.peak_rad_s);
        assert_true(spectrum_density_m2s(
                        &sea, SPECTRUM_LOWEST * sea.peak_rad_s) < 1e-9 * top);
    }
}

static void a_narrower_peak_asks_for_finer_steps(void **state) {
    (void)state;
    struct spectrum_shape shape = spectrum_shapes[SPECTRUM_SWELL];
    double step = spectrum_step(&shape);
    shape.narrow_below = 0.01;
    assert_true(spectrum_step(&shape) < 0.2 * step);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(its_height_and_peak_are_those_given),
        cmocka_unit_test(swell_is_narrower_both_ways),
        cmocka_unit_test(the_spread_holds_all_of_it),
        cmocka_unit_test(next_to_nothing_lies_below_its_lowest_frequency),
        cmocka_unit_test(a_narrower_peak_asks_for_finer_steps),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
