/* How long a change can wait, in words. */
#include "../support/check.h"
#include "../support/plan_example.h"
#include "../support/scratch.h"

#include "base/units.h"
#include "report/clock.h"
#include "report/room.h"

static struct plan_example example;

static int begin(void **state) {
    scratch_begin(state);
    plan_example_make(&example);
    return 0;
}

static const char *between(int index) {
    return room_between(&arena, &example.plan, &example.changes[index]);
}

static const char *surely(int index) {
    return room_surely(&arena, &example.plan, &example.changes[index]);
}

static const char *skip_of(int index) {
    return room_skip(&arena, &example.changes[index]);
}

static void a_margin_has_its_times_and_its_zone(void **state) {
    (void)state;
    assert_string_equal(between(0), "between Fri 15 Mar 08:00 and 14:30 UTC");
    assert_string_equal(surely(0), "surely between Fri 15 Mar 08:45 and 13:45 "
                                   "UTC, be the forecast 0 h 45 min out there "
                                   "or not");
    assert_string_equal(skip_of(0), "leaving it undone: arrival 2 h 30 min "
                                    "later, 0.9 deg more roll; weighed cost "
                                    "2 h 10 min, the track kept");
}

static void what_is_not_known_is_not_told(void **state) {
    (void)state;
    assert_null(between(1));
    assert_null(surely(1));
    assert_null(skip_of(1));
}

static void the_course_turns_when_it_does(void **state) {
    (void)state;
    assert_string_equal(between(4), "at its place, where the course turns");
    assert_null(surely(4));
    example.changes[4].starts_leg = false;
    assert_string_equal(between(4), "when the wind asks for it");
}

/* Before the wind the mainsail has room. */
static void a_mainsail_gybe_with_room_has_times(void **state) {
    (void)state;
    struct plan_change *change = &example.changes[4];
    change->earliest = instant_plus(change->latest, -hours_to_s(30.0));
    assert_contains(between(4), "between ");
}

static void what_the_clock_can_t_tell_the_sky_or_the_place_does(void **state) {
    (void)state;
    struct plan_change *change = &example.changes[5];
    assert_string_equal(surely(5), "not by the clock: the forecast may be 5 h "
                                   "30 min out there");
    change->deck_work = false;
    assert_string_equal(surely(5), "go by the place, not by the clock: the "
                                   "forecast may be 5 h 30 min out there");
    change->deck_work = true;
    change->sign.kind = SIGN_AFT;
    assert_contains(surely(5), "go by the sky, not by the clock: the forecast");
    change->sure.error_s = figure_unknown();
    assert_string_equal(surely(5), "go by the sky, not by the clock: the "
                                   "forecast has ended there");
    change->sign.kind = SIGN_LIGHT; /* nightfall is no matter of the forecast */
    assert_null(surely(5));
    assert_contains(skip_of(5), "it can't be left undone");
}

static void a_small_error_is_not_told(void **state) {
    (void)state;
    example.changes[0].sure.error_s = figure_of(600.0);
    assert_null(surely(0));
}

static void times_that_look_alike_are_told_once(void **state) {
    (void)state;
    struct plan_change *set = &example.changes[0];
    set->at = set->earliest;
    set->latest = instant_plus(set->earliest, 240.0);
    assert_string_equal(between(0),
                        "Fri 15 Mar 08:00 UTC, as near as it can be told");
    set->latest = instant_plus(set->earliest, 20.0);
    assert_string_equal(between(0),
                        "Fri 15 Mar 08:00 UTC, no sooner and no later");
}

/* Nobody is told a moment that is too late, or too soon: ends are rounded
 * inwards, and told to the minute where what is planned is nearer than that. */
static void an_end_is_never_told_outside(void **state) {
    (void)state;
    static const struct {
        double early_min, at_min, late_min; /* after 08:00 */
        const char *told;
    } rows[] = {
        {10, 60, 119, "between Fri 15 Mar 08:15 and 09:45 UTC"},
        {1, 16, 31, "between Fri 15 Mar 08:15 and 08:30 UTC"},
        {10, 12, 119, "between Fri 15 Mar 08:10 and 09:45 UTC"},
        {61, 61, 119, "between Fri 15 Mar 09:00 and 09:45 UTC"},
        {10.4, 10.4, 119, "between Fri 15 Mar 08:10 and 09:45 UTC"},
        {10, 60, 68, "between Fri 15 Mar 08:15 and 09:00 UTC"},
        {10, 66, 68, "between Fri 15 Mar 08:15 and 09:08 UTC"},
        /* the third and fourth day: hours */
        {4576, 4580, 4606, "between Mon 18 Mar 12:16 and 12:46 UTC"},
        {4500, 4600, 4710,
         "between Mon 18 Mar about 11:00 and about 14:00 UTC"},
        {4500, 4625, 4630, "between Mon 18 Mar about 11:00 and 13:10 UTC"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct plan_change *set = &example.changes[0];
        struct instant eight = {1710489600}; /* Fri 15 Mar 2024 08:00 */
        set->earliest = instant_plus(eight, 60.0 * rows[i].early_min);
        set->at = instant_plus(eight, 60.0 * rows[i].at_min);
        set->latest = instant_plus(eight, 60.0 * rows[i].late_min);
        assert_string_equal(between(0), rows[i].told);
    }
}

static void work_is_not_told_outside_its_margin(void **state) {
    (void)state;
    struct plan_change *set = &example.changes[0];
    struct instant eight = {1710489600}; /* Fri 15 Mar 2024 08:00 */
    char at[SHARP_TEXT_SIZE];
    set->earliest = eight;
    set->at = instant_plus(eight, 60.0 * 23.0);
    set->latest = instant_plus(eight, 60.0 * 40.0);
    clock_print_change(&example.plan, set, at);
    assert_string_equal(at, "Fri 15 Mar 08:30 UTC");
    set->latest = set->at; /* night falls, say */
    clock_print_change(&example.plan, set, at);
    assert_string_equal(at, "Fri 15 Mar 08:23 UTC");
    clock_print_change_short(&example.plan, set, at);
    assert_string_equal(at, "15 08:23");
}

static void a_skip_may_cost_nothing_and_calm_the_boat(void **state) {
    (void)state;
    example.changes[0].skip = (struct plan_skip){.kind = SKIP_COSTS,
                                                 .cost_s = -3.0,
                                                 .later_s = -600.0,
                                                 .roll_deg = -1.2};
    assert_string_equal(skip_of(0), "leaving it undone: arrival 0 h 10 min "
                                    "sooner, 1.2 deg less roll; weighed cost "
                                    "nothing, the track kept");
    example.changes[0].skip = (struct plan_skip){
        .kind = SKIP_COSTS, .cost_s = 60.0, .later_s = 20.0, .roll_deg = 0.04};
    assert_string_equal(skip_of(0), "leaving it undone: arrival no later, no "
                                    "more roll; weighed cost 0 h 01 min, the "
                                    "track kept");
}

static void a_skip_without_a_figure_says_why(void **state) {
    (void)state;
    struct plan_skip *skip = &example.changes[0].skip;
    *skip = (struct plan_skip){.kind = SKIP_CLOSED, .why = "the wind limit"};
    assert_string_equal(skip_of(0), "leaving it undone: no figure; so the rest "
                                    "of the track can't be sailed, for the "
                                    "wind limit: plan again");
    skip->why = NULL;
    assert_contains(skip_of(0), "can't be sailed: plan again");
    skip->kind = SKIP_FORBIDDEN;
    assert_contains(skip_of(0), "work later that the limits forbid");
}

static void the_key_names_the_margin(void **state) {
    (void)state;
    assert_contains(room_key(&arena, &example.plan), "at most 30 min more");
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin, scratch_end)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(a_margin_has_its_times_and_its_zone),
        TEST(what_is_not_known_is_not_told),
        TEST(the_course_turns_when_it_does),
        TEST(a_mainsail_gybe_with_room_has_times),
        TEST(what_the_clock_can_t_tell_the_sky_or_the_place_does),
        TEST(a_small_error_is_not_told),
        TEST(times_that_look_alike_are_told_once),
        TEST(an_end_is_never_told_outside),
        TEST(work_is_not_told_outside_its_margin),
        TEST(a_skip_may_cost_nothing_and_calm_the_boat),
        TEST(a_skip_without_a_figure_says_why),
        TEST(the_key_names_the_margin),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
