/* Watches, who is called, and rest, worked out by hand. */
#include "../support/analytic.h"
#include "../support/check.h"

#include "base/units.h"
#include "earth/rhumb.h"
#include "plan/legs.h"
#include "plan/plan.h"

#include <string.h>

/* 2024-03-15T05:00Z, `date -u -d @1710478800` */
static const struct instant depart = {1710478800};

static struct instant after_h(double hours) {
    return instant_plus(depart, hours_to_s(hours));
}

/* The first named has the watch from `first_h` after departure on. */
static struct crew crew_of(int count, double watch_h, double first_h) {
    return (struct crew){.count = count,
                         .names = {"Ann", "Bo", "Cy"},
                         .watch_s = hours_to_s(watch_h),
                         .first = after_h(first_h)};
}

static void watch_is(const struct crew *crew, double at_h, int who,
                     double end_h) {
    assert_int_equal(crew_on_watch(crew, after_h(at_h)), who);
    assert_int_equal(crew_watch_end(crew, after_h(at_h)).unix_s,
                     after_h(end_h).unix_s);
}

/* 05:00 UTC is 03:00 by a clock two hours behind. */
static void the_first_watch_begins_at_or_before_departure(void **state) {
    (void)state;
    static const struct {
        double zone_h, start_h, first_h;
    } cases[] = {{0.0, 0.0, -5.0},    {0.0, 5.0, 0.0},  {0.0, 20.0, -9.0},
                 {-2.0, 20.0, -7.0},  {-2.0, 3.0, 0.0}, {-2.0, 3.5, -23.5},
                 {-8.0, 20.0, -1.0},  {3.5, 8.5, 0.0},  {5.75, 10.75, 0.0},
                 {5.75, 11.0, -23.75}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct instant first = crew_first_watch(
            depart, hours_to_s(cases[i].zone_h), hours_to_s(cases[i].start_h));
        assert_int_equal(first.unix_s, after_h(cases[i].first_h).unix_s);
    }
}

/* On both sides of the date line it is 18:00, of different days. */
static void the_date_of_the_ships_clock_does_not_matter(void **state) {
    (void)state;
    double start_s = hours_to_s(20.0);
    struct instant east = crew_first_watch(depart, hours_to_s(13.0), start_s);
    struct instant west = crew_first_watch(depart, hours_to_s(-11.0), start_s);
    assert_int_equal(east.unix_s, after_h(-22.0).unix_s);
    assert_int_equal(west.unix_s, east.unix_s);
}

/* From 20:00, seven hours before departure at 03:00: Ann to 00:00, Bo to 04:00,
 * over midnight. */
static void watches_go_on_over_midnight(void **state) {
    (void)state;
    struct crew crew = crew_of(2, 4.0, -7.0);
    watch_is(&crew, -7.0, 0, -3.0);
    watch_is(&crew, -3.001, 0, -3.0);
    watch_is(&crew, -3.0, 1, 1.0);
    watch_is(&crew, 0.0, 1, 1.0);
    watch_is(&crew, 1.0, 0, 5.0);
    watch_is(&crew, 24.0, 1, 25.0);
    assert_true(crew_is_daily(&crew));
}

static void three_take_turns(void **state) {
    (void)state;
    struct crew crew = crew_of(3, 3.0, 0.0);
    watch_is(&crew, 2.9, 0, 3.0);
    watch_is(&crew, 3.0, 1, 6.0);
    watch_is(&crew, 8.0, 2, 9.0);
    watch_is(&crew, 9.0, 0, 12.0);
    watch_is(&crew, 24.0, 2, 27.0); /* the ninth: the hours shift */
    assert_false(crew_is_daily(&crew));
    crew.watch_s = hours_to_s(4.0);
    assert_true(crew_is_daily(&crew));
    crew.watch_s = hours_to_s(2.5);
    assert_false(crew_is_daily(&crew));
}

static void nobody_is_there_where_no_crew_is_known(void **state) {
    (void)state;
    struct crew crew = {.count = 0};
    assert_int_equal(crew_on_watch(&crew, depart), CREW_NOBODY);
    assert_int_equal(crew_called(&crew, depart), CREW_NOBODY);
}

static void the_one_nearest_to_a_watch_of_their_own_is_called(void **state) {
    (void)state;
    struct crew two = crew_of(2, 4.0, 0.0), three = crew_of(3, 4.0, 0.0);
    struct crew one = crew_of(1, 4.0, 0.0);
    assert_int_equal(crew_called(&two, after_h(0.5)), 1);
    assert_int_equal(crew_called(&two, after_h(3.5)), 1);
    assert_int_equal(crew_called(&two, after_h(4.5)), 0);
    /* Bo has the watch from 4 to 8: Ann is just off, then Cy is about to */
    assert_int_equal(crew_called(&three, after_h(4.5)), 0);
    assert_int_equal(crew_called(&three, after_h(7.5)), 2);
    assert_int_equal(crew_called(&three, after_h(0.5)), 2);
    assert_int_equal(crew_called(&three, after_h(11.5)), 0);
    assert_int_equal(crew_called(&one, after_h(0.5)), CREW_NOBODY);
    assert_int_equal(crew_on_watch(&one, after_h(99.0)), 0);
}

/* --- rest ----------------------------------------------------------------- */

struct spans_h {
    double start_h, end_h;
};

enum { MOST = 8 };

static struct crew_rest rest_of(const struct crew *crew, int person,
                                double end_h, const struct spans_h *works_h,
                                const struct spans_h *easy_h) {
    struct crew_span works[MOST], easy[MOST];
    struct crew_spans all = {works, 0}, calm = {easy, 0};
    for (; works_h[all.count].end_h > 0.0; all.count++)
        works[all.count] =
            (struct crew_span){hours_to_s(works_h[all.count].start_h),
                               hours_to_s(works_h[all.count].end_h)};
    for (; easy_h[calm.count].end_h > 0.0; calm.count++)
        easy[calm.count] =
            (struct crew_span){hours_to_s(easy_h[calm.count].start_h),
                               hours_to_s(easy_h[calm.count].end_h)};
    struct crew_time time = {depart, hours_to_s(end_h), all, calm};
    return crew_rest_of(crew, person, &time);
}

static void rest_is(struct crew_rest rest, double rest_h, double easy_h,
                    double longest_h, int called) {
    assert_near(s_to_hours(rest.rest_s), rest_h, 1e-9);
    assert_near(s_to_hours(rest.easy_s), easy_h, 1e-9);
    assert_near(s_to_hours(rest.longest_s), longest_h, 1e-9);
    assert_int_equal(rest.called, called);
}

static const struct spans_h none[] = {{0.0, 0.0}};

/* Ann 0-4, 8-12, 16-20; Bo 4-8, 12-16, 20-24. At 5 Ann is called for half an
 * hour: she rests 4-5, 5:30-8, 12-16, 20-24. */
static void work_in_the_middle_breaks_a_rest_in_two(void **state) {
    (void)state;
    static const struct spans_h works[] = {{5.0, 5.5}, {0.0, 0.0}};
    static const struct spans_h easy[] = {{0.0, 6.0}, {14.0, 21.0}, {0.0, 0.0}};
    struct crew crew = crew_of(2, 4.0, 0.0);
    rest_is(rest_of(&crew, 0, 24.0, works, easy), 11.5, 4.5, 4.0, 1);
    rest_is(rest_of(&crew, 1, 24.0, works, easy), 12.0, 8.0, 4.0, 0);
    /* to 8 only: 1 h and 2 1/2 h are left of her four */
    rest_is(rest_of(&crew, 0, 8.0, works, easy), 3.5, 1.5, 2.5, 1);
}

/* Begun at 3:45 in Ann's watch, done at 4:15 in Bo's: Bo loses the last quarter
 * before, Ann the first after. */
static void work_over_a_change_of_watch_keeps_both_up(void **state) {
    (void)state;
    static const struct spans_h works[] = {{3.75, 4.25}, {0.0, 0.0}};
    struct crew crew = crew_of(2, 4.0, 0.0);
    rest_is(rest_of(&crew, 0, 8.0, works, none), 3.75, 0.0, 3.75, 0);
    rest_is(rest_of(&crew, 1, 8.0, works, none), 3.75, 0.0, 3.75, 1);
}

/* Of three, on 0-4, 4-8 and 8-12: at 6:30 Cy is called, an hour and a half
 * before her watch; Ann sleeps her eight hours through. */
static void the_third_of_three_sleeps_on(void **state) {
    (void)state;
    static const struct spans_h works[] = {{6.5, 7.0}, {0.0, 0.0}};
    struct crew crew = crew_of(3, 4.0, 0.0);
    rest_is(rest_of(&crew, 0, 12.0, works, none), 8.0, 0.0, 8.0, 0);
    rest_is(rest_of(&crew, 1, 12.0, works, none), 8.0, 0.0, 4.0, 0);
    rest_is(rest_of(&crew, 2, 12.0, works, none), 7.5, 0.0, 6.5, 1);
}

static void one_alone_is_free_between_works(void **state) {
    (void)state;
    static const struct spans_h works[] = {{2.0, 2.5}, {9.0, 9.25}, {0.0, 0.0}};
    struct crew crew = crew_of(1, 0.0, 0.0);
    rest_is(rest_of(&crew, 0, 10.0, works, none), 9.25, 0.0, 6.5, 0);
}

/* The watch under way at departure counts from there on. */
static void a_watch_that_began_before_goes_on(void **state) {
    (void)state;
    struct crew crew = crew_of(2, 4.0, -3.0);
    rest_is(rest_of(&crew, 0, 6.0, none, none), 4.0, 0.0, 4.0, 0);
    rest_is(rest_of(&crew, 1, 6.0, none, none), 2.0, 0.0, 1.0, 0);
}

/* --- names ---------------------------------------------------------------- */

static void names_are_read(void **state) {
    (void)state;
    struct arena arena;
    const char *names[CREW_PEOPLE];
    int count;
    arena_init(&arena);
    assert_null(crew_read_names(" Ann , Bo Li,C", &arena, names, &count));
    assert_int_equal(count, 3);
    assert_string_equal(names[0], "Ann");
    assert_string_equal(names[1], "Bo Li");
    assert_string_equal(names[2], "C");
    assert_null(
        crew_read_names("a,b,c,d,e,f,g,h,i,j,k,l", &arena, names, &count));
    assert_int_equal(count, CREW_PEOPLE);
    assert_null(crew_read_names("Ann, a name of twenty-four b.", &arena, names,
                                &count));
    assert_int_equal(strlen(names[1]), CREW_NAME_BYTES);
    static const char *const faults[][2] = {
        {"Ann,, Bo", "a name is missing"},
        {"Ann, Bo,", "a name is missing"},
        {"Ann, Ann", "stands there twice"},
        {"a,b,c,d,e,f,g,h,i,j,k,l,m", "more than 12 names"},
        {"Ann, a name of twenty-five by.", "longer than 24 bytes"},
    };
    for (size_t i = 0; i < sizeof faults / sizeof *faults; i++) {
        const char *fault =
            crew_read_names(faults[i][0], &arena, names, &count);
        assert_non_null(fault);
        assert_contains(fault, faults[i][1]);
    }
    arena_free(&arena);
}

/* --- of a plan ------------------------------------------------------------ */

/* Sails due south before a wind on the quarter, in a sea that grows no roll or
 * in one that rolls her all the time. */
static struct crew_rest rest_in(double wave_m, struct plan *plan,
                                struct arena *arena) {
    struct analytic weather = {.wind_from_deg = 70.0,
                               .wind_mps = 8.0,
                               .wave_m = wave_m,
                               .wave_period_s = 7.0};
    struct vertex vertices[2] = {{.at = {30.0, -40.0}}, {.at = {28.0, -40.0}}};
    struct track course = {.vertices = vertices, .count = 2};
    struct voyage voyage =
        analytic_voyage(analytic_boat("wanderer-12"), &weather, vertices[1].at);
    struct underway begin =
        sail_start(vertices[0].at, (struct deck){.spar = SPAR_STOWED});
    struct underway boat = track_start(&voyage, &course, &begin);
    enum obstacle obstacle;
    *plan = (struct plan){.boat = voyage.boat,
                          .depart = depart,
                          .forecast_run = depart,
                          .forecast_end = after_h(200.0),
                          .crew = crew_of(2, 4.0, 0.0)};
    legs_sail(&voyage, &course, &boat, arena, plan, &obstacle);
    assert_int_equal(obstacle, OBSTACLE_NONE);
    boat = track_start(&voyage, &course, &begin);
    crew_give_rest(plan, &voyage, &course, &boat);
    return plan->crew.rest[1];
}

static void easy_rest_is_that_without_much_roll(void **state) {
    (void)state;
    struct arena arena;
    struct plan plan;
    arena_init(&arena);
    struct crew_rest calm = rest_in(0.05, &plan, &arena);
    assert_true(plan.legs[0].roll_deg < plan.boat->comfort.easy_roll_deg);
    assert_true(calm.rest_s > hours_to_s(4.0));
    assert_near(calm.easy_s, calm.rest_s, 1.0);
    struct crew_rest rough = rest_in(4.0, &plan, &arena);
    assert_true(plan.legs[0].roll_deg > plan.boat->comfort.easy_roll_deg);
    assert_true(rough.rest_s > hours_to_s(4.0));
    assert_near(rough.easy_s, 0.0, 0.0);
    arena_free(&arena);
}

/* Two pieces of work that follow each other at once are one call. */
static void parts_of_one_work_are_one_call(void **state) {
    (void)state;
    struct arena arena;
    struct plan plan;
    arena_init(&arena);
    rest_in(0.05, &plan, &arena);
    struct plan_change works[] = {
        {.deck_work = true, .at = after_h(1.0), .seconds = 480.0},
        {.deck_work = true,
         .at = {after_h(1.0).unix_s + 481},
         .seconds = 900.0},
        {.deck_work = false, .at = after_h(2.0), .seconds = 900.0},
    };
    plan.changes = works;
    plan.change_count = 3;
    struct voyage voyage = {.boat = plan.boat};
    struct track course = {.count = 1};
    struct underway boat = {.t_s = 0.0};
    crew_give_rest(&plan, &voyage, &course, &boat);
    assert_int_equal(plan.crew.rest[1].called, 1);
    assert_near(plan.crew.rest[1].longest_s, hours_to_s(4.0), 0.0);
    plan.summary.elapsed_s = hours_to_s(4.0);
    crew_give_rest(&plan, &voyage, &course, &boat);
    assert_near(plan.crew.rest[1].rest_s, hours_to_s(4.0) - 1381.0, 1e-6);
    arena_free(&arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_first_watch_begins_at_or_before_departure),
        cmocka_unit_test(the_date_of_the_ships_clock_does_not_matter),
        cmocka_unit_test(watches_go_on_over_midnight),
        cmocka_unit_test(three_take_turns),
        cmocka_unit_test(nobody_is_there_where_no_crew_is_known),
        cmocka_unit_test(the_one_nearest_to_a_watch_of_their_own_is_called),
        cmocka_unit_test(work_in_the_middle_breaks_a_rest_in_two),
        cmocka_unit_test(work_over_a_change_of_watch_keeps_both_up),
        cmocka_unit_test(the_third_of_three_sleeps_on),
        cmocka_unit_test(one_alone_is_free_between_works),
        cmocka_unit_test(a_watch_that_began_before_goes_on),
        cmocka_unit_test(names_are_read),
        cmocka_unit_test(easy_rest_is_that_without_much_roll),
        cmocka_unit_test(parts_of_one_work_are_one_call),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
