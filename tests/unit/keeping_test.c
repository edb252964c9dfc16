/* What is left of an old track, sailed in a steady wind by hand. The equator:
 * a minute of longitude is 1855.3 m (WGS84, calculated: 6378137 pi / 10800). */
#include "../support/analytic.h"
#include "../support/check.h"

#include "base/units.h"
#include "earth/rhumb.h"
#include "plan/keeping.h"
#include "plan/legs.h"

#include <math.h>

#define MINUTE_M 1855.325

/* 2026-06-01T00:00Z, `date -u -d @1780272000` */
static const struct instant departure = {1780272000};

/* Dead before the trades: by the spar's own polar at TWA 180. */
static const struct analytic trades = {.wind_from_deg = 90.0, .wind_mps = 7.0};

static struct previous_leg legs[2] = {
    {.from = {0.0, -40.0}, .to = {0.0, -41.0}, .spar = SPAR_STOWED},
    {.from = {0.0, -41.0}, .to = {0.0, -42.0}, .spar = SPAR_PORT}};
static const struct previous previous = {
    .path = "plan.json", .to = {0.0, -42.0}, .legs = legs, .leg_count = 2};

struct kept {
    struct arena arena;
    struct boat *boat;
    struct voyage voyage;
    struct plan plan;
};

static void begin(struct kept *kept, const struct analytic *weather) {
    *kept = (struct kept){.boat = analytic_boat_copy("wanderer-12")};
    arena_init(&kept->arena);
    analytic_free_changes(kept->boat);
    kept->boat->spar.landfall_m = 0.0;
    kept->voyage = analytic_voyage(kept->boat, weather, previous.to);
    kept->plan =
        (struct plan){.boat = kept->boat,
                      .depart = departure,
                      .forecast_run = departure,
                      .forecast_end = instant_plus(departure, 1e6),
                      .summary = {.reached = true, .elapsed_s = 50000.0}};
}

static const struct plan_keeping *keep(struct kept *kept, double lat_deg,
                                       double lon_deg) {
    struct moving wish = {.most_points = 50};
    struct underway start = sail_start((struct position){lat_deg, lon_deg},
                                       (struct deck){.spar = SPAR_STOWED});
    keeping_give(&kept->plan, &kept->voyage, &start, &wish, &previous,
                 &kept->arena);
    return kept->plan.keeping;
}

static double run_s(const struct kept *kept, double distance_m) {
    return distance_m / (kept->boat->factor *
                         polar_speed(&kept->boat->spar_out, 180.0, 7.0));
}

static void on_the_track_the_rest_of_it_is_sailed(void **state) {
    (void)state;
    struct kept kept;
    begin(&kept, &trades);
    const struct plan_keeping *keeping = keep(&kept, 0.0, -40.5);
    assert_true(keeping->known);
    assert_near(keeping->off_m, 0.0, 1.0);
    assert_near(keeping->joined.lon_deg, -41.0, 1e-9);
    assert_near(keeping->to_join_m, 30.0 * MINUTE_M, 10.0);
    /* she ends with the spar stowed: slower over the last of it */
    double seconds = run_s(&kept, 90.0 * MINUTE_M);
    assert_near(keeping->summary.elapsed_s, seconds, 0.002 * seconds);
    assert_near(instant_minus(keeping->summary.arrive, departure), seconds,
                0.002 * seconds);
    /* one set and one stow, at some hour; the plan itself has no work */
    int sets =
        keeping->more_work[CHANGE_SET][0] + keeping->more_work[CHANGE_SET][1];
    assert_int_equal(sets, 1);
    arena_free(&kept.arena);
}

/* 18 minutes north of the track: 30 minutes along it the end of the leg lies
 * atan(18 / 30) = 31 degrees off its course, 12 minutes along it atan(18 / 12)
 * = 56: then the next end is steered for. */
static void it_is_joined_where_it_lies_ahead(void **state) {
    (void)state;
    struct kept kept;
    begin(&kept, &trades);
    const struct plan_keeping *keeping = keep(&kept, 0.3, -40.5);
    /* a degree of latitude there is 110.57 km: 0.3 are 17.9 nmi */
    assert_near(m_to_nmi(keeping->off_m), 17.9, 0.05);
    assert_near(keeping->joined.lon_deg, -41.0, 1e-9);
    keeping = keep(&kept, 0.3, -40.8);
    assert_near(keeping->joined.lon_deg, -42.0, 1e-9);
    keeping = keep(&kept, 0.0, -41.2); /* on the second leg */
    assert_near(keeping->joined.lon_deg, -42.0, 1e-9);
    keeping = keep(&kept, 0.0, -41.0); /* where they meet */
    assert_near(keeping->joined.lon_deg, -42.0, 1e-9);
    arena_free(&kept.arena);
}

/* Land that closes all that ends at 41 W. */
static enum obstacle an_islet(const void *water, struct position from,
                              struct position to, double start_s,
                              double end_s) {
    (void)water, (void)from, (void)start_s, (void)end_s;
    return fabs(to.lon_deg + 41.0) < 1e-6 ? OBSTACLE_LAND : OBSTACLE_NONE;
}

static enum obstacle all_land(const void *water, struct position from,
                              struct position to, double start_s,
                              double end_s) {
    (void)water, (void)from, (void)to, (void)start_s, (void)end_s;
    return OBSTACLE_LAND;
}

static void land_on_the_way_there_is_gone_round(void **state) {
    (void)state;
    struct kept kept;
    begin(&kept, &trades);
    kept.voyage.blocked = an_islet;
    const struct plan_keeping *keeping = keep(&kept, 0.3, -40.5);
    assert_near(keeping->joined.lon_deg, -42.0, 1e-9);
    kept.voyage.blocked = all_land;
    keeping = keep(&kept, 0.3, -40.5);
    assert_false(keeping->known);
    assert_int_equal(keeping->why, OBSTACLE_LAND);
    arena_free(&kept.arena);
}

/* The crew's limits hold for the old track as for the new. */
static void a_limit_on_the_old_track_is_told(void **state) {
    (void)state;
    struct kept kept;
    struct analytic weather = trades;
    weather.rise_mps_per_day = 4.0;
    begin(&kept, &weather);
    kept.voyage.max_wind_mps = figure_of(7.5);
    const struct plan_keeping *keeping = keep(&kept, 0.0, -40.5);
    assert_false(keeping->known);
    assert_int_equal(keeping->why, OBSTACLE_WIND);
    arena_free(&kept.arena);
    weather = trades;
    weather.horizon_s = 3600.0;
    begin(&kept, &weather);
    keeping = keep(&kept, 0.0, -40.5);
    assert_false(keeping->known);
    assert_int_equal(keeping->why, OBSTACLE_HORIZON);
    arena_free(&kept.arena);
}

/* Work that both have is no more. */
static void work_counts_against_that_of_the_plan(void **state) {
    (void)state;
    struct kept kept;
    begin(&kept, &trades);
    struct plan_change changes[] = {
        {.kind = CHANGE_SET, .deck_work = true, .light = LIGHT_DAY},
        {.kind = CHANGE_SET, .deck_work = true, .light = LIGHT_NIGHT},
        {.kind = CHANGE_GYBE, .deck_work = true, .light = LIGHT_TWILIGHT},
        {.kind = CHANGE_ROLL, .deck_work = false, .light = LIGHT_DAY}};
    const struct plan_keeping *keeping = keep(&kept, 0.0, -40.5);
    int day = keeping->more_work[CHANGE_SET][0];
    int night = keeping->more_work[CHANGE_SET][1];
    kept.plan.changes = changes;
    kept.plan.change_count = 4;
    keeping = keep(&kept, 0.0, -40.5);
    assert_int_equal(keeping->more_work[CHANGE_SET][0], day - 1);
    assert_int_equal(keeping->more_work[CHANGE_SET][1], night - 1);
    assert_int_equal(keeping->more_work[CHANGE_GYBE][0], -1);
    assert_int_equal(keeping->more_work[CHANGE_ROLL][0], 0);
    arena_free(&kept.arena);
}

/* --- under engine --------------------------------------------------------- */

/* 3 m/s where she would sail slower than 2.5, for so many hours; no spar. */
static void fit_engine(struct kept *kept, double hours) {
    kept->boat->motor =
        (struct motor){.fitted = true,
                       .speed_mps = figure_of(3.0),
                       .below_mps = figure_of(2.5),
                       .litres_per_hour = figure_of(2.0),
                       .fuel_litres = figure_of(2.0 * hours + 5.0),
                       .reserve_litres = figure_of(5.0),
                       .max_wind_mps = 6.0};
    kept->voyage.spar_allowed = false;
}

/* The new plan, whose voyage has the engine off, may spend the fuel elsewhere:
 * on the old track she motors for as long as it lasts, and no longer. */
static void the_rest_is_motored_for_as_long_as_the_fuel_lasts(void **state) {
    (void)state;
    static const struct analytic light = {.wind_from_deg = 90.0,
                                          .wind_mps = 2.0};
    const double hours[] = {5.0, 100.0};
    for (int i = 0; i < 2; i++) {
        struct kept kept;
        begin(&kept, &light);
        fit_engine(&kept, hours[i]);
        const struct plan_keeping *keeping = keep(&kept, 0.0, -40.5);
        double sailing_mps =
            kept.boat->factor * polar_speed(&kept.boat->stowed, 180.0, 2.0);
        double way_m = 90.0 * MINUTE_M;
        double motored_s = fmin(hours_to_s(hours[i]), way_m / 3.0);
        double seconds = motored_s + (way_m - 3.0 * motored_s) / sailing_mps;
        assert_true(sailing_mps < 2.0);
        assert_true(keeping->known);
        assert_near(keeping->summary.elapsed_s, seconds, 5e-3 * seconds);
        assert_true(keeping->summary.motor_s.known);
        assert_near(keeping->summary.motor_s.value, motored_s, 300.0);
        assert_true(keeping->summary.motor_s.value <= hours_to_s(hours[i]));
        arena_free(&kept.arena);
    }
}

static void a_calm_beyond_the_fuel_is_told(void **state) {
    (void)state;
    static const struct analytic calm = {.wind_from_deg = 90.0,
                                         .wind_mps = 0.05};
    struct kept kept;
    begin(&kept, &calm);
    fit_engine(&kept, 5.0);
    const struct plan_keeping *keeping = keep(&kept, 0.0, -40.5);
    assert_false(keeping->known);
    assert_int_equal(keeping->why, OBSTACLE_FUEL);
    fit_engine(&kept, 100.0);
    assert_true(keep(&kept, 0.0, -40.5)->known);
    arena_free(&kept.arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(on_the_track_the_rest_of_it_is_sailed),
        cmocka_unit_test(it_is_joined_where_it_lies_ahead),
        cmocka_unit_test(land_on_the_way_there_is_gone_round),
        cmocka_unit_test(a_limit_on_the_old_track_is_told),
        cmocka_unit_test(work_counts_against_that_of_the_plan),
        cmocka_unit_test(the_rest_is_motored_for_as_long_as_the_fuel_lasts),
        cmocka_unit_test(a_calm_beyond_the_fuel_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
