/* What the spar is worth: where it may be used, what it gains, from what
 * distance it pays, and how long it is set. */
#include "../support/check.h"
#include "../support/scratch.h"

#include "base/units.h"
#include "boat/gain.h"
#include <math.h>
#include <stdio.h>

/* The same speeds at every wind from 5 to 30 kn: 6 kn stowed on a reach, 3 on
 * the run; 6 with the spar out. */
static struct boat plain_boat(const char *more) {
    check_write("stowed.csv", "TWA,5,30\n40,6,6\n120,6,6\n180,3,3\n");
    check_write("spar.csv", "TWA,5,30\n90,5,5\n120,6,6\n180,6,6\n");
    char text[2048];
    snprintf(text, sizeof text,
             "[boat]\nname = Tern\nlength_waterline_m = 9\nbeam_m = 3.3\n"
             "draft_m = 1.6\ndisplacement_kg = 5000\n"
             "[polars]\nstowed = stowed.csv\nspar = spar.csv\n"
             "[spar]\nlength_m = 3.96 7.32\n%s",
             more);
    struct boat boat;
    struct error error = {.text = ""};
    if (!boat_load(&boat, check_write("boat.ini", text), &arena, &error))
        print_error("%s\n", error.text);
    assert_string_equal(error.text, "");
    return boat;
}

static struct boat shipped(const char *path) {
    struct boat boat;
    struct error error = {.text = ""};
    if (!boat_load(&boat, path, &arena, &error))
        print_error("%s\n", error.text);
    assert_string_equal(error.text, "");
    return boat;
}

/* --- where it may be used
 * --------------------------------------------------------- */

static void both_speeds_come_from_their_polars(void **state) {
    (void)state;
    struct boat boat = plain_boat("");
    struct gain gain = gain_at(&boat, 180.0, kn_to_mps(15));
    assert_near(mps_to_kn(gain.stowed_mps), 3.0, 1e-12);
    assert_near(mps_to_kn(gain.spar_mps), 6.0, 1e-12);
    assert_true(gain.usable_wing);
    assert_false(gain.usable_reach);
}

static void the_factor_counts_for_both(void **state) {
    (void)state;
    struct boat boat = plain_boat("[polars]\nfactor = 0.9\n");
    struct gain gain = gain_at(&boat, 180.0, kn_to_mps(15));
    assert_near(mps_to_kn(gain.stowed_mps), 2.7, 1e-12);
    assert_near(mps_to_kn(gain.spar_mps), 5.4, 1e-12);
}

/* 15 kn at TWA 130 with 6 kn of boat: AWA 107.4; at 150, AWA 132.5; at 165,
 * AWA 155.5 (arithmetic). At TWA 120, AWA is 96.6: too far forward. */
static void the_apparent_wind_decides(void **state) {
    (void)state;
    struct boat boat = plain_boat("");
    double tws_mps = kn_to_mps(15);
    assert_false(gain_at(&boat, 120.0, tws_mps).usable_reach);
    assert_true(gain_at(&boat, 130.0, tws_mps).usable_reach);
    assert_true(gain_at(&boat, 150.0, tws_mps).usable_reach);
    assert_false(gain_at(&boat, 150.0, tws_mps).usable_wing);
    assert_true(gain_at(&boat, 165.0, tws_mps).usable_wing);
    assert_true(gain_at(&boat, -165.0, tws_mps).usable_wing);
    assert_false(gain_at(&boat, 165.0, tws_mps).usable_reach);
}

static void too_much_wind_forbids_it(void **state) {
    (void)state;
    struct boat boat = plain_boat("");
    assert_true(gain_at(&boat, 180.0, kn_to_mps(21.9)).usable_wing);
    assert_false(gain_at(&boat, 180.0, kn_to_mps(22.1)).usable_wing);
    assert_true(gain_at(&boat, 140.0, kn_to_mps(19.9)).usable_reach);
    assert_false(gain_at(&boat, 140.0, kn_to_mps(20.1)).usable_reach);
}

static void where_the_polar_has_no_speed_it_is_of_no_use(void **state) {
    (void)state;
    struct boat boat = plain_boat("poled_reach_awa_deg = 60 145\n");
    struct gain gain = gain_at(&boat, 85.0, kn_to_mps(15));
    assert_near(gain.spar_mps, 0.0, 0.0);
    assert_false(gain.usable_reach);
}

/* --- dead downwind
 * ------------------------------------------------------------------- */

static void the_best_of_each_is_found(void **state) {
    (void)state;
    struct boat boat = plain_boat("");
    struct downwind best = gain_downwind(&boat, kn_to_mps(15));
    assert_true(best.spar_usable);
    assert_near(mps_to_kn(best.spar_mps), 6.0, 1e-12);
    assert_near(best.spar_twa_deg, 180.0, 0.0);
    /* stowed: v = 6 - (b - 120) / 20 made good, v * -cos b, is greatest where
     * v = 9 / pi * cot(180 - b): near b = 148.1, v = 4.595 */
    assert_near(best.stowed_twa_deg, 148.1, 0.15);
    assert_near(mps_to_kn(best.stowed_mps), 3.901, 0.001);
}

static void without_a_usable_angle_there_is_no_best(void **state) {
    (void)state;
    struct boat boat = plain_boat("");
    struct downwind best = gain_downwind(&boat, kn_to_mps(25));
    assert_false(best.spar_usable);
    assert_near(best.spar_mps, 0.0, 0.0);
    assert_true(best.stowed_mps > 0.0);
    assert_false(gain_break_even_m(&boat, kn_to_mps(25)).known);
}

/* D = c / (1/VMG_without - 1/VMG_with). With no work speed at all c is the
 * whole 35 minutes of set and stow: both ways to the mark take as long. */
static void a_leg_of_that_length_takes_the_same_time_both_ways(void **state) {
    (void)state;
    struct boat boat = plain_boat("work_speed_frac = 0\n");
    double tws_mps = kn_to_mps(15);
    struct downwind best = gain_downwind(&boat, tws_mps);
    struct figure distance_m = gain_break_even_m(&boat, tws_mps);
    assert_true(distance_m.known);
    assert_near(distance_m.value / best.stowed_mps,
                35.0 * 60.0 + distance_m.value / best.spar_mps, 1e-6);
    assert_near(distance_m.value,
                2100.0 / (1.0 / best.stowed_mps - 1.0 / best.spar_mps), 1e-6);
}

/* At work she makes 0.7 of her 3 kn on the run. */
static void the_way_made_at_work_counts(void **state) {
    (void)state;
    struct boat boat = plain_boat("");
    double tws_mps = kn_to_mps(15);
    struct downwind best = gain_downwind(&boat, tws_mps);
    double distance_m = gain_break_even_m(&boat, tws_mps).value;
    double at_work_m = 2100.0 * 0.7 * kn_to_mps(3.0);
    assert_near(distance_m / best.stowed_mps,
                2100.0 + (distance_m - at_work_m) / best.spar_mps, 1e-6);
}

static void a_slower_spar_never_pays(void **state) {
    (void)state;
    struct boat boat = plain_boat("");
    struct polar stowed = boat.stowed;
    boat.stowed = boat.spar_out;
    boat.spar_out = stowed;
    assert_false(gain_break_even_m(&boat, kn_to_mps(15)).known);
    boat.spar_out = boat.stowed; /* equal polars: nothing gained */
    assert_false(gain_break_even_m(&boat, kn_to_mps(15)).known);
}

/* --- its length
 * ------------------------------------------------------------------------ */

static double length_of(const struct spar *spar, double foot_m,
                        const char **warning) {
    struct headsail sail = {.name = "genoa", .foot_m = foot_m};
    return spar_length_for(spar, &sail, &arena, warning);
}

/* Rule of thumb: the spar as long as the foot of the sail it holds (6.7 m =
 * 22 ft; 9.5 m = 31 ft), while a spar of 13 to 24 ft serves both, set to
 * 19 ft = 5.8 m at most, since it weakens towards its full length: a warning,
 * no refusal (common practice, no source). */
static void one_spar_serves_both_sails_of_the_rule_of_thumb(void **state) {
    (void)state;
    struct boat boat = plain_boat("");
    const struct spar *spar = &boat.spar; /* 3.96 to 7.32 m: 13 to 24 ft */
    const char *warning;
    assert_near(6.7, 22.0 * 0.3048, 0.01);
    assert_near(9.5, 31.0 * 0.3048, 0.06);
    assert_near(spar_strong_length_m(spar), 19.0 * 0.3048, 0.005);
    assert_near(length_of(spar, 6.7, &warning), 5.8, 0.01);
    assert_contains(warning, "weakens");
    assert_near(length_of(spar, 9.5, &warning), 5.8, 0.01);
    assert_contains(warning, "longer than the spar");
}

static void within_its_strength_it_is_as_long_as_the_foot(void **state) {
    (void)state;
    struct boat boat = plain_boat("");
    const char *warning = "left over";
    assert_near(length_of(&boat.spar, 5.0, &warning), 5.0, 0.0);
    assert_null(warning);
    assert_near(length_of(&boat.spar, 3.0, &warning), 3.96, 0.0);
    assert_contains(warning, "shorter than the spar");
}

static void a_spar_of_one_length_is_not_telescopic(void **state) {
    (void)state;
    struct spar fixed = {.length_m = {5.0, 5.0}};
    const char *warning;
    assert_near(spar_strong_length_m(&fixed), 5.0, 0.0);
    assert_near(length_of(&fixed, 5.0, &warning), 5.0, 0.0);
    assert_null(warning);
    assert_near(length_of(&fixed, 6.0, &warning), 5.0, 0.0);
    assert_non_null(warning);
}

/* A spar that does not go short enough for its own strength. */
static void the_shortest_length_is_the_least_that_can_be_set(void **state) {
    (void)state;
    struct spar stiff = {.length_m = {5.5, 6.0}};
    const char *warning;
    assert_near(length_of(&stiff, 5.8, &warning), 5.5, 0.0);
}

/* --- the two invented boats
 * --------------------------------------------------------------- */

static const char *const boats[] = {"polars/wanderer-12.ini",
                                    "polars/heron-9.ini"};

/* Wing-and-wing dead before the wind beats the stowed zig-zag. */
static void on_the_run_the_spar_beats_zigzagging(void **state) {
    (void)state;
    for (int i = 0; i < 2; i++) {
        struct boat boat = shipped(boats[i]);
        for (double tws_kn = 8.0; tws_kn <= 20.0; tws_kn += 0.5) {
            double tws_mps = kn_to_mps(tws_kn);
            struct gain run = gain_at(&boat, 180.0, tws_mps);
            struct downwind best = gain_downwind(&boat, tws_mps);
            assert_true(run.usable_wing);
            assert_true(run.spar_mps > best.stowed_mps);
            assert_true(best.stowed_twa_deg < 180.0);
            assert_true(gain_break_even_m(&boat, tws_mps).known);
        }
    }
}

static void inside_its_ranges_the_spar_is_never_slower(void **state) {
    (void)state;
    for (int i = 0; i < 2; i++) {
        struct boat boat = shipped(boats[i]);
        int usable = 0;
        for (double twa_deg = 90.0; twa_deg <= 180.0; twa_deg += 1.0)
            for (double tws_kn = 1.0; tws_kn <= 22.0; tws_kn += 0.5) {
                struct gain gain = gain_at(&boat, twa_deg, kn_to_mps(tws_kn));
                if (!gain.usable_wing && !gain.usable_reach)
                    continue;
                usable++;
                assert_true(gain.spar_mps >= gain.stowed_mps);
            }
        assert_true(usable > 500);
    }
}

/* Faster from 100 degrees on, but where strong wind takes both to hull speed.
 */
static void from_the_beam_aft_the_spar_is_faster(void **state) {
    (void)state;
    for (int i = 0; i < 2; i++) {
        struct boat boat = shipped(boats[i]);
        for (double twa_deg = 105.0; twa_deg <= 180.0; twa_deg += 5.0)
            for (double tws_kn = 4.0; tws_kn <= 14.0; tws_kn += 1.0) {
                struct gain gain = gain_at(&boat, twa_deg, kn_to_mps(tws_kn));
                assert_true(gain.spar_mps > gain.stowed_mps);
            }
    }
}

/* The spar serves in both ranges, poled reach and wing-and-wing (common
 * practice, no source). */
static void the_spar_serves_in_both_ranges(void **state) {
    (void)state;
    for (int i = 0; i < 2; i++) {
        struct boat boat = shipped(boats[i]);
        for (double tws_kn = 6.0; tws_kn <= 18.0; tws_kn += 2.0) {
            bool wing = false, reach = false;
            for (double twa_deg = 90.0; twa_deg <= 180.0; twa_deg += 1.0) {
                struct gain gain = gain_at(&boat, twa_deg, kn_to_mps(tws_kn));
                wing |= gain.usable_wing;
                reach |= gain.usable_reach;
            }
            assert_true(wing && reach);
        }
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(both_speeds_come_from_their_polars),
        cmocka_unit_test(the_factor_counts_for_both),
        cmocka_unit_test(the_apparent_wind_decides),
        cmocka_unit_test(too_much_wind_forbids_it),
        cmocka_unit_test(where_the_polar_has_no_speed_it_is_of_no_use),
        cmocka_unit_test(the_best_of_each_is_found),
        cmocka_unit_test(without_a_usable_angle_there_is_no_best),
        cmocka_unit_test(a_leg_of_that_length_takes_the_same_time_both_ways),
        cmocka_unit_test(the_way_made_at_work_counts),
        cmocka_unit_test(a_slower_spar_never_pays),
        cmocka_unit_test(one_spar_serves_both_sails_of_the_rule_of_thumb),
        cmocka_unit_test(within_its_strength_it_is_as_long_as_the_foot),
        cmocka_unit_test(a_spar_of_one_length_is_not_telescopic),
        cmocka_unit_test(the_shortest_length_is_the_least_that_can_be_set),
        cmocka_unit_test(on_the_run_the_spar_beats_zigzagging),
        cmocka_unit_test(inside_its_ranges_the_spar_is_never_slower),
        cmocka_unit_test(from_the_beam_aft_the_spar_is_faster),
        cmocka_unit_test(the_spar_serves_in_both_ranges),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
