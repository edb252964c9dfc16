/* MSC.1/Circ.1228, 11 January 2007: its critical speed, its encounter period,
 * its least height. The circular's formulas are images in the copies that were
 * read: 1.8 sqrt(L) and TE = 3 TW^2 / (3 TW + V cos(alpha)) are from memory;
 * the values were worked from them by hand. */
#include "../support/check.h"

#include "base/units.h"
#include "sea/guidance.h"

static void critical_speeds_are_those_of_the_circular(void **state) {
    (void)state;
    static const struct {
        double length_m, alpha_deg, speed_kn;
    } rows[] = {{10.0, 180.0, 5.692},
                {12.0, 180.0, 6.235},
                {15.0, 180.0, 6.971},
                {10.0, 135.0, 8.050}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        /* a hair inside the open end of the sector */
        double alpha_deg = rows[i].alpha_deg + 1e-9;
        assert_near(
            mps_to_kn(guidance_surf_speed_mps(rows[i].length_m, alpha_deg)),
            rows[i].speed_kn, 5e-4);
        assert_near(
            mps_to_kn(guidance_surf_speed_mps(rows[i].length_m, -alpha_deg)),
            rows[i].speed_kn, 5e-4);
    }
}

/* The exact values are for g = 9.81; ours is the standard 9.80665. */
#define G_FRAC 3.5e-4

/* The circular's 3 stands for g / (2 pi), 3.0349 kn/s: 0.6 % in these rows. */
static void waves_meet_the_boat_as_the_circular_says(void **state) {
    (void)state;
    static const struct {
        double period_s, speed_kn, alpha_deg, circular_s, exact_s;
    } rows[] = {{8, 6, 180, 10.6667, 10.6259},
                {8, 6, 135, 9.7179, 9.6939},
                {8, 6, 90, 8.0000, 8.0000},
                {8, 6, 0, 6.4000, 6.4148},
                {10, 10, 180, 15.0000, 14.9141}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct guidance_boat boat = {.length_m = 10.0,
                                     .roll_period_s = 3.0,
                                     .heading_deg = 40.0,
                                     .speed_mps = kn_to_mps(rows[i].speed_kn)};
        struct wave_system system = {true, 2.0, rows[i].period_s,
                                     40.0 + rows[i].alpha_deg};
        double meets_s = guidance_meets_s(&boat, &system);
        assert_near(meets_s, rows[i].exact_s, G_FRAC * rows[i].exact_s);
        assert_near(meets_s, rows[i].circular_s, 0.006 * rows[i].circular_s);
    }
}

/* 4.2.2: for a boat of 10 m 0.4 m of height and 8 m of length, which is why
 * that test is not used on a yacht. */
static void the_least_height_is_that_of_high_waves(void **state) {
    (void)state;
    assert_near(GUIDANCE_LEAST_HEIGHT * 10.0, 0.4, 1e-12);
    assert_near(GUIDANCE_SHORTEST * 10.0, 8.0, 1e-12);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(critical_speeds_are_those_of_the_circular),
        cmocka_unit_test(waves_meet_the_boat_as_the_circular_says),
        cmocka_unit_test(the_least_height_is_that_of_high_waves),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
