/* Guidance for ships in a yacht's scale: each rule just below and just above
 * its thresholds. */
#include "../support/check.h"

#include "base/units.h"
#include "earth/angle.h"
#include "sea/guidance.h"
#include <math.h>

/* Heads north at 7 kn. */
static const struct guidance_boat boat = {.length_m = 10.0,
                                          .roll_period_s = 3.5,
                                          .heading_deg = 0.0,
                                          .speed_mps = 3.6};

static double period_of_length_s(double length_m) {
    return sqrt(2.0 * PI * length_m / GRAVITY_MPS2);
}

/* Waves that long and, for that, that high. */
static struct wave_system waves(double length_m, double height_per_length,
                                double from_deg) {
    return (struct wave_system){.known = true,
                                .height_m = height_per_length * length_m,
                                .period_s = period_of_length_s(length_m),
                                .from_deg = from_deg};
}

static bool surfs(struct guidance_boat how, struct wave_system system) {
    return guidance_applies(GUIDANCE_SURFING, &how, &system);
}

static void directions_are_seen_from_the_bow(void **state) {
    (void)state;
    assert_near(guidance_off_bow_deg(90.0, 90.0), 0.0, 1e-12);
    assert_near(guidance_off_bow_deg(350.0, 20.0), 30.0, 1e-12);
    assert_near(guidance_off_bow_deg(20.0, 350.0), -30.0, 1e-12);
    assert_near(guidance_off_bow_deg(0.0, 180.0), 180.0, 1e-12);
}

static void the_sector_is_a_quarter_of_the_horizon_astern(void **state) {
    (void)state;
    assert_true(isinf(guidance_surf_speed_mps(10.0, 0.0)));
    assert_true(isinf(guidance_surf_speed_mps(10.0, 135.0)));
    assert_true(isinf(guidance_surf_speed_mps(10.0, -135.0)));
    assert_true(isfinite(guidance_surf_speed_mps(10.0, 135.01)));
    assert_true(isfinite(guidance_surf_speed_mps(10.0, -135.01)));
}

static void surfing_takes_speed(void **state) {
    (void)state;
    struct guidance_boat slow = boat, fast = boat;
    double critical_mps = guidance_surf_speed_mps(10.0, 180.0);
    slow.speed_mps = critical_mps - 1e-6;
    fast.speed_mps = critical_mps + 1e-6;
    assert_false(surfs(slow, waves(20.0, 0.05, 180.0)));
    assert_true(surfs(fast, waves(20.0, 0.05, 180.0)));
}

static void surfing_takes_seas_from_astern(void **state) {
    (void)state;
    struct guidance_boat fast = boat;
    fast.speed_mps = kn_to_mps(9.0); /* 8.05 kn at the edge of the sector */
    for (double off_deg = 0.0; off_deg <= 180.0; off_deg += 1.0) {
        bool expected = off_deg > 135.0;
        assert_int_equal(surfs(fast, waves(20.0, 0.05, off_deg)), expected);
        assert_int_equal(surfs(fast, waves(20.0, 0.05, -off_deg)), expected);
    }
}

static void surfing_takes_waves_of_the_boats_scale(void **state) {
    (void)state;
    assert_false(surfs(boat, waves(7.99, 0.06, 180.0)));
    assert_true(surfs(boat, waves(8.01, 0.06, 180.0)));
    assert_true(surfs(boat, waves(24.99, 0.06, 180.0)));
    assert_false(surfs(boat, waves(25.01, 0.06, 180.0)));
}

static void surfing_takes_steep_waves(void **state) {
    (void)state;
    assert_false(surfs(boat, waves(20.0, 0.0399, 180.0)));
    assert_true(surfs(boat, waves(20.0, 0.0401, 180.0)));
}

/* 1.8 sqrt(L) alone: any yacht in a trade wind, on its long seas. */
static void a_run_in_long_seas_is_no_surfing(void **state) {
    (void)state;
    struct guidance_boat fast = boat;
    fast.speed_mps = kn_to_mps(8.0);
    assert_true(fast.speed_mps > guidance_surf_speed_mps(10.0, 180.0));
    struct wave_system trade_sea = {true, 2.5, 8.0, 180.0};
    assert_false(surfs(fast, trade_sea));
}

static void what_is_low_or_unknown_does_not_count(void **state) {
    (void)state;
    struct wave_system low = {true, 0.399, 3.0, 180.0};
    struct wave_system high = {true, 0.401, 3.0, 180.0};
    struct wave_system unknown = {false, 4.0, 5.0, 180.0};
    struct wave_system flat = {true, 0.0, 0.0, 180.0};
    assert_false(guidance_counts(10.0, &low));
    assert_true(guidance_counts(10.0, &high));
    assert_false(guidance_counts(10.0, &unknown));
    assert_false(guidance_counts(10.0, &flat));
    assert_near(guidance_height_per_length(&unknown), 0.0, 0.0);
    assert_near(guidance_height_per_length(&flat), 0.0, 0.0);
    assert_false(guidance_is_steep(10.0, &unknown));
    for (int kind = 0; kind < GUIDANCE_KINDS; kind++)
        assert_false(guidance_applies((enum guidance)kind, &boat, &unknown));
}

static void steep_is_higher_than_one_in_twenty(void **state) {
    (void)state;
    struct wave_system below = waves(40.0, 0.0499, 0.0);
    struct wave_system above = waves(40.0, 0.0501, 0.0);
    struct wave_system ripples = waves(6.0, 0.06, 0.0); /* 0.36 m */
    assert_near(guidance_height_per_length(&above), 0.0501, 1e-12);
    assert_false(guidance_is_steep(10.0, &below));
    assert_true(guidance_is_steep(10.0, &above));
    assert_false(guidance_is_steep(10.0, &ripples));
    assert_true(guidance_is_steep(8.0, &ripples));
}

/* Abeam waves meet her in their own period, whatever she does. */
static bool rolls(enum guidance kind, double period_s) {
    struct wave_system system = {true, 1.0, period_s, 90.0};
    assert_near(guidance_meets_s(&boat, &system), period_s, 1e-9);
    return guidance_applies(kind, &boat, &system);
}

static void near_her_roll_period_is_within_a_tenth(void **state) {
    (void)state;
    assert_false(rolls(GUIDANCE_ROLL_PERIOD, 3.14));
    assert_true(rolls(GUIDANCE_ROLL_PERIOD, 3.16));
    assert_true(rolls(GUIDANCE_ROLL_PERIOD, 3.84));
    assert_false(rolls(GUIDANCE_ROLL_PERIOD, 3.86));
}

static void near_half_of_it_likewise(void **state) {
    (void)state;
    assert_false(rolls(GUIDANCE_HALF_PERIOD, 1.57));
    assert_true(rolls(GUIDANCE_HALF_PERIOD, 1.58));
    assert_true(rolls(GUIDANCE_HALF_PERIOD, 1.92));
    assert_false(rolls(GUIDANCE_HALF_PERIOD, 1.93));
    assert_false(rolls(GUIDANCE_HALF_PERIOD, 3.5));
    assert_false(rolls(GUIDANCE_ROLL_PERIOD, 1.75));
}

/* It is the period in which they meet her that counts. */
static void head_seas_meet_her_sooner(void **state) {
    (void)state;
    struct wave_system ahead = {true, 1.0, 5.0, 0.0};
    struct wave_system astern = {true, 1.0, 5.0, 180.0};
    /* 5^2 g / (5 g +- 2 pi 3.6), worked by hand */
    assert_near(guidance_meets_s(&boat, &ahead), 3.4218, 5e-4);
    assert_near(guidance_meets_s(&boat, &astern), 9.2808, 5e-3);
    assert_true(guidance_applies(GUIDANCE_ROLL_PERIOD, &boat, &ahead));
    assert_false(guidance_applies(GUIDANCE_ROLL_PERIOD, &boat, &astern));
}

static void waves_that_she_keeps_up_with_never_meet_her(void **state) {
    (void)state;
    struct guidance_boat fast = boat;
    struct wave_system astern = {true, 0.5, 2.0, 180.0};
    fast.speed_mps = GRAVITY_MPS2 * 2.0 / (2.0 * PI);
    double meets_s = guidance_meets_s(&fast, &astern);
    assert_true(meets_s > 1e6);
    assert_false(guidance_applies(GUIDANCE_ROLL_PERIOD, &fast, &astern));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(directions_are_seen_from_the_bow),
        cmocka_unit_test(the_sector_is_a_quarter_of_the_horizon_astern),
        cmocka_unit_test(surfing_takes_speed),
        cmocka_unit_test(surfing_takes_seas_from_astern),
        cmocka_unit_test(surfing_takes_waves_of_the_boats_scale),
        cmocka_unit_test(surfing_takes_steep_waves),
        cmocka_unit_test(a_run_in_long_seas_is_no_surfing),
        cmocka_unit_test(what_is_low_or_unknown_does_not_count),
        cmocka_unit_test(steep_is_higher_than_one_in_twenty),
        cmocka_unit_test(near_her_roll_period_is_within_a_tenth),
        cmocka_unit_test(near_half_of_it_likewise),
        cmocka_unit_test(head_seas_meet_her_sooner),
        cmocka_unit_test(waves_that_she_keeps_up_with_never_meet_her),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
