/* The two invented boats of polars/: what a sailor would expect of them. */
#include "../support/check.h"
#include "../support/scratch.h"

#include "base/units.h"
#include "boat/apparent.h"
#include "boat/boat.h"

static const char *const shipped[] = {"polars/wanderer-12.ini",
                                      "polars/heron-9.ini"};

static struct boat load_shipped(int which) {
    struct boat boat;
    struct error error = {.text = ""};
    if (!boat_load(&boat, shipped[which], &arena, &error))
        print_error("%s\n", error.text);
    assert_string_equal(error.text, "");
    return boat;
}

static void check_rises_with_wind(const struct polar *polar) {
    for (size_t row = 0; row < polar->angles; row++)
        for (size_t i = 1; i < polar->winds; i++)
            assert_true(polar->speed_mps[row * polar->winds + i] >=
                        polar->speed_mps[row * polar->winds + i - 1]);
}

static void their_speeds_rise_with_the_wind(void **state) {
    (void)state;
    for (int i = 0; i < 2; i++) {
        struct boat boat = load_shipped(i);
        check_rises_with_wind(&boat.stowed);
        check_rises_with_wind(&boat.spar_out);
    }
}

/* Hull speed in knots is 1.34 times the root of the waterline in feet (rule of
 * Froude's, from memory): in flat water and moderate wind no cruising boat is
 * faster; in strong wind she surfs, by an eighth at most here. */
static void they_keep_to_their_hull_speed(void **state) {
    (void)state;
    static const double hull_kn[] = {8.05, 6.82};
    for (int i = 0; i < 2; i++) {
        struct boat boat = load_shipped(i);
        for (double twa_deg = 35.0; twa_deg <= 180.0; twa_deg += 5.0) {
            double tws_mps = kn_to_mps(16.0);
            assert_true(mps_to_kn(polar_speed(&boat.stowed, twa_deg, tws_mps)) <
                        hull_kn[i]);
            assert_true(mps_to_kn(polar_speed(&boat.spar_out, twa_deg,
                                              tws_mps)) < hull_kn[i]);
        }
        assert_true(mps_to_kn(polar_top_speed(&boat.stowed)) <
                    1.125 * hull_kn[i]);
        assert_true(mps_to_kn(polar_top_speed(&boat.spar_out)) <
                    1.125 * hull_kn[i]);
    }
}

/* Speed falls off on the broad reach and the run, the headsail blanketed
 * (common practice, no source). */
static void stowed_they_slow_down_towards_the_run(void **state) {
    (void)state;
    for (int i = 0; i < 2; i++) {
        struct boat boat = load_shipped(i);
        for (double tws_kn = 4.0; tws_kn <= 35.0; tws_kn += 1.0)
            for (double twa_deg = 120.0; twa_deg < 180.0; twa_deg += 5.0)
                assert_true(
                    polar_speed(&boat.stowed, twa_deg + 5.0,
                                kn_to_mps(tws_kn)) <=
                    polar_speed(&boat.stowed, twa_deg, kn_to_mps(tws_kn)));
    }
}

/* AWA 45 is close-hauled and 90 a beam reach (common practice, no source): a
 * boat that sails 60 degrees from the true wind feels it near 40. */
static void their_apparent_winds_have_the_trades_names(void **state) {
    (void)state;
    for (int i = 0; i < 2; i++) {
        struct boat boat = load_shipped(i);
        double tws_mps = kn_to_mps(14.0);
        bool close_hauled = false, beam_reach = false;
        for (double twa_deg = 40.0; twa_deg <= 180.0; twa_deg += 1.0) {
            double speed_mps = polar_speed(&boat.stowed, twa_deg, tws_mps);
            double awa_deg = apparent_wind(twa_deg, tws_mps, speed_mps).awa_deg;
            close_hauled |= awa_deg > 44.0 && awa_deg < 46.0 &&
                            twa_deg > 55.0 && twa_deg < 80.0;
            beam_reach |= awa_deg > 89.0 && awa_deg < 91.0 && twa_deg > 105.0 &&
                          twa_deg < 130.0;
        }
        assert_true(close_hauled);
        assert_true(beam_reach);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(their_speeds_rise_with_the_wind),
        cmocka_unit_test(they_keep_to_their_hull_speed),
        cmocka_unit_test(stowed_they_slow_down_towards_the_run),
        cmocka_unit_test(their_apparent_winds_have_the_trades_names),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
