/* What must hold of the spar's strength and of what sails ask of it, on seeded
 * tubes, sails and limits. */
#include "../support/analytic.h"
#include "../support/check.h"

#include "base/units.h"
#include "boat/apparent.h"
#include "boat/strength.h"
#include "boat/tube.h"

enum { CASES = 200 };

static struct tube any_tube(struct seed *seed) {
    double outside_m = seed_between(seed, 0.03, 0.2);
    return (struct tube){outside_m, outside_m * seed_between(seed, 0.01, 0.5)};
}

static void a_tube_carries_less_the_longer_it_is(void **state) {
    (void)state;
    struct seed seed = {61};
    const struct material *aluminium = material_named("aluminium");
    for (int i = 0; i < CASES; i++) {
        struct tube tube = any_tube(&seed);
        double length_m = seed_between(&seed, 0.3, 12.0);
        double longer_m = length_m * seed_between(&seed, 1.01, 2.0);
        double load_n = tube_load_n(tube, aluminium, length_m);
        assert_true(load_n > tube_load_n(tube, aluminium, longer_m));
        assert_true(tube_load_n(tube, aluminium, longer_m) > 0.0);
        assert_true(load_n <= aluminium->yield_pa * tube_area_m2(tube));
        assert_true(load_n <= euler_load_n(aluminium->modulus_pa,
                                           tube_inertia_m4(tube), length_m) *
                                  (1.0 + 1e-12));
    }
}

static void a_thicker_wall_carries_more(void **state) {
    (void)state;
    struct seed seed = {62};
    const struct material *aluminium = material_named("aluminium");
    for (int i = 0; i < CASES; i++) {
        struct tube thin = any_tube(&seed), thick = thin;
        double length_m = seed_between(&seed, 0.3, 12.0);
        thin.wall_m *= seed_between(&seed, 0.5, 0.99);
        assert_true(tube_load_n(thin, aluminium, length_m) <
                    tube_load_n(thick, aluminium, length_m));
    }
}

/* A boat of polars/, read once, its limits drawn anew. */
static struct boat *any_boat(struct seed *seed, int index) {
    static const char *const names[] = {"wanderer-12", "heron-9"};
    static struct boat *boats[2];
    struct boat *boat = boats[index % 2];
    if (!boat)
        boat = boats[index % 2] = analytic_boat_copy(names[index % 2]);
    struct spar *spar = &boat->spar;
    spar->wing_max_wind_mps = seed_between(seed, 6.0, 15.0);
    spar->reach_max_wind_mps = seed_between(seed, 6.0, 15.0);
    spar->wing_max_gust_mps =
        spar->wing_max_wind_mps * seed_between(seed, 1.0, 1.6);
    spar->reach_max_gust_mps =
        spar->reach_max_wind_mps * seed_between(seed, 1.0, 1.6);
    return boat;
}

static struct headsail any_sail(struct seed *seed) {
    return (struct headsail){
        .foot_m = 4.0, .area_m2 = figure_of(seed_between(seed, 10.0, 90.0))};
}

static void more_wind_is_more_load(void **state) {
    (void)state;
    struct seed seed = {63};
    for (int i = 0; i < CASES; i++) {
        struct boat *boat = any_boat(&seed, i);
        struct headsail sail = any_sail(&seed);
        for (int wing = 0; wing < 2; wing++) {
            struct strength_limits limits = strength_limits(boat, &sail, wing);
            sail.max_wind_mps = figure_of(0.8 * limits.wind_mps);
            struct strength_limits less = strength_limits(boat, &sail, wing);
            sail.max_wind_mps = figure_unknown();
            assert_true(limits.usable && less.usable);
            assert_true(limits.gust_aws_mps >= limits.wind_aws_mps);
            assert_true(limits.wind_aws_mps > less.wind_aws_mps);
            assert_true(limits.gust_aws_mps > less.gust_aws_mps);
        }
    }
}

/* Any angle at which the spar may be out feels no more than the limits say, but
 * for what lies between two whole degrees: 1 %. */
static void no_angle_of_the_mode_feels_more(void **state) {
    (void)state;
    struct seed seed = {64};
    int met = 0;
    for (int i = 0; i < CASES; i++) {
        struct boat *boat = any_boat(&seed, i);
        struct headsail sail = any_sail(&seed);
        bool wing = i % 3 == 0;
        struct strength_limits limits = strength_limits(boat, &sail, wing);
        double twa_deg = seed_between(&seed, 90.0, 180.0);
        double boat_mps = boat->factor * polar_speed(&boat->spar_out, twa_deg,
                                                     limits.wind_mps);
        struct apparent felt =
            apparent_wind(twa_deg, limits.wind_mps, boat_mps);
        if (!spar_allows_angle(&boat->spar, wing, felt.awa_deg))
            continue;
        met++;
        assert_true(felt.aws_mps <= 1.01 * limits.wind_aws_mps);
        assert_true(apparent_speed(twa_deg, limits.gust_mps, boat_mps) <=
                    1.01 * limits.gust_aws_mps);
    }
    assert_true(met > CASES / 4);
}

/* With the limits put where the margin ends, the load there is the safe one. */
static void at_the_end_of_the_margin_the_load_is_the_safe_one(void **state) {
    (void)state;
    struct seed seed = {65};
    int gusts = 0;
    for (int i = 0; i < CASES; i++) {
        struct boat *boat = any_boat(&seed, i);
        struct headsail sail = any_sail(&seed);
        struct strength_limits limits = strength_limits(boat, &sail, true);
        double most_n =
            strength_load_n(limits.gust_aws_mps, sail.area_m2.value, true);
        double safe_n = most_n * seed_between(&seed, 0.3, 3.0);
        struct strength_end end =
            strength_end(boat, &sail, true, &limits, safe_n);
        boat->spar.wing_max_gust_mps = end.wind_mps;
        if (end.steady)
            boat->spar.wing_max_wind_mps = end.wind_mps;
        limits = strength_limits(boat, &sail, true);
        double load_n =
            strength_load_n(limits.gust_aws_mps, sail.area_m2.value, true);
        gusts += !end.steady;
        assert_true(load_n <= safe_n * (1.0 + 1e-9));
        assert_near(load_n, safe_n, end.steady ? 0.03 * safe_n : 1e-6 * safe_n);
    }
    assert_true(gusts > CASES / 4 && gusts < CASES);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_tube_carries_less_the_longer_it_is),
        cmocka_unit_test(a_thicker_wall_carries_more),
        cmocka_unit_test(more_wind_is_more_load),
        cmocka_unit_test(no_angle_of_the_mode_feels_more),
        cmocka_unit_test(at_the_end_of_the_margin_the_load_is_the_safe_one),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
