/* Figures of a boat file that look like a mistake. */
#include "../support/check.h"
#include "../support/scratch.h"

#include "base/units.h"
#include "boat/doubts.h"
#include <math.h>
#include <stdio.h>
#include <string.h>

static char told[4000];

static void keep(void *context, const char *text) {
    (void)context;
    size_t used = strlen(told);
    snprintf(told + used, sizeof told - used, "%s\n", text);
}

static const char *doubts_of(const struct boat *boat) {
    told[0] = '\0';
    doubts_tell(boat, keep, NULL, &arena);
    return told;
}

static struct boat load(const char *path) {
    struct boat boat;
    struct error error = {.text = ""};
    boat_load(&boat, path, &arena, &error);
    assert_string_equal(error.text, "");
    return boat;
}

/* What a table in knots holds where it is written in m/s. */
static void in_mps(double *values, size_t count) {
    for (size_t i = 0; i < count; i++)
        values[i] = kn_to_mps(values[i]);
}

static void speeds_in_mps(struct polar *polar) {
    in_mps(polar->speed_mps, polar->angles * polar->winds);
    polar_make_index(polar);
}

static void winds_in_mps(struct polar *polar) {
    in_mps(polar->wind_mps, polar->winds);
    polar_make_index(polar);
}

static void the_boats_that_come_along_raise_none(void **state) {
    (void)state;
    struct boat heron = load("polars/heron-9.ini");
    assert_string_equal(doubts_of(&heron), "");
    struct boat wanderer = load("polars/wanderer-12.ini");
    assert_string_equal(doubts_of(&wanderer), "");
}

static void polars_exchanged_are_noticed(void **state) {
    (void)state;
    struct boat boat = load("polars/heron-9.ini");
    struct polar spar = boat.spar_out;
    boat.spar_out = boat.stowed;
    assert_string_equal(
        doubts_of(&boat),
        "the boat is as fast with the spar out as without, wherever it can be "
        "used; is one polar given twice?\n");
    boat.stowed = spar;
    assert_string_equal(
        doubts_of(&boat),
        "the boat is slower with the spar out wherever it can be used, or as "
        "fast at most; are the two polars exchanged?\n");
}

static void a_spar_of_no_use_is_noticed(void **state) {
    (void)state;
    struct boat boat = load("polars/heron-9.ini");
    boat.spar.wing_awa_deg[0] = boat.spar.wing_awa_deg[1] = 180.0;
    boat.spar.reach_awa_deg[0] = boat.spar.reach_awa_deg[1] = 60.0;
    boat.spar.angle_margin_deg = 1.0;
    assert_contains(doubts_of(&boat), "the spar can be used nowhere");
}

/* Each column and each cell alone, and both, of each polar. */
static void a_polar_in_mps_is_noticed(void **state) {
    (void)state;
    static const char *const paths[] = {"polars/heron-9.ini",
                                        "polars/wanderer-12.ini"};
    for (int i = 0; i < 2; i++) {
        struct boat boat = load(paths[i]);
        speeds_in_mps(&boat.stowed);
        assert_contains(doubts_of(&boat), "polar with the spar stowed is ");
        assert_contains(told, "are its speeds in m/s?");
        winds_in_mps(&boat.stowed);
        assert_contains(doubts_of(&boat), "are its speeds in m/s?");

        boat = load(paths[i]);
        winds_in_mps(&boat.stowed);
        assert_contains(doubts_of(&boat), "the polar with the spar stowed has");
        assert_contains(told, "of wind, more than the wind; are its winds in "
                              "m/s?");

        boat = load(paths[i]);
        speeds_in_mps(&boat.spar_out);
        assert_contains(doubts_of(&boat), "polar with the spar out is ");
        assert_null(strstr(told, "spar stowed"));
    }
}

/* Of 8 m on the waterline the hull comes to 1.34 x sqrt(26.25 ft) = 6.87 kn:
 * 4.5 kn are 0.655 of it and 4.4 kn 0.640. */
static void a_slow_hull_is_no_mistake_until_it_is_very_slow(void **state) {
    (void)state;
    struct boat boat = load("polars/heron-9.ini");
    boat.length_waterline_m = 8.0;
    double top_kn = mps_to_kn(polar_top_speed(&boat.stowed));
    for (size_t i = 0; i < boat.stowed.angles * boat.stowed.winds; i++)
        boat.stowed.speed_mps[i] *= 4.5 / top_kn;
    assert_null(strstr(doubts_of(&boat), "m/s"));
    for (size_t i = 0; i < boat.stowed.angles * boat.stowed.winds; i++)
        boat.stowed.speed_mps[i] *= 4.4 / 4.5;
    assert_contains(doubts_of(&boat),
                    "is 4.4 kn, where a hull of that length comes to 6.9 kn");
}

static void limits_in_mps_are_noticed(void **state) {
    (void)state;
    struct boat boat = load("polars/heron-9.ini");
    boat.spar.wing_max_wind_mps = kn_to_mps(11.0);
    boat.work.max_wind_mps = kn_to_mps(8.0);
    assert_string_equal(
        doubts_of(&boat),
        "[spar] wing_max_wind_kn is 11 kn, and the spar stays in above it; is "
        "it in m/s? it would be 21 kn\n"
        "[work] max_wind_kn is 8 kn, and the spar stays in above it; is it in "
        "m/s? it would be 16 kn\n");
    boat.spar.wing_max_wind_mps = kn_to_mps(12.6);
    boat.work.max_wind_mps = kn_to_mps(10.1);
    assert_string_equal(doubts_of(&boat), "");
}

/* Half of the period, and ten of them. */
static void a_roll_period_is_held_against_the_beam(void **state) {
    (void)state;
    struct boat boat = load("polars/wanderer-12.ini");
    double beam_s = roll_period_from_beam_s(boat.beam_m);
    boat.roll_period_s = figure_of(0.5 * beam_s);
    assert_contains(doubts_of(&boat), "from one side to the other only?");
    boat.roll_period_s = figure_of(2.0 * beam_s);
    assert_contains(doubts_of(&boat), "timed over several rolls?");
    boat.roll_period_s = figure_of(0.61 * beam_s);
    assert_string_equal(doubts_of(&boat), "");
    boat.roll_period_s = figure_of(1.79 * beam_s);
    assert_string_equal(doubts_of(&boat), "");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_boats_that_come_along_raise_none),
        cmocka_unit_test(polars_exchanged_are_noticed),
        cmocka_unit_test(a_spar_of_no_use_is_noticed),
        cmocka_unit_test(a_polar_in_mps_is_noticed),
        cmocka_unit_test(a_slow_hull_is_no_mistake_until_it_is_very_slow),
        cmocka_unit_test(limits_in_mps_are_noticed),
        cmocka_unit_test(a_roll_period_is_held_against_the_beam),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
