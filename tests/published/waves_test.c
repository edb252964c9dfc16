/* Waves against published figures. */
#include "../support/check.h"

#include "base/units.h"
#include "sea/wave.h"
#include <math.h>

/* The worked values below are for g = 9.81; ours is the standard 9.80665. */
#define G_FRAC 3.5e-4

/* R. H. Stewart, Introduction to Physical Oceanography, 2008, ch. 16:
 * L = g T^2 / (2 pi), 1.56 T^2. Figures computed for g = 9.80665. */
static void deep_water_waves_are_as_long_as_their_period_says(void **state) {
    (void)state;
    assert_near(wave_length_m(1.0), 1.560777, 5e-7);
    assert_near(wave_length_m(8.0), 99.890, 5e-4);
    /* phase speed L / T: 12.486 m/s = 24.271 kn */
    assert_near(mps_to_kn(wave_length_m(8.0) / 8.0), 24.271, 5e-4);
}

/* Encounter period by T. I. Fossen's we = |w - w^2 U cos(b) / g| (MSS toolbox,
 * 2001), and by the rounded form of IMO MSC.1/Circ.1228, 11 Jan 2007,
 * TE = 3 TW^2 / (3 TW + V cos(alpha)), alpha 0 = head sea (the formula from
 * memory): its 3 stands for g / (2 pi) = 3.0349 kn/s. */
static void encounter_periods_agree_with_the_imo_form(void **state) {
    (void)state;
    static const struct {
        double period_s, speed_kn, alpha_deg, imo_s, exact_s;
    } rows[] = {{8, 6, 180, 10.6667, 10.6259},
                {8, 6, 135, 9.7179, 9.6939},
                {8, 6, 90, 8.0000, 8.0000},
                {8, 6, 0, 6.4000, 6.4148},
                {10, 10, 180, 15.0000, 14.9141}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        double encounter =
            wave_encounter_rad_s(rows[i].period_s, kn_to_mps(rows[i].speed_kn),
                                 180.0 - rows[i].alpha_deg);
        double period_s = 2.0 * 3.14159265358979323846 / encounter;
        assert_near(period_s, rows[i].exact_s, G_FRAC * rows[i].exact_s);
        assert_near(period_s, rows[i].imo_s, 0.006 * rows[i].imo_s);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(deep_water_waves_are_as_long_as_their_period_says),
        cmocka_unit_test(encounter_periods_agree_with_the_imo_form),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
