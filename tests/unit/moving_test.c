/* Deck work moved to a change of watch or into daylight: the boat of 3 m/s, 5
 * with the spar drawing, sailed west past a set and a stow. */
#include "../support/analytic.h"
#include "../support/check.h"
#include "../support/sailing.h"

#include "base/units.h"
#include "earth/rhumb.h"
#include "plan/moving.h"

#include <math.h>
#include <string.h>

enum { SET_AT = 1, STOW_AT = 2, VERTICES = 4 };

static const struct analytic steady = {
    .wind_from_deg = 80.0, .wind_mps = 10.0, .gust_frac = {true, 1.2}};

struct passage {
    struct arena arena;
    struct analytic weather;
    struct voyage voyage;
    struct vertex vertices[VERTICES];
    struct track course;
    struct underway boat;
    struct moving wish;
    struct moved_list list;
    struct track moved;
    struct resail resail; /* of the moved one */
};

static struct vertex west_of(struct position from, double nmi,
                             struct deck order) {
    return (struct vertex){.at = rhumb_ahead(from, 270.0, nmi_to_m(nmi)),
                           .order = order};
}

/* When the set begins: 20 nmi at 3 m/s. */
static double set_s(void) {
    return nmi_to_m(20.0) / 3.0;
}

static void make(struct passage *passage, const struct analytic *weather) {
    struct vertex *v = passage->vertices;
    *passage = (struct passage){.weather = *weather};
    arena_init(&passage->arena);
    v[0] = (struct vertex){.at = start, .order = STOWED};
    v[1] = west_of(v[0].at, 20.0, DRAWING(SPAR_STARBOARD));
    v[2] = west_of(v[1].at, 40.0, STOWED);
    v[3] = west_of(v[2].at, 20.0, STOWED);
    passage->course = (struct track){.vertices = v, .count = VERTICES};
    struct boat *boat = plain_boat();
    boat->comfort.easy_roll_deg = 1000.0;
    boat->comfort.working_roll_deg = 1001.0;
    passage->voyage = analytic_voyage(boat, &passage->weather, v[3].at);
    passage->boat = sail_start(start, STOWED);
    passage->wish = (struct moving){.margin_s = 600.0, .most_points = 50};
}

/* The headsail must not draw before the second place: the wind is too far
 * forward there. */
static enum obstacle aft_later(const void *weather, struct position position,
                               double t_s, struct conditions *conditions) {
    struct analytic now = *(const struct analytic *)weather;
    if (t_s < set_s() - 60.0)
        now.wind_from_deg = 20.0;
    return analytic_conditions(&now, position, t_s, conditions);
}

static void move(struct passage *passage) {
    struct moved_course moved =
        moving_course(&passage->voyage, &passage->course, &passage->boat,
                      &passage->wish, &passage->arena);
    passage->moved = moved.track;
    passage->list = moved.list;
    struct underway under =
        track_start(&passage->voyage, &passage->moved, &passage->boat);
    passage->resail = resail_course(&passage->voyage, &passage->moved, &under,
                                    &passage->arena);
    assert_int_equal(passage->resail.obstacle, OBSTACLE_NONE);
}

static const struct resail_change *first_of(const struct passage *passage,
                                            enum change_kind kind) {
    const struct resail *resail = &passage->resail;
    size_t i = 0;
    while (i < resail->change_count && resail->changes[i].kind != kind)
        i++;
    assert_true(i < resail->change_count);
    return &resail->changes[i];
}

static void without_watches_nothing_moves_by_day(void **state) {
    (void)state;
    struct passage passage;
    make(&passage, &steady);
    passage.voyage.conditions = aft_later;
    move(&passage);
    assert_int_equal(passage.list.count, 0);
    assert_int_equal(passage.moved.count, VERTICES);
    arena_free(&passage.arena);
}

/* A watch ends 1000 s after the set would begin: 0.4 s are lost in each. */
static void a_set_waits_for_the_change_of_watch(void **state) {
    (void)state;
    struct passage passage;
    make(&passage, &steady);
    passage.voyage.conditions = aft_later;
    passage.wish.watch_s = figure_of(1e6);
    passage.wish.first_watch_s = set_s() + 1000.0 - 1e6;
    move(&passage);
    assert_int_equal(passage.list.count, 1);
    assert_int_equal(passage.list.items[0].to, MOVED_TO_WATCH);
    assert_int_equal(passage.moved.count, VERTICES + 1);
    assert_near(first_of(&passage, CHANGE_SET)->begun_s, set_s() + 1000.0, 1.0);
    assert_near(passage.list.spent_s, 400.0, 1.0);
    arena_free(&passage.arena);
}

/* It would be dark at the finish 100 s after the arrival. */
static double dusk_s;

static double until_dawn_s(const void *arrival, double t_s) {
    (void)arrival;
    return t_s > dusk_s ? 36000.0 : 0.0;
}

static void nothing_moves_the_arrival_into_the_dark(void **state) {
    (void)state;
    struct passage passage;
    make(&passage, &steady);
    passage.voyage.conditions = aft_later;
    passage.voyage.arrival_wait_s = until_dawn_s;
    passage.wish.watch_s = figure_of(1e6);
    passage.wish.first_watch_s = set_s() + 1000.0 - 1e6;
    dusk_s = HUGE_VAL;
    move(&passage);
    assert_int_equal(passage.list.count, 1);
    dusk_s = passage.resail.end.t_s - 300.0;
    move(&passage);
    assert_int_equal(passage.list.count, 0);
    assert_near(passage.resail.end.t_s, dusk_s - 100.0, 1.0);
    arena_free(&passage.arena);
}

/* 0.4 x 1600 s are more than the ten minutes. */
static void it_does_not_wait_beyond_the_margin(void **state) {
    (void)state;
    struct passage passage;
    make(&passage, &steady);
    passage.voyage.conditions = aft_later;
    passage.wish.watch_s = figure_of(1e6);
    passage.wish.first_watch_s = set_s() + 1600.0 - 1e6;
    move(&passage);
    assert_int_equal(passage.list.count, 0);
    assert_near(first_of(&passage, CHANGE_SET)->begun_s, set_s(), 1.0);
    arena_free(&passage.arena);
}

static void nor_where_it_is_at_a_change_of_watch_already(void **state) {
    (void)state;
    struct passage passage;
    make(&passage, &steady);
    passage.voyage.conditions = aft_later;
    passage.wish.watch_s = figure_of(7200.0);
    passage.wish.first_watch_s = set_s() - 600.0 - 7200.0;
    passage.wish.margin_s = 250.0;
    move(&passage);
    assert_near(first_of(&passage, CHANGE_SET)->begun_s, set_s(), 1.0);
    arena_free(&passage.arena);
}

/* Dark until 1200 s after the set would begin: waiting costs 480 s and saves
 * 5400 s of hardship and 600 s of slow work. */
static void work_by_night_moves_into_daylight(void **state) {
    (void)state;
    struct passage passage;
    make(&passage, &steady);
    passage.voyage.conditions = aft_later;
    passage.voyage.ease = 1.0;
    passage.weather.night_every_s = set_s() + 1200.0;
    passage.weather.night_from_s = 0.25 * passage.weather.night_every_s;
    move(&passage);
    const struct resail_change *set = first_of(&passage, CHANGE_SET);
    assert_int_equal(set->light, LIGHT_DAY);
    assert_true(passage.list.count >= 1);
    assert_int_equal(passage.list.items[0].to, MOVED_TO_DAY);
    assert_true(set->begun_s >= set_s() + 1199.0);
    assert_true(set->begun_s < set_s() + 1200.0 + 900.0 + 1.0);
    arena_free(&passage.arena);
}

/* The set would wait 1000 s for a change of watch, which costs 400, and brings
 * the stow 400 s later. That ends in the dark, which begins so long before its
 * end and goes on: a quarter of an hour sooner costs 2/3 of that, 600, less
 * what it is done faster by day. */
static void make_rivals(struct passage *passage, double dark_s,
                        double margin_s) {
    make(passage, &steady);
    passage->voyage.conditions = aft_later;
    passage->wish.margin_s = margin_s;
    passage->wish.watch_s = figure_of(1e6);
    passage->wish.first_watch_s = set_s() + 1000.0 - 1e6;
    passage->weather.night_every_s = 1e6;
    double work_s = 1200.0, stow_s = 900.0, work_m = 0.7 * 3.0 * work_s;
    passage->weather.night_from_s =
        set_s() + work_s + (nmi_to_m(40.0) - work_m) / 5.0 + stow_s - dark_s;
}

static void both_are_done_where_both_fit(void **state) {
    (void)state;
    struct passage passage;
    make_rivals(&passage, 300.0, 1100.0);
    move(&passage);
    assert_int_equal(passage.list.count, 2);
    assert_int_equal(passage.list.items[0].to, MOVED_TO_DAY);
    assert_int_equal(passage.list.items[1].to, MOVED_TO_WATCH);
    assert_near(first_of(&passage, CHANGE_SET)->begun_s, set_s() + 1000.0, 1.0);
    assert_int_not_equal(first_of(&passage, CHANGE_STOW)->light, LIGHT_NIGHT);
    assert_true(passage.list.spent_s > 700.0);
    assert_true(passage.list.spent_s < 1100.0);
    arena_free(&passage.arena);
}

/* 700 s do for one of them: it is not the first in time, but the one that gains
 * the crew more. */
static void work_out_of_the_dark_goes_before_a_change_of_watch(void **state) {
    (void)state;
    struct passage passage;
    make_rivals(&passage, 300.0, 700.0);
    move(&passage);
    assert_int_equal(passage.list.count, 1);
    assert_int_equal(passage.list.items[0].to, MOVED_TO_DAY);
    assert_int_not_equal(first_of(&passage, CHANGE_STOW)->light, LIGHT_NIGHT);
    assert_near(first_of(&passage, CHANGE_SET)->begun_s, set_s(), 1.0);
    arena_free(&passage.arena);
}

/* With 800 s of dark 100 s of daylight are in hand. */
static void no_other_move_brings_it_back_into_the_dark(void **state) {
    (void)state;
    struct passage passage;
    make_rivals(&passage, 800.0, 1100.0);
    move(&passage);
    assert_int_equal(passage.list.count, 1);
    assert_int_not_equal(first_of(&passage, CHANGE_STOW)->light, LIGHT_NIGHT);
    assert_near(first_of(&passage, CHANGE_SET)->begun_s, set_s(), 1.0);
    arena_free(&passage.arena);
}

/* Dark until 1200 s after the stow would begin: done half an hour later, with
 * the headsail drawing for so long, it gains 1200 s. With those the set could
 * wait 2000 s for a change of watch, which costs 800; but one who reads the
 * moved course finds them gained already, and has ten minutes. Then the set is
 * not moved, the stow is. */
static void what_would_not_be_found_again_is_given_up_alone(void **state) {
    (void)state;
    struct passage passage;
    make_rivals(&passage, 3000.0, 600.0);
    passage.wish.first_watch_s = set_s() + 2000.0 - 1e6;
    passage.weather.night_every_s = passage.weather.night_from_s + 3300.0;
    move(&passage);
    assert_int_equal(passage.list.count, 1);
    assert_int_equal(passage.list.items[0].to, MOVED_TO_DAY);
    assert_int_not_equal(first_of(&passage, CHANGE_STOW)->light, LIGHT_NIGHT);
    assert_true(passage.list.spent_s < -1000.0);
    assert_near(first_of(&passage, CHANGE_SET)->begun_s, set_s(), 1.0);
    arena_free(&passage.arena);
}

static void by_any_light_it_does_not(void **state) {
    (void)state;
    struct passage passage;
    make(&passage, &steady);
    passage.voyage.conditions = aft_later;
    passage.voyage.ease = 1.0;
    passage.voyage.work_rule = WORK_ANY;
    passage.weather.night_every_s = set_s() + 1200.0;
    passage.weather.night_from_s = 0.25 * passage.weather.night_every_s;
    move(&passage);
    assert_int_equal(passage.list.count, 0);
    arena_free(&passage.arena);
}

static void a_course_of_most_points_gets_no_more(void **state) {
    (void)state;
    struct passage passage;
    make(&passage, &steady);
    passage.voyage.conditions = aft_later;
    passage.wish.watch_s = figure_of(1e6);
    passage.wish.first_watch_s = set_s() + 1000.0 - 1e6;
    passage.wish.most_points = VERTICES;
    move(&passage);
    assert_int_equal(passage.moved.count, VERTICES);
    arena_free(&passage.arena);
}

/* The reason says so, for that change alone. */
static void the_plan_says_what_was_moved(void **state) {
    (void)state;
    struct arena arena;
    struct plan_change changes[2] = {
        {.kind = CHANGE_SET,
         .deck_work = true,
         .position = start,
         .why = "it pays"},
        {.kind = CHANGE_STOW, .deck_work = true, .position = far_away}};
    struct plan plan = {.changes = changes, .change_count = 2};
    struct moved_list list = {.items = {{start, MOVED_TO_WATCH}}, .count = 1};
    arena_init(&arena);
    moving_tell(&list, &plan, &arena);
    assert_string_equal(changes[0].why,
                        "it pays; moved to the change of watch");
    assert_null(changes[1].why);
    arena_free(&arena);
}

#define TEST(name) cmocka_unit_test(name)

int main(void) {
    const struct CMUnitTest tests[] = {
        TEST(without_watches_nothing_moves_by_day),
        TEST(a_set_waits_for_the_change_of_watch),
        TEST(nothing_moves_the_arrival_into_the_dark),
        TEST(it_does_not_wait_beyond_the_margin),
        TEST(nor_where_it_is_at_a_change_of_watch_already),
        TEST(work_by_night_moves_into_daylight),
        TEST(both_are_done_where_both_fit),
        TEST(work_out_of_the_dark_goes_before_a_change_of_watch),
        TEST(no_other_move_brings_it_back_into_the_dark),
        TEST(what_would_not_be_found_again_is_given_up_alone),
        TEST(by_any_light_it_does_not),
        TEST(a_course_of_most_points_gets_no_more),
        TEST(the_plan_says_what_was_moved),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
