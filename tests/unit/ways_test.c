#include "../support/check.h"

#include "../support/analytic.h"
#include "../support/sailing.h"

#include "base/units.h"
#include "earth/geodesic.h"
#include "plan/ways.h"

#include <math.h>

static bool is_better(enum work_rule rule, struct way way, struct way other) {
    struct voyage voyage = {.work_rule = rule};
    return ways_is_better(&voyage, &way, &other);
}

static struct way way_of(double cost_s, bool gybes_kept) {
    return (struct way){.cost_s = cost_s, .gybes_kept = gybes_kept};
}

static void the_cheaper_way_is_better(void **state) {
    (void)state;
    for (int kept = 0; kept < 2; kept++) {
        struct way one = way_of(10.0, kept), two = way_of(11.0, kept);
        for (int rule = WORK_DAYLIGHT_FIRST; rule <= WORK_DAYLIGHT_ONLY;
             rule++) {
            assert_true(is_better((enum work_rule)rule, one, two));
            assert_false(is_better((enum work_rule)rule, two, one));
            assert_false(is_better((enum work_rule)rule, one, one));
        }
    }
}

/* One with a gybe in the dark would be refused in the end. */
static void by_daylight_only_one_that_keeps_its_gybes_goes_first(void **state) {
    (void)state;
    struct way dear = way_of(20.0, true), cheap = way_of(10.0, false);
    assert_true(is_better(WORK_DAYLIGHT_ONLY, dear, cheap));
    assert_false(is_better(WORK_DAYLIGHT_ONLY, cheap, dear));
    assert_false(is_better(WORK_DAYLIGHT_FIRST, dear, cheap));
    assert_true(is_better(WORK_DAYLIGHT_FIRST, cheap, dear));
}

static void none_is_never_better(void **state) {
    (void)state;
    struct way none = way_of(HUGE_VAL, true), some = way_of(10.0, false);
    assert_false(is_better(WORK_DAYLIGHT_ONLY, none, some));
    assert_true(is_better(WORK_DAYLIGHT_ONLY, some, none));
    assert_false(is_better(WORK_DAYLIGHT_ONLY, none, none));
}

/* Some 23 miles to the west, straight or by a place so far south of the middle.
 */
static struct track bent(struct vertex *vertices, double south_deg) {
    struct position middle = start, end = start;
    middle.lon_deg -= 0.2;
    middle.lat_deg -= south_deg;
    end.lon_deg -= 0.4;
    vertices[0] = (struct vertex){.at = start, .pinned = true};
    vertices[1] = (struct vertex){.at = middle};
    vertices[2] = (struct vertex){.at = end, .pinned = true};
    return (struct track){vertices, 3};
}

/* In 8 m/s from the north: the way round takes longer, and by as much. */
static void what_keeping_gybes_costs_is_the_difference(void **state) {
    (void)state;
    struct analytic weather = {.wind_from_deg = 0.0, .wind_mps = 8.0};
    struct voyage voyage = analytic_voyage(plain_boat(), &weather, far_away);
    struct underway boat = sail_start(start, STOWED);
    struct vertex short_places[3], long_places[3];
    struct track straight = bent(short_places, 0.0);
    struct track round = bent(long_places, 0.2);
    struct ways_ask ask = {.voyage = &voyage, .start = &boat};
    double straight_s, round_s, elapsed_s;
    straight_s = track_cost(&voyage, &straight, &boat, &elapsed_s);
    round_s = track_cost(&voyage, &round, &boat, &elapsed_s);
    assert_true(round_s > straight_s + 60.0);
    struct way none = way_of(HUGE_VAL, false);
    struct way kept = way_of(round_s, true), plain = way_of(straight_s, true);
    kept.course = round;
    plain.course = straight;
    assert_false(ways_kept_gybes_s(&ask, &kept, &none).known);
    kept.given_up = straight;
    struct figure more_s = ways_kept_gybes_s(&ask, &kept, &none);
    assert_true(more_s.known);
    assert_near(more_s.value, round_s - straight_s, 1e-6);
    plain.given_up = round; /* what was found in the end is no dearer */
    assert_false(ways_kept_gybes_s(&ask, &plain, &none).known);
    /* one without the spar, its gybe in the dark, is left for the dear one */
    voyage.work_rule = WORK_DAYLIGHT_ONLY;
    struct way gybing = way_of(straight_s, false);
    gybing.course = straight;
    kept.given_up.count = 0;
    more_s = ways_kept_gybes_s(&ask, &kept, &gybing);
    assert_near(more_s.value, round_s - straight_s, 1e-6);
    voyage.work_rule = WORK_DAYLIGHT_FIRST;
    assert_false(ways_kept_gybes_s(&ask, &kept, &gybing).known);
}

/* 60 nmi to the west in 6 m/s from there. */
struct both {
    struct way with, without;
    struct search_result alone; /* of a search without the spar by itself */
};

static struct both find_both(double wind_from_deg, struct arena *arena) {
    struct analytic weather = {.wind_from_deg = wind_from_deg, .wind_mps = 6.0};
    struct voyage voyage =
        analytic_voyage(analytic_boat("heron-9"), &weather,
                        geodesic_ahead(start, 270.0, nmi_to_m(60.0)));
    struct underway boat = sail_start(start, STOWED);
    struct search_request asked = {
        .from = start, .to = voyage.finish, .start = STOWED};
    struct ways_ask ask = {.voyage = &voyage,
                           .start = &boat,
                           .asked = &asked,
                           .cut = {.leg_loss_frac = 0.003, .most_points = 50},
                           .arena = arena};
    struct both both = {.with = way_of(HUGE_VAL, false),
                        .without = way_of(HUGE_VAL, false)};
    ways_find(&ask, &both.with, &both.without);
    voyage.spar_allowed = false;
    search_run(&voyage, &asked, NULL, arena, &both.alone);
    return both;
}

/* A spar that stays stowed gains nothing; one that is set does. */
static void a_way_that_leaves_the_spar_stowed_is_the_one_without(void **state) {
    (void)state;
    struct arena arena;
    arena_init(&arena);
    struct both abeam = find_both(0.0, &arena);
    assert_true(abeam.without.found.reached);
    assert_near(abeam.without.cost_s, abeam.with.cost_s, 0.0);
    /* one search for both: another one, without the spar, takes less work */
    assert_int_equal(abeam.without.found.expansions,
                     abeam.with.found.expansions);
    assert_true(abeam.alone.expansions < abeam.with.found.expansions);
    assert_int_equal(abeam.without.course.count, abeam.with.course.count);
    assert_near(abeam.without.found.cost_s, abeam.alone.cost_s,
                5e-4 * abeam.alone.cost_s);
    struct both astern = find_both(90.0, &arena);
    assert_true(astern.without.cost_s > 1.05 * astern.with.cost_s);
    assert_near(astern.without.found.cost_s, astern.alone.cost_s, 0.0);
    arena_free(&arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_cheaper_way_is_better),
        cmocka_unit_test(by_daylight_only_one_that_keeps_its_gybes_goes_first),
        cmocka_unit_test(none_is_never_better),
        cmocka_unit_test(what_keeping_gybes_costs_is_the_difference),
        cmocka_unit_test(a_way_that_leaves_the_spar_stowed_is_the_one_without),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
