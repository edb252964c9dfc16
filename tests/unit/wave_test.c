/* Wave systems: their sum, and the deep-water relations. Published worked
 * values stand in tests/published/waves_test.c. */
#include "../support/check.h"

#include "sea/wave.h"
#include <math.h>

static void heights_add_in_squares(void **state) {
    (void)state;
    struct sea sea = {.system = {{true, 3.0, 6.0, 10.0},
                                 {true, 4.0, 12.0, 250.0},
                                 {false, 99.0, 99.0, 99.0}}};
    sea_complete(&sea);
    assert_true(sea.height_known);
    assert_near(sea.height_m, 5.0, 1e-12);
}

static void period_and_direction_are_those_of_the_highest(void **state) {
    (void)state;
    struct sea sea = {.system = {{true, 1.0, 6.0, 10.0},
                                 {true, 2.0, 12.0, 250.0},
                                 {true, 1.5, 15.0, 300.0}}};
    sea_complete(&sea);
    assert_near(sea.period_s, 12.0, 0.0);
    assert_near(sea.from_deg, 250.0, 0.0);
}

static void a_height_from_the_file_is_kept(void **state) {
    (void)state;
    struct sea sea = {.system = {{true, 1.0, 6.0, 10.0}},
                      .height_known = true,
                      .height_m = 2.5};
    sea_complete(&sea);
    assert_near(sea.height_m, 2.5, 0.0);
    assert_near(sea.period_s, 6.0, 0.0);
}

static void no_system_leaves_the_height_unknown(void **state) {
    (void)state;
    struct sea sea = {.height_known = false};
    sea_complete(&sea);
    assert_false(sea.height_known);
    assert_near(sea.height_m, 0.0, 0.0);
}

static void a_height_alone_stays_without_a_system(void **state) {
    (void)state;
    struct sea sea = {.height_known = true, .height_m = 1.7};
    sea_complete(&sea);
    assert_true(sea.height_known);
    assert_near(sea.height_m, 1.7, 0.0);
}

static void a_flat_sea_has_no_steepness(void **state) {
    (void)state;
    assert_near(wave_steepness(0.0, 0.0), 0.0, 0.0);
    assert_near(wave_steepness(0.0, 8.0), 0.0, 0.0);
}

static void steepness_is_pi_height_over_length(void **state) {
    (void)state;
    assert_near(wave_steepness(2.0, 8.0),
                3.14159265358979 * 2.0 / wave_length_m(8.0), 1e-12);
}

static void encounter_is_the_waves_own_frequency_abeam(void **state) {
    (void)state;
    double w = 2.0 * 3.14159265358979323846 / 8.0;
    assert_near(wave_encounter_rad_s(8.0, 4.0, 90.0), w, 1e-12);
    assert_near(wave_encounter_rad_s(8.0, 0.0, 33.0), w, 1e-12);
}

static void encounter_is_slower_astern_and_quicker_ahead(void **state) {
    (void)state;
    double abeam = wave_encounter_rad_s(8.0, 4.0, 90.0);
    assert_true(wave_encounter_rad_s(8.0, 4.0, 0.0) < abeam);
    assert_true(wave_encounter_rad_s(8.0, 4.0, 180.0) > abeam);
}

/* A boat at the speed of the crests meets none; a faster one overtakes them
 * and the frequency is positive again. */
static void encounter_is_never_negative(void **state) {
    (void)state;
    double crest_mps = GRAVITY_MPS2 * 4.0 / (2.0 * 3.14159265358979323846);
    assert_near(wave_encounter_rad_s(4.0, crest_mps, 0.0), 0.0, 1e-12);
    assert_true(wave_encounter_rad_s(4.0, 2.0 * crest_mps, 0.0) > 0.0);
    assert_near(wave_encounter_rad_s(0.0, 3.0, 0.0), 0.0, 0.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(heights_add_in_squares),
        cmocka_unit_test(period_and_direction_are_those_of_the_highest),
        cmocka_unit_test(a_height_from_the_file_is_kept),
        cmocka_unit_test(no_system_leaves_the_height_unknown),
        cmocka_unit_test(a_height_alone_stays_without_a_system),
        cmocka_unit_test(a_flat_sea_has_no_steepness),
        cmocka_unit_test(steepness_is_pi_height_over_length),
        cmocka_unit_test(encounter_is_the_waves_own_frequency_abeam),
        cmocka_unit_test(encounter_is_slower_astern_and_quicker_ahead),
        cmocka_unit_test(encounter_is_never_negative),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
