#include "../support/check.h"

#include "../support/grib_maker.h"
#include "base/units.h"
#include "earth/angle.h"
#include "plan/passage.h"
#include "plan/spread.h"

#include <stdio.h>

enum { HOURS = 48, EVERY_H = 6, MEMBERS_MOST = SPREAD_MOST + 1 };

static const double GUST_FACTOR = 1.2;

/* A forecast of one wind for each member, the same everywhere and always. */
struct winds {
    size_t count;
    double from_deg[MEMBERS_MOST], kn[MEMBERS_MOST];
};

/* WMO code table 4.6: 1 is the control, 3 a perturbed forecast. */
static struct grib_spec spec_of(size_t member, int hour) {
    return (struct grib_spec){
        .edition = 2,
        .product = 1,
        .run = {2026, 6, 1, 0, 0, 0},
        .lead = hour,
        .first_lat = 52.0,
        .first_lon = -14.0,
        .last_lat = 44.0,
        .last_lon = -6.0,
        .early = {{"typeOfEnsembleForecast", member == 0 ? 1 : 3},
                  {"perturbationNumber", (long)member},
                  {"numberOfForecastsInEnsemble", MEMBERS_MOST}}};
}

static const char *write_forecast(const struct winds *winds) {
    struct grib_bytes bytes = {0};
    for (int hour = 0; hour <= HOURS; hour += EVERY_H)
        for (size_t i = 0; i < winds->count; i++) {
            struct grib_spec spec = spec_of(i, hour);
            double mps = kn_to_mps(winds->kn[i]);
            struct vector_mps wind = vector_from(winds->from_deg[i], mps);
            grib_add_wind(&bytes, &spec, wind.east, wind.north);
            spec.category = 2;
            spec.number = 22;
            spec.fill = GUST_FACTOR * mps;
            grib_add(&bytes, &spec);
        }
    const char *path = check_write("members.grib2", "");
    grib_save(&bytes, path);
    grib_free(&bytes);
    return path;
}

struct case_of {
    struct arena arena;
    struct request request;
    struct world world;
    struct spread *spread;
    struct error error;
    bool good;
};

static void put(struct case_of *one, const char *name, const char *value) {
    if (!request_option(&one->request, name, value, &one->arena, &one->error))
        fail_msg("%s", one->error.text);
}

/* Northward along a meridian; to SIXTY it is 60 miles. */
#define SIXTY "48 N 10 W"
#define MORNING "2026-06-01T06:00Z"

static void begin_with(const char *boat, struct case_of *one,
                       const struct winds *winds, const char *to,
                       const char *depart) {
    arena_init(&one->arena);
    if (!request_load(&one->request, NULL, &one->arena, &one->error))
        fail_msg("%s", one->error.text);
    put(one, "boat", boat);
    put(one, "forecast", write_forecast(winds));
    put(one, "coast", "none");
    put(one, "name", "members");
    put(one, "from", "47 N 10 W");
    put(one, "to", to);
    put(one, "depart", depart);
    put(one, "ease", "0");
}

static void begin(struct case_of *one, const struct winds *winds,
                  const char *to, const char *depart) {
    begin_with("polars/wanderer-12.ini", one, winds, to, depart);
}

static void run(struct case_of *one) {
    if (!request_resolve(&one->request, false, &one->arena, &one->error) ||
        !world_load(&one->world, &one->request, &one->arena, &one->error))
        fail_msg("%s", one->error.text);
    one->good = spread_make(&one->spread, &one->world, &one->request, NULL,
                            &one->arena, &one->error);
}

static void run_well(struct case_of *one) {
    run(one);
    if (!one->good)
        fail_msg("%s", one->error.text);
}

/* Wind on the beam, TWA 90: the boat's stowed polar has 6.40 kn in 8 kn of it,
 * 7.19 in 10 and 7.60 in 12. */
static const struct winds three = {3, {90.0, 90.0, 90.0}, {8.0, 10.0, 12.0}};
static const double three_kn[] = {6.40, 7.19, 7.60};

static void arrivals_follow_from_the_polar(void **state) {
    (void)state;
    struct case_of one;
    begin(&one, &three, SIXTY, MORNING);
    run_well(&one);
    const struct spread *spread = one.spread;
    double distance_m = spread->plan->summary.distance_m;
    assert_near(m_to_nmi(distance_m), 60.0, 0.1);
    assert_int_equal(spread->used.kind, SPREAD_CONTROL);
    assert_int_equal(spread->count, 3);
    double hours[3];
    for (int i = 0; i < 3; i++) {
        const struct spread_row *row = &spread->rows[i];
        hours[i] = m_to_nmi(distance_m) / three_kn[i];
        assert_int_equal(row->member.number, i);
        assert_true(row->track.arrives);
        assert_near(s_to_hours(row->track.elapsed_s), hours[i], 0.005);
        assert_true(row->own.arrives);
        /* in one wind everywhere nothing is better than the straight way */
        assert_near(s_to_hours(row->own.elapsed_s), hours[i], 0.005);
        assert_near(mps_to_kn(row->track.gust_mps.value),
                    GUST_FACTOR * three.kn[i], 0.05);
        assert_false(row->track.gust_estimated);
    }
    const struct quantiles *arrive = &spread->track.arrive;
    assert_int_equal(arrive->count, 3);
    assert_near(s_to_hours(arrive->earliest_s), hours[2], 0.005);
    assert_near(s_to_hours(arrive->middle_s.value), hours[1], 0.005);
    assert_near(s_to_hours(arrive->latest_s), hours[0], 0.005);
    assert_false(arrive->tenth_s.known);
    assert_int_equal(spread->track.gust_of.number, 2);
    assert_near(mps_to_kn(spread->track.gust_mps.value), 14.4, 0.05);
    assert_int_equal(spread->track.broken + spread->track.beyond, 0);
    arena_free(&one.arena);
}

/* The same for a plan that is made by others. */
static void a_plan_is_timed_over_the_members(void **state) {
    (void)state;
    struct case_of one;
    begin(&one, &three, SIXTY, MORNING);
    run_well(&one);
    size_t count;
    const struct world *worlds =
        spread_worlds(&one.world, &one.request, &count, &one.arena);
    assert_int_equal(count, 3);
    struct quantiles times =
        spread_arrivals(one.spread->plan, &one.request, worlds, count);
    assert_int_equal(times.count, 3);
    assert_near(times.earliest_s, one.spread->track.arrive.earliest_s, 0.0);
    assert_near(times.middle_s.value, one.spread->track.arrive.middle_s.value,
                0.0);
    assert_near(times.latest_s, one.spread->track.arrive.latest_s, 0.0);
    arena_free(&one.arena);
}

/* Of 8, 10 and 12 kn the last is above 11. */
static void a_limit_that_is_broken_is_counted_and_sailed_on(void **state) {
    (void)state;
    struct case_of one;
    begin(&one, &three, SIXTY, MORNING);
    put(&one, "max-wind", "11");
    run_well(&one);
    const struct spread *spread = one.spread;
    assert_int_equal(spread->track.broken, 1);
    assert_int_equal(spread->rows[2].track.broken, OBSTACLE_WIND);
    assert_int_equal(spread->rows[1].track.broken, OBSTACLE_NONE);
    assert_int_equal(spread->track.arrive.count, 3);
    assert_near(s_to_hours(spread->rows[2].track.elapsed_s),
                m_to_nmi(spread->plan->summary.distance_m) / three_kn[2],
                0.005);
    assert_int_equal(spread->own.arrive.count, 2);
    assert_false(spread->rows[2].own.arrives);
    assert_contains(spread->rows[2].own.why, "closed by max_wind, 11 kn");
    arena_free(&one.arena);
}

/* Before the wind the spar pays; setting it is fit up to 18 kn of wind and 22
 * of gust: fit in 11 and 12 kn, not in 21 with gusts of 25.2. */
static void deck_work_is_counted(void **state) {
    (void)state;
    static const struct winds winds = {
        3, {165.0, 165.0, 165.0}, {11.0, 12.0, 21.0}};
    struct case_of one;
    begin(&one, &winds, "49 N 10 W", MORNING);
    run_well(&one);
    const struct spread *spread = one.spread;
    assert_int_equal(spread->work_count, 2);
    const struct spread_work *set = &spread->works[0];
    assert_int_equal(set->change->kind, CHANGE_SET);
    assert_int_equal(spread->works[1].change->kind, CHANGE_STOW);
    assert_int_equal(set->done, 3);
    assert_int_equal(set->inside_limits, 2);
    assert_false(spread->rows[2].seen[0].inside_limits);
    assert_int_equal(set->own.count, 2);
    assert_false(spread->rows[2].seen[0].own);
    /* the control is what the plan is made with */
    assert_true(set->margin_known);
    assert_true(spread->rows[0].seen[0].inside_margin);
    assert_near(spread->rows[0].seen[0].done_s,
                instant_minus(set->change->at, spread->plan->depart), 1.0);
    assert_near(spread->rows[0].track.elapsed_s,
                spread->plan->summary.elapsed_s, 1.0);
    arena_free(&one.arena);
}

/* Where one member has the wind ahead, and too much of it to motor into, the
 * straight way can't be laid; its own best beats. */
static void a_member_that_heads_her_has_no_arrival_on_the_track(void **state) {
    (void)state;
    static const struct winds winds = {3, {90.0, 0.0, 90.0}, {8.0, 14.0, 12.0}};
    struct case_of one;
    begin(&one, &winds, SIXTY, MORNING);
    run_well(&one);
    const struct spread *spread = one.spread;
    assert_false(spread->rows[1].track.arrives);
    assert_string_equal(spread->rows[1].track.why,
                        obstacle_name(OBSTACLE_NO_SPEED));
    assert_true(spread->rows[1].own.arrives);
    assert_int_equal(spread->track.arrive.count, 2);
    assert_int_equal(spread->own.arrive.count, 3);
    /* 60 miles at 7.19 kn and more than that way */
    assert_true(s_to_hours(spread->own.arrive.latest_s) > 60.0 / 7.19);
    arena_free(&one.arena);
}

static void members_are_needed_and_bounded(void **state) {
    (void)state;
    static const struct winds lone = {1, {90.0}, {8.0}};
    struct case_of one;
    begin(&one, &lone, SIXTY, MORNING);
    run(&one);
    assert_false(one.good);
    assert_int_equal(one.error.status, STATUS_INPUT);
    assert_contains(one.error.text,
                    "has one member alone; give the files of an "
                    "ensemble");
    size_t count;
    assert_null(spread_worlds(&one.world, &one.request, &count, &one.arena));
    assert_int_equal(count, 0);
    arena_free(&one.arena);
    static const struct winds many = {MEMBERS_MOST, {0.0}, {8.0}};
    begin(&one, &many, SIXTY, MORNING);
    run(&one);
    assert_false(one.good);
    assert_int_equal(one.error.status, STATUS_INPUT);
    assert_contains(one.error.text, "has 129 members, and 128 is the most");
    arena_free(&one.arena);
}

static void a_plan_that_does_not_arrive_has_no_spread(void **state) {
    (void)state;
    struct case_of one;
    begin(&one, &three, SIXTY, "2026-06-02T20:00Z");
    put(&one, "after-forecast", "stop");
    run(&one);
    assert_false(one.good);
    assert_int_equal(one.error.status, STATUS_OUTSIDE);
    assert_contains(one.error.text, "--after-forecast hold");
    arena_free(&one.arena);
}

/* wanderer-12 with fuel for 4 hours at 6 kn, motoring below 5: the reserve is a
 * fifth of 20 litres, and she burns 4 an hour. */
static const char *sparing_boat(void) {
    static char line[9000];
    const char *boat = check_write("sparing.ini", "");
    snprintf(
        line, sizeof line,
        "sed -e \"s#^stowed = #&$PWD/polars/#; s#^spar = #&$PWD/polars/#\" "
        "-e 's/^below_kn = .*/below_kn = 5/' "
        "-e 's/^fuel_litres = .*/fuel_litres = 20/' "
        "polars/wanderer-12.ini > '%s'",
        boat);
    assert_int_equal(check_shell(line).status, 0);
    return boat;
}

/* The plan has wind enough. In 3 kn of it she motors for her 4 hours, 24 miles,
 * and sails the other 36; in 0.1 kn she can't. */
static void no_member_burns_more_than_there_is(void **state) {
    (void)state;
    static const struct winds winds = {3, {90.0, 90.0, 90.0}, {10.0, 3.0, 0.1}};
    struct case_of one;
    begin_with(sparing_boat(), &one, &winds, SIXTY, MORNING);
    run_well(&one);
    const struct spread_row *rows = one.spread->rows;
    const struct boat *boat = &one.world.boat;
    double distance_m = one.spread->plan->summary.distance_m;
    double sailing_mps =
        boat->factor * polar_speed(&boat->stowed, 90.0, kn_to_mps(3.0));
    double motored_m = 4.0 * 6.0 * METRES_PER_NMI;
    assert_true(sailing_mps < kn_to_mps(4.0));
    assert_near(rows[0].track.elapsed_s, one.spread->plan->summary.elapsed_s,
                1e-6);
    assert_true(rows[1].track.arrives);
    assert_near(s_to_hours(rows[1].track.elapsed_s),
                4.0 + s_to_hours((distance_m - motored_m) / sailing_mps), 0.05);
    assert_false(rows[2].track.arrives);
    assert_string_equal(rows[2].track.why, obstacle_name(OBSTACLE_FUEL));
    assert_int_equal(one.spread->track.arrive.count, 2);
    arena_free(&one.arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(arrivals_follow_from_the_polar),
        cmocka_unit_test(a_plan_is_timed_over_the_members),
        cmocka_unit_test(a_limit_that_is_broken_is_counted_and_sailed_on),
        cmocka_unit_test(deck_work_is_counted),
        cmocka_unit_test(a_member_that_heads_her_has_no_arrival_on_the_track),
        cmocka_unit_test(members_are_needed_and_bounded),
        cmocka_unit_test(a_plan_that_does_not_arrive_has_no_spread),
        cmocka_unit_test(no_member_burns_more_than_there_is),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
