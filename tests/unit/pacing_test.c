/* Time to spare until first light, slowed down for and waited for: the boat of
 * 3 m/s, west in a steady wind, its finish dark between two moments. */
#include "../support/analytic.h"
#include "../support/check.h"
#include "../support/sailing.h"

#include "base/units.h"
#include "earth/rhumb.h"
#include "plan/course.h"
#include "plan/pacing.h"

#include <math.h>

static const struct analytic steady = {.wind_from_deg = 80.0, .wind_mps = 10.0};

/* Two knots ahead. */
static const struct analytic streaming = {
    .wind_from_deg = 80.0, .wind_mps = 10.0, .current = {.east = 2.0}};

struct passage {
    struct arena arena;
    struct analytic weather;
    double dark_s, light_s; /* from, until */
    struct voyage voyage;
    struct vertex vertices[3];
    struct track course;
    struct underway boat;
    struct pacing_options options;
    struct track paced;
};

static double wait_s(const void *context, double t_s) {
    const struct passage *passage = context;
    bool dark = t_s >= passage->dark_s && t_s < passage->light_s;
    return dark ? passage->light_s - t_s : 0.0;
}

/* `nmi` to go, with a place half-way; dark all the time up to `light_s`. */
static void make(struct passage *passage, const struct analytic *weather,
                 double nmi, double light_s) {
    struct vertex *v = passage->vertices;
    *passage = (struct passage){.weather = *weather, .light_s = light_s};
    arena_init(&passage->arena);
    for (int i = 0; i < 3; i++)
        v[i] = (struct vertex){
            .at = rhumb_ahead(start, 270.0, nmi_to_m(0.5 * i * nmi)),
            .order = STOWED,
            .pinned = i != 1};
    passage->course = (struct track){.vertices = v, .count = 3};
    struct boat *boat = plain_boat();
    boat->comfort.easy_roll_deg = 1000.0;
    boat->comfort.working_roll_deg = 1001.0;
    passage->voyage = analytic_voyage(boat, &passage->weather, v[2].at);
    passage->voyage.arrival_wait_s = wait_s;
    passage->voyage.arrival = passage;
    passage->boat = sail_start(start, STOWED);
    passage->options =
        (struct pacing_options){.circle_m = nmi_to_m(5.0), .most_points = 50};
}

static void pace(struct passage *passage) {
    passage->paced =
        pacing_course(&passage->voyage, &passage->course, &passage->boat,
                      &passage->options, &passage->arena);
}

static double arrive_s(const struct passage *passage) {
    double elapsed_s;
    double cost_s = track_cost(&passage->voyage, &passage->paced,
                               &passage->boat, &elapsed_s);
    assert_true(isfinite(cost_s));
    return elapsed_s;
}

/* The vertex where slowing begins, and where she waits; the count if none. */
static size_t first_slow(const struct track *track) {
    size_t i = 0;
    while (i < track->count && track->vertices[i].pace_frac <= 0.0)
        i++;
    return i;
}

static size_t first_wait(const struct track *track) {
    size_t i = 0;
    while (i < track->count && track->vertices[i].wait_until_s <= 0.0)
        i++;
    return i;
}

static double on_m(const struct track *track, size_t index) {
    return rhumb_between(start, track->vertices[index].at).distance_m;
}

static void who_arrives_by_day_keeps_her_speed(void **state) {
    (void)state;
    struct passage passage;
    make(&passage, &steady, 100.0, nmi_to_m(100.0) / 3.0 - 1.0);
    pace(&passage);
    assert_int_equal(passage.paced.count, 3);
    assert_int_equal(first_slow(&passage.paced), 3);
    assert_int_equal(first_wait(&passage.paced), 3);
    assert_near(arrive_s(&passage), nmi_to_m(100.0) / 3.0, 1.0);
    passage.light_s = 1e6;
    passage.voyage.arrival_wait_s = NULL;
    pace(&passage);
    assert_int_equal(first_slow(&passage.paced), 3);
    arena_free(&passage.arena);
}

/* 100 nmi in 61,733 s, light 2 h later: slowing begins 12 h before that, at
 * 25,733 s, 77.2 km on; the 36,000 s that are left then take 43,200, at 5/6 of
 * the speed. */
static void slowing_meets_first_light(void **state) {
    (void)state;
    struct passage passage;
    double full_s = nmi_to_m(100.0) / 3.0;
    make(&passage, &steady, 100.0, full_s + 7200.0);
    pace(&passage);
    double late_s = arrive_s(&passage) - passage.light_s;
    assert_true(late_s >= 0.0 && late_s < 60.0);
    size_t slow = first_slow(&passage.paced);
    assert_int_equal(passage.paced.count, 4);
    assert_int_equal(slow, 1);
    assert_near(on_m(&passage.paced, slow), 3.0 * (full_s - 36000.0), 10.0);
    assert_near(passage.paced.vertices[slow].pace_frac, 5.0 / 6.0, 1e-4);
    assert_near(passage.paced.vertices[2].pace_frac, 5.0 / 6.0, 1e-4);
    assert_int_equal(first_wait(&passage.paced), 4);
    arena_free(&passage.arena);
}

/* 8 h to spare take 16 h at half speed. */
static void never_below_half_her_speed_but_sooner(void **state) {
    (void)state;
    struct passage passage;
    double full_s = nmi_to_m(200.0) / 3.0;
    make(&passage, &steady, 200.0, full_s + 28800.0);
    pace(&passage);
    double late_s = arrive_s(&passage) - passage.light_s;
    assert_true(late_s >= 0.0 && late_s < 60.0);
    size_t slow = first_slow(&passage.paced);
    assert_near(passage.paced.vertices[slow].pace_frac, 0.5, 1e-3);
    assert_near(on_m(&passage.paced, slow), nmi_to_m(200.0) - 3.0 * 28800.0,
                50.0);
    arena_free(&passage.arena);
}

/* 12 nmi at half speed take 14,816 s; light is at 30,000 s: she waits 15,184 s,
 * half a mile outside the circle of 5. */
static void a_short_passage_waits_outside_the_circle(void **state) {
    (void)state;
    struct passage passage;
    make(&passage, &steady, 12.0, 30000.0);
    pace(&passage);
    double late_s = arrive_s(&passage) - passage.light_s;
    assert_true(late_s >= 0.0 && late_s < 60.0);
    size_t wait = first_wait(&passage.paced);
    assert_int_equal(first_slow(&passage.paced), 0);
    assert_near(passage.paced.vertices[0].pace_frac, 0.5, 0.0);
    assert_near(on_m(&passage.paced, wait), nmi_to_m(6.5), 1.0);
    assert_near(passage.paced.vertices[wait].wait_until_s,
                30000.0 - nmi_to_m(5.5) / 1.5, 1.0);
    assert_near(course_cost_s(&passage.voyage, &passage.paced, &passage.boat),
                30000.0, 1.0);
    arena_free(&passage.arena);
}

/* No waiting within 8 nmi, but the spar is out up to 6.4 nmi off: she waits
 * where it is stowed. */
static void she_waits_with_the_spar_in(void **state) {
    (void)state;
    struct passage passage;
    make(&passage, &steady, 12.0, 30000.0);
    struct vertex *v = passage.vertices;
    passage.options.circle_m = nmi_to_m(8.0);
    v[0].order = DRAWING(SPAR_STARBOARD);
    v[1].at = rhumb_ahead(start, 270.0, nmi_to_m(5.6));
    pace(&passage);
    assert_int_equal(first_wait(&passage.paced), 1);
    assert_near(on_m(&passage.paced, 1), nmi_to_m(5.6), 1.0);
    double late_s = arrive_s(&passage) - passage.light_s;
    assert_true(late_s >= 0.0 && late_s < 60.0);
    arena_free(&passage.arena);
}

/* At half speed the stream of 2 m/s would carry her back: she is slowed no
 * further than she still makes way, and waits for the rest. */
static void a_stream_is_still_stemmed(void **state) {
    (void)state;
    struct passage passage;
    make(&passage, &streaming, 12.0, 1e6);
    pace(&passage);
    double late_s = arrive_s(&passage) - passage.light_s;
    assert_true(late_s >= 0.0 && late_s < 60.0);
    assert_true(passage.paced.vertices[0].pace_frac > 2.0 / 3.0);
    assert_true(first_wait(&passage.paced) < passage.paced.count);
    arena_free(&passage.arena);
}

static void a_place_that_is_there_will_do(void **state) {
    (void)state;
    struct passage passage;
    double full_s = nmi_to_m(100.0) / 3.0;
    make(&passage, &steady, 100.0, full_s + 7200.0);
    passage.options.most_points = 3;
    pace(&passage);
    assert_int_equal(passage.paced.count, 3);
    assert_int_equal(first_slow(&passage.paced), 0);
    assert_near(arrive_s(&passage), passage.light_s, 60.0);
    passage.options.most_points = 50;
    passage.vertices[1].at =
        rhumb_ahead(start, 270.0, 3.0 * (full_s - 36000.0 - 1800.0));
    pace(&passage);
    assert_int_equal(passage.paced.count, 3);
    assert_int_equal(first_slow(&passage.paced), 1);
    arena_free(&passage.arena);
}

/* What is read from a route file has the places that pacing has made. */
static void paced_again_it_is_the_same(void **state) {
    (void)state;
    static const double light_s[] = {70000.0, 200000.0};
    for (int i = 0; i < 2; i++) {
        struct passage passage;
        make(&passage, &steady, 100.0, light_s[i]);
        pace(&passage);
        struct track once = passage.paced;
        double first_s = arrive_s(&passage);
        passage.course = once;
        pace(&passage);
        assert_int_equal(passage.paced.count, once.count);
        assert_near(arrive_s(&passage), first_s, 0.5);
        for (size_t k = 0; k < once.count; k++)
            assert_near(passage.paced.vertices[k].pace_frac,
                        once.vertices[k].pace_frac, 1e-5);
        arena_free(&passage.arena);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(who_arrives_by_day_keeps_her_speed),
        cmocka_unit_test(slowing_meets_first_light),
        cmocka_unit_test(never_below_half_her_speed_but_sooner),
        cmocka_unit_test(a_short_passage_waits_outside_the_circle),
        cmocka_unit_test(she_waits_with_the_spar_in),
        cmocka_unit_test(a_stream_is_still_stemmed),
        cmocka_unit_test(a_place_that_is_there_will_do),
        cmocka_unit_test(paced_again_it_is_the_same),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
