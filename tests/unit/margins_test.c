/* From when to when a change can be done, worked out by hand: a boat of 3 m/s,
 * 5 with the spar drawing, on a straight way in a wind that never changes but
 * where it says so. */
#include "../support/analytic.h"
#include "../support/check.h"
#include "../support/sailing.h"

#include "base/units.h"
#include "earth/rhumb.h"
#include "plan/legs.h"
#include "plan/margins.h"

#include <math.h>

/* 2026-06-01T00:00Z, `date -u -d @1780272000` */
static const struct instant departure = {1780272000};

static const double MARGIN_S = 500.0, RUN_BEFORE_S = 3600.0;

/* Sailed west: 20 nmi stowed, 40 with the spar out, 20 stowed. Wing-and-wing,
 * the wind ten degrees from dead aft. */
enum { VERTICES = 5 };
static const double first_nmi = 20.0, second_nmi = 40.0, third_nmi = 20.0;

static const struct analytic steady = {
    .wind_from_deg = 80.0, .wind_mps = 10.0, .gust_frac = {true, 1.2}};

struct sailed {
    struct arena arena;
    struct analytic weather;
    struct voyage voyage;
    bool rolled_first; /* half of the way with the spar; then unrolled */
    bool set_at_once;  /* at the start */
    double last_nmi;   /* from the stow to the finish; 0: `third_nmi` */
    struct vertex vertices[VERTICES];
    struct track course;
    struct underway start;
    struct resail resail;
    struct plan plan;
};

static struct vertex west_of(struct position from, double nmi,
                             struct deck order) {
    return (struct vertex){.at = rhumb_ahead(from, 270.0, nmi_to_m(nmi)),
                           .order = order};
}

/* The places of the course and what is ordered there; the last one. */
static struct position make_course(struct sailed *sailed) {
    struct vertex *v = sailed->vertices;
    size_t n = 0;
    double last_nmi = sailed->last_nmi > 0.0 ? sailed->last_nmi : third_nmi;
    v[n++] = (struct vertex){.at = start, .order = STOWED};
    v[n++] = west_of(start, first_nmi, DRAWING(SPAR_STARBOARD));
    if (sailed->rolled_first) {
        v[1].order = ROLLED(SPAR_STARBOARD);
        v[n++] = west_of(v[1].at, 0.5 * second_nmi, DRAWING(SPAR_STARBOARD));
    }
    if (sailed->set_at_once)
        v[0].order = v[1].order;
    v[n++] = west_of(v[1].at, second_nmi, STOWED);
    v[n] = west_of(v[n - 1].at, last_nmi, STOWED);
    sailed->course = (struct track){.vertices = v, .count = n + 1};
    return v[n].at;
}

static void sail(struct sailed *sailed, const struct boat *boat,
                 const struct analytic *weather) {
    enum obstacle obstacle;
    arena_init(&sailed->arena);
    sailed->weather = *weather;
    double ease = sailed->voyage.ease;
    enum work_rule rule = sailed->voyage.work_rule;
    struct position finish_at = make_course(sailed);
    sailed->voyage = analytic_voyage(boat, &sailed->weather, finish_at);
    sailed->voyage.ease = ease;
    sailed->voyage.work_rule = rule;
    struct underway boat_at = sail_start(start, STOWED);
    sailed->start = track_start(&sailed->voyage, &sailed->course, &boat_at);
    sailed->plan =
        (struct plan){.boat = boat,
                      .depart = departure,
                      .forecast_run = instant_plus(departure, -RUN_BEFORE_S),
                      .forecast_end = instant_plus(departure, 1e6),
                      .summary.reached = true};
    sailed->resail = resail_course(&sailed->voyage, &sailed->course,
                                   &sailed->start, &sailed->arena);
    struct underway under = sailed->start;
    legs_sail(&sailed->voyage, &sailed->course, &under, &sailed->arena,
              &sailed->plan, &obstacle);
    assert_int_equal(obstacle, OBSTACLE_NONE);
    margins_find(&sailed->resail, MARGIN_S, 0.0, &sailed->plan);
}

static double since_departure(struct instant at) {
    return instant_minus(at, departure);
}

/* Edges are found to a minute, inwards; plans are told to the second. */
static void is_just_within(double inner_s, double edge_s) {
    assert_true(inner_s <= edge_s + 1.0);
    assert_true(inner_s >= edge_s - MARGINS_EDGE_S - 1.0);
}

static double set_s(void) {
    return nmi_to_m(first_nmi) / 3.0;
}

/* At 2.1 m/s for the 1200 s of setting it, then at 5. */
static double stow_s(void) {
    return set_s() + 1200.0 + (nmi_to_m(second_nmi) - 2.1 * 1200.0) / 5.0;
}

/* At 2.1 m/s for the 900 s of stowing it, then at 3. */
static double arrive_s(void) {
    return stow_s() + 900.0 + (nmi_to_m(third_nmi) - 2.1 * 900.0) / 3.0;
}

static void the_changes_are_where_they_are_expected(void **state) {
    (void)state;
    struct sailed sailed = {.voyage.ease = 0.0};
    sail(&sailed, plain_boat(), &steady);
    assert_int_equal(sailed.plan.change_count, 2);
    assert_near(since_departure(sailed.plan.changes[0].at), set_s(), 1.0);
    assert_near(since_departure(sailed.plan.changes[1].at), stow_s(), 1.0);
    assert_near(sailed.plan.summary.elapsed_s, arrive_s(), 1.0);
    arena_free(&sailed.arena);
}

/* Every second sailed at 3 m/s instead of 5 is 0.4 s lost. Sooner she gains:
 * from the departure on. */
static void a_set_can_wait_for_what_the_margin_pays(void **state) {
    (void)state;
    struct sailed sailed = {.voyage.ease = 0.0};
    sail(&sailed, plain_boat(), &steady);
    const struct plan_change *set = &sailed.plan.changes[0];
    assert_true(set->earliest_known && set->latest_known);
    assert_near(since_departure(set->earliest), 0.0, 1.0);
    is_just_within(since_departure(set->latest), set_s() + MARGIN_S / 0.4);
    arena_free(&sailed.arena);
}

/* 5 m in every second, which take 5/3 s stowed: 2/3 s lost. Later she gains, up
 * to where it is done on the landfall circle, kept to ten metres. */
static void a_stow_can_come_sooner_and_up_to_the_landfall(void **state) {
    (void)state;
    struct sailed sailed = {.voyage.ease = 0.0};
    const struct boat *boat = plain_boat();
    sail(&sailed, boat, &steady);
    const struct plan_change *stow = &sailed.plan.changes[1];
    double room_m = nmi_to_m(third_nmi) - boat->spar.landfall_m + 10.0;
    is_just_within(-since_departure(stow->earliest), -stow_s() + 750.0);
    is_just_within(since_departure(stow->latest),
                   stow_s() + (room_m - 2.1 * 900.0) / 5.0);
    arena_free(&sailed.arena);
}

/* An hour of error for each day since the run, off what the weather bounds: not
 * off the departure, nor the landfall. The stow is planned at 750 s from where
 * weather bounds it, the error is more: the clock can't name a later time for
 * it than the plan. */
static void the_timing_of_the_forecast_takes_its_part(void **state) {
    (void)state;
    struct sailed sailed = {.voyage.ease = 0.0};
    sail(&sailed, plain_boat(), &steady);
    const struct plan_change *changes = sailed.plan.changes;
    double set_error_s = (RUN_BEFORE_S + set_s()) / 24.0;
    double stow_error_s = (RUN_BEFORE_S + stow_s()) / 24.0;
    assert_true(changes[0].sure.any);
    assert_false(changes[1].sure.any);
    assert_near(changes[0].sure.error_s.value, set_error_s, 1.0);
    assert_near(since_departure(changes[0].sure.earliest), 0.0, 1.0);
    assert_near(instant_minus(changes[0].latest, changes[0].sure.latest),
                set_error_s, 2.0);
    assert_near(instant_minus(changes[1].sure.earliest, changes[1].earliest),
                stow_error_s, 2.0);
    assert_near(instant_minus(changes[1].latest, changes[1].sure.latest), 0.0,
                0.0);
    arena_free(&sailed.arena);
}

/* No sooner than the departure, and that comes when it does: the clock does not
 * ask to wait. */
static void a_set_at_departure_is_sure_from_then_on(void **state) {
    (void)state;
    struct sailed sailed = {.voyage.ease = 0.0, .set_at_once = true};
    sail(&sailed, plain_boat(), &steady);
    const struct plan_change *set = &sailed.plan.changes[0];
    assert_near(since_departure(set->at), 0.0, 0.0);
    assert_true(set->sure.any);
    assert_near(since_departure(set->sure.earliest), 0.0, 0.0);
    assert_true(since_departure(set->sure.latest) > 0.0);
    arena_free(&sailed.arena);
}

/* No roll is felt: what is left of the cost is time and hardship. */
static struct boat *calm_boat(void) {
    struct boat *boat = plain_boat();
    boat->comfort.easy_roll_deg = 1000.0;
    boat->comfort.working_roll_deg = 1001.0;
    return boat;
}

/* Set by night it would be 90 minutes harder: it has to be done, which takes
 * 20 minutes, when that falls. */
static void it_ends_where_night_falls(void **state) {
    (void)state;
    struct sailed sailed = {.voyage.ease = 1.0};
    struct analytic weather = steady;
    weather.night_from_s = set_s() + 1000.0 + 1200.0;
    weather.night_every_s = 1e6;
    sail(&sailed, calm_boat(), &weather);
    const struct plan_change *set = &sailed.plan.changes[0];
    is_just_within(since_departure(set->latest), set_s() + 1000.0);
    assert_near(instant_minus(set->latest, set->sure.latest), 0.0, 0.0);
    arena_free(&sailed.arena);
}

/* The second change falls into the night if the first waits at all: it has a
 * margin of its own. */
/* Dark from an hour before the last stow on, which takes 900 s by day, half as
 * long again by night. Begun 4500 s sooner it is done by day: 5 x 4500 m sailed
 * at 3 m/s instead of 5 are 3000 s lost, and 450 s less at 2.1 m/s instead of 3
 * are 135 s won. */
static void a_last_stow_in_the_dark_could_be_done_in_the_light(void **state) {
    (void)state;
    struct sailed sailed = {.voyage.work_rule = WORK_DAYLIGHT_ONLY,
                            .last_nmi = 12.0};
    struct analytic weather = steady;
    weather.night_from_s = stow_s() - 3600.0;
    weather.night_every_s = 1e6;
    sail(&sailed, plain_boat(), &weather);
    const struct plan_change *stow = &sailed.plan.changes[1];
    assert_true(stow->outside_limits && !stow->barred);
    assert_true(stow->lit.known && !sailed.plan.changes[0].lit.known);
    is_just_within(since_departure(stow->lit.at), stow_s() - 4500.0);
    assert_near(stow->lit.later_s, 3000.0 - 135.0,
                2.0 / 3.0 * MARGINS_EDGE_S + 2.0);
    assert_near(stow->lit.cost_s, stow->lit.later_s, 1e-6);
    arena_free(&sailed.arena);
    /* dark since before the spar was set: there is no such light */
    weather.night_from_s = 0.0;
    sail(&sailed, plain_boat(), &weather);
    assert_false(sailed.plan.changes[1].lit.known);
    arena_free(&sailed.arena);
}

static void the_next_change_keeps_its_hardship(void **state) {
    (void)state;
    struct sailed sailed = {.voyage.ease = 1.0};
    struct analytic weather = steady;
    weather.night_from_s = stow_s() + 900.0 + 5.0;
    weather.night_every_s = 1e6;
    sail(&sailed, calm_boat(), &weather);
    const struct plan_change *set = &sailed.plan.changes[0];
    double minutes_s = MARGIN_S / 0.4;
    assert_true(since_departure(set->latest) > set_s() + 0.5 * minutes_s);
    is_just_within(since_departure(sailed.plan.changes[1].latest),
                   stow_s() + 5.0);
    arena_free(&sailed.arena);
}

/* The last stow, by day just done at the landfall, lasts half as long again in
 * the dark. */
static void make_it_late(struct sailed *sailed, const struct boat *boat,
                         struct analytic *weather) {
    double room_m = 1.2 * 2.1 * 900.0;
    *weather = steady;
    weather->night_from_s = 9e5;
    weather->night_every_s = 1e6;
    sailed->last_nmi = m_to_nmi(boat->spar.landfall_m + room_m);
}

/* The set pushes it into the dark: that is no matter of the set, which costs
 * 0.4 s a second and 450 s more of slow work, 0.3 s each. */
static void the_landfall_binds_the_last_stow_alone(void **state) {
    (void)state;
    struct sailed sailed = {.voyage.ease = 0.0};
    struct boat *boat = plain_boat();
    struct analytic weather;
    make_it_late(&sailed, boat, &weather);
    weather.night_from_s = stow_s() + 900.0 + 5.0;
    sail(&sailed, boat, &weather);
    const struct plan_change *set = &sailed.plan.changes[0];
    const struct plan_change *stow = &sailed.plan.changes[1];
    double slow_s = 0.3 * 900.0 * (boat->spar.night_factor - 1.0);
    is_just_within(since_departure(set->latest),
                   set_s() + (MARGIN_S - slow_s) / 0.4);
    assert_near(instant_minus(set->latest, set->sure.latest),
                set->sure.error_s.value, 2.0);
    is_just_within(since_departure(stow->latest), stow_s() + 5.0);
    assert_int_equal(set->skip.kind, SKIP_COSTS);
    assert_int_equal(stow->skip.kind, SKIP_NEVER);
    struct resailed later = resail_moved(
        &sailed.resail, &sailed.resail.changes[0], set_s() + 300.0);
    assert_true(later.sailed && later.hastened && !later.too_late);
    later = resail_moved(&sailed.resail, &sailed.resail.changes[1],
                         stow_s() + 900.0);
    assert_true(!later.sailed && later.too_late && !later.hastened);
    arena_free(&sailed.arena);
}

/* The headsail that is not unrolled makes her late for it, the spar being out
 * all the time: that costs, and the landfall does not ask for it. */
static void a_headsail_left_rolled_is_not_for_the_landfall(void **state) {
    (void)state;
    struct sailed sailed = {.voyage.ease = 0.0, .rolled_first = true};
    struct boat *boat = plain_boat();
    struct analytic weather;
    make_it_late(&sailed, boat, &weather);
    sail(&sailed, boat, &weather);
    assert_int_equal(sailed.plan.change_count, 3);
    struct sailed dark = {.rolled_first = true, .last_nmi = sailed.last_nmi};
    weather.night_from_s =
        since_departure(sailed.plan.changes[2].at) + 900.0 + 5.0;
    sail(&dark, boat, &weather);
    const struct plan_change *changes = dark.plan.changes;
    assert_int_equal(changes[1].kind, CHANGE_UNROLL);
    assert_int_equal(changes[1].skip.kind, SKIP_COSTS);
    assert_true(changes[1].skip.later_s > 600.0);
    double slow_s = 0.3 * 900.0 * (boat->spar.night_factor - 1.0);
    is_just_within(instant_minus(changes[1].latest, changes[1].at),
                   (MARGIN_S - slow_s) / (1.0 - 0.6 * 3.0 / 5.0));
    assert_int_equal(changes[0].skip.kind, SKIP_COSTS);
    assert_int_equal(changes[2].skip.kind, SKIP_NEVER);
    arena_free(&sailed.arena);
    arena_free(&dark.arena);
}

/* A wind that rises by 1 m/s in 10,000 s passes the limit for work. */
static void it_ends_where_the_work_limits_do(void **state) {
    (void)state;
    struct sailed sailed = {.voyage.ease = 0.0};
    struct boat *boat = plain_boat();
    struct analytic weather = steady;
    double limit_s = set_s() + 700.0;
    weather.rise_mps_per_day = 8.64;
    boat->work.max_wind_mps = steady.wind_mps + 1e-4 * limit_s;
    sail(&sailed, boat, &weather);
    is_just_within(since_departure(sailed.plan.changes[0].latest), limit_s);
    arena_free(&sailed.arena);
}

/* Stowed all the way at 3 m/s; the stow then falls away, too. */
static void leaving_the_set_undone_costs_the_spar(void **state) {
    (void)state;
    struct sailed sailed = {.voyage.ease = 0.0};
    sail(&sailed, plain_boat(), &steady);
    const struct plan_skip *skip = &sailed.plan.changes[0].skip;
    double stowed_s = nmi_to_m(first_nmi + second_nmi + third_nmi) / 3.0;
    assert_int_equal(skip->kind, SKIP_COSTS);
    assert_near(skip->cost_s, stowed_s - arrive_s(), 1.0);
    assert_near(skip->later_s, stowed_s - arrive_s(), 1.0);
    assert_int_equal(sailed.plan.changes[1].skip.kind, SKIP_NEVER);
    arena_free(&sailed.arena);
}

/* Set with the headsail rolled, which is unrolled half of the way on: the spar
 * is not there for that either, up to the stow. */
static void
what_is_left_undone_stays_so_to_the_next_work_on_the_spar(void **state) {
    (void)state;
    struct sailed sailed = {.voyage.ease = 0.0, .rolled_first = true};
    sail(&sailed, plain_boat(), &steady);
    const struct plan_change *set = &sailed.plan.changes[0];
    double stowed_s = nmi_to_m(first_nmi + second_nmi + third_nmi) / 3.0;
    assert_int_equal(set->kind, CHANGE_SET);
    assert_int_equal(sailed.plan.changes[1].kind, CHANGE_UNROLL);
    assert_int_equal(set->skip.kind, SKIP_COSTS);
    assert_near(set->skip.later_s, stowed_s - sailed.resail.end.t_s, 1.0);
    arena_free(&sailed.arena);
}

/* With ease 1 the hardship of both, half an hour each, is saved. */
static void what_is_left_undone_is_no_hardship(void **state) {
    (void)state;
    struct sailed sailed = {.voyage.ease = 1.0};
    sail(&sailed, calm_boat(), &steady);
    const struct plan_skip *skip = &sailed.plan.changes[0].skip;
    assert_near(skip->later_s - skip->cost_s, 3600.0, 1.0);
    arena_free(&sailed.arena);
}

/* The wind veers by a degree an hour through dead aft, at 30 h. The mainsail
 * comes over 3 degrees by the lee, at 33 h, and could do so from 27 h on. */
static void before_the_wind_the_mainsail_can_come_over_sooner(void **state) {
    (void)state;
    struct sailed sailed = {.voyage.ease = 0.0};
    struct analytic weather = {
        .wind_from_deg = 60.0, .wind_mps = 10.0, .veer_deg_per_day = 24.0};
    struct vertex ends[2] = {{.at = start}};
    ends[1] = west_of(start, 260.0, STOWED);
    arena_init(&sailed.arena);
    sailed.course = (struct track){.vertices = ends, .count = 2};
    sailed.voyage = analytic_voyage(plain_boat(), &weather, ends[1].at);
    struct underway boat_at = sail_start(start, STOWED);
    boat_at = track_start(&sailed.voyage, &sailed.course, &boat_at);
    sailed.resail =
        resail_course(&sailed.voyage, &sailed.course, &boat_at, &sailed.arena);
    assert_int_equal(sailed.resail.change_count, 1);
    const struct resail_change *over = sailed.resail.changes;
    double hour = SECONDS_PER_HOUR;
    assert_near(over->t_s, 33.0 * hour, 60.0);
    for (int i = 0; i < 24; i++) {
        double t_s = (25.05 + 0.3 * i) * hour;
        struct resailed sooner = resail_brought_over(&sailed.resail, over, t_s);
        assert_int_equal(sooner.sailed, t_s > 27.0 * hour);
        if (sooner.sailed)
            assert_near(sooner.t_s, sailed.resail.end.t_s, 1.0);
    }
    arena_free(&sailed.arena);
}

static void the_margin_is_ten_minutes_and_thirty_over_three_days(void **state) {
    (void)state;
    double three_days_s = 72.0 * SECONDS_PER_HOUR;
    assert_near(margins_cost_s(figure_unknown(), three_days_s), 600.0, 0.0);
    assert_near(margins_cost_s(figure_unknown(), three_days_s + 1.0), 1800.0,
                0.0);
    assert_near(margins_cost_s(figure_of(1200.0), 1e6), 1200.0, 0.0);
}

static void a_plan_that_does_not_arrive_has_no_margins(void **state) {
    (void)state;
    struct sailed sailed = {.voyage.ease = 0.0};
    sail(&sailed, plain_boat(), &steady);
    struct plan_change *set = &sailed.plan.changes[0];
    set->earliest_known = set->latest_known = false;
    sailed.plan.summary.reached = false;
    margins_find(&sailed.resail, MARGIN_S, 0.0, &sailed.plan);
    assert_false(set->earliest_known || set->latest_known);
    arena_free(&sailed.arena);
}

#define TEST(name) cmocka_unit_test(name)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(the_changes_are_where_they_are_expected),
        TEST(a_set_can_wait_for_what_the_margin_pays),
        TEST(a_stow_can_come_sooner_and_up_to_the_landfall),
        TEST(the_timing_of_the_forecast_takes_its_part),
        TEST(a_set_at_departure_is_sure_from_then_on),
        TEST(it_ends_where_night_falls),
        TEST(a_last_stow_in_the_dark_could_be_done_in_the_light),
        TEST(the_next_change_keeps_its_hardship),
        TEST(the_landfall_binds_the_last_stow_alone),
        TEST(a_headsail_left_rolled_is_not_for_the_landfall),
        TEST(it_ends_where_the_work_limits_do),
        TEST(leaving_the_set_undone_costs_the_spar),
        TEST(what_is_left_undone_stays_so_to_the_next_work_on_the_spar),
        TEST(what_is_left_undone_is_no_hardship),
        TEST(before_the_wind_the_mainsail_can_come_over_sooner),
        TEST(the_margin_is_ten_minutes_and_thirty_over_three_days),
        TEST(a_plan_that_does_not_arrive_has_no_margins),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
