/* Beaufort's scale in its two units: what our knots are worth, and what sea
 * our growth law raises in each force. */
#include "../support/check.h"

#include "base/units.h"
#include "sea/growth.h"
#include <math.h>

/* Bands in knots and metres per second (WMO; delta-s.org/weer/beaufort.html,
 * meteothes.gr), and probable wave height at open sea (feet: usa51008.com;
 * metres from memory). */
static const struct band {
    int force;
    int low_kn, high_kn;
    double low_mps, high_mps;
    double wave_ft;
} bands[] = {
    {1, 1, 3, 0.3, 1.5, 0.25},    {2, 4, 6, 1.6, 3.3, 0.5},
    {3, 7, 10, 3.4, 5.4, 2},      {4, 11, 16, 5.5, 7.9, 4},
    {5, 17, 21, 8.0, 10.7, 6},    {6, 22, 27, 10.8, 13.8, 10},
    {7, 28, 33, 13.9, 17.1, 14},  {8, 34, 40, 17.2, 20.7, 18},
    {9, 41, 47, 20.8, 24.4, 23},  {10, 48, 55, 24.5, 28.4, 29},
    {11, 56, 63, 28.5, 32.6, 37},
};
enum { BANDS = sizeof bands / sizeof *bands };

/* The edges of the two scales differ by half a metre per second; the middles
 * of the bands agree as well as that. A speed not converted, or twice, would
 * not. */
static void bands_agree_in_both_units(void **state) {
    (void)state;
    for (int i = 0; i < BANDS; i++) {
        double middle_kn = (bands[i].low_kn + bands[i].high_kn) / 2.0;
        double middle_mps = (bands[i].low_mps + bands[i].high_mps) / 2.0;
        assert_near(kn_to_mps(middle_kn), middle_mps, 0.45);
        assert_near(mps_to_kn(middle_mps), middle_kn, 0.9);
    }
}

/* U10 = 0.836 B^1.5 m/s (the scale of 1946; Stewart, Introduction to Physical
 * Oceanography, 2008, ch. 4): inside its band in knots too. */
static void the_formula_of_1946_lies_inside_its_band(void **state) {
    (void)state;
    for (int i = 0; i < BANDS; i++) {
        double wind_kn = mps_to_kn(0.836 * pow(bands[i].force, 1.5));
        assert_true(wind_kn > bands[i].low_kn - 0.5);
        assert_true(wind_kn < bands[i].high_kn + 0.5);
    }
}

/* The scale's probable heights are for the open sea: the sea of the hours that
 * the program assumes is within a third of them from force 3 to 8. */
static void the_seas_of_the_scale_are_those_of_the_assumed_hours(void **state) {
    (void)state;
    for (int i = 2; i < 8; i++) {
        double wind_mps = 0.836 * pow(bands[i].force, 1.5);
        double wave_m = bands[i].wave_ft * 0.3048;
        double sea_m = growth_wind_sea(wind_mps, 0, GROWTH_OPEN_WATER_M,
                                       hours_to_s(GROWTH_ASSUMED_HOURS))
                           .height_m;
        assert_near(sea_m, wave_m, wave_m / 3.0);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bands_agree_in_both_units),
        cmocka_unit_test(the_formula_of_1946_lies_inside_its_band),
        cmocka_unit_test(the_seas_of_the_scale_are_those_of_the_assumed_hours),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
