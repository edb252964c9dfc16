/* Boards exchanged, and left out. */
#include "../support/check.h"

#include "../support/analytic.h"
#include "../support/scratch.h"
#include "base/units.h"
#include "earth/rhumb.h"
#include "search/boards.h"

#include <math.h>

static const struct position origin = {20.0, -40.0};

/* Beating up in 8 m/s from the north. */
static struct voyage made_voyage(void) {
    static const struct analytic weather = {.wind_from_deg = 0.0,
                                            .wind_mps = 8.0};
    return analytic_voyage(analytic_boat("heron-9"), &weather,
                           rhumb_ahead(origin, 0.0, nmi_to_m(30.0)));
}

/* Boards of so many miles, 50 degrees off the wind, on one side and the other
 * by turns, each of two stretches. */
static struct track beat(const double *miles, size_t count) {
    struct track track = {.count = 2 * count + 1};
    track.vertices = arena_alloc(&arena, track.count, sizeof *track.vertices);
    struct position at = origin;
    for (size_t i = 0; i < 2 * count; i++) {
        track.vertices[i].at = at;
        at = rhumb_ahead(at, i / 2 % 2 ? 310.0 : 50.0,
                         0.5 * nmi_to_m(miles[i / 2]));
    }
    track.vertices[2 * count].at = at;
    track.vertices[0].pinned = track.vertices[2 * count].pinned = true;
    return track;
}

static int turns(const struct track *track) {
    int count = 0;
    for (size_t i = 1; i + 1 < track->count; i++) {
        const struct vertex *v = &track->vertices[i];
        double turn_deg = angle_turn(rhumb_between(v[-1].at, v->at).course_deg,
                                     rhumb_between(v->at, v[1].at).course_deg);
        count += fabs(turn_deg) > 45.0;
    }
    return count;
}

static void assert_ends_as(const struct track *track, const struct track *as) {
    struct position a = track->vertices[track->count - 1].at;
    struct position b = as->vertices[as->count - 1].at;
    assert_near(rhumb_between(track->vertices[0].at, origin).distance_m, 0.0,
                1.0);
    assert_near(rhumb_between(a, b).distance_m, 0.0, 1.0);
    for (size_t i = 0; i < track->count; i++)
        assert_int_equal(track->vertices[i].pinned,
                         i == 0 || i + 1 == track->count);
}

static double cost_of(const struct voyage *voyage, const struct track *track) {
    struct underway start = sail_start(origin, (struct deck){.rolled = false});
    double elapsed_s;
    return track_cost(voyage, track, &start, &elapsed_s);
}

/* In a steady wind it does not matter which board comes first: three cost as
 * much as two of the same miles, and a tack. */
static void two_boards_on_one_side_become_one(void **state) {
    (void)state;
    static const double three[] = {6.0, 18.0, 9.0}, two[] = {15.0, 18.0};
    struct voyage voyage = made_voyage();
    struct underway start = sail_start(origin, (struct deck){.rolled = false});
    struct track track = beat(three, 3), joined = beat(two, 2), ways[2];
    size_t count = boards_ways(&voyage, &track, &start, ways, 2, &arena);
    assert_int_equal(count, 2);
    assert_int_equal(turns(&track), 2);
    for (size_t i = 0; i < count; i++) {
        assert_int_equal(turns(&ways[i]), 1);
        assert_ends_as(&ways[i], &track);
        assert_near(cost_of(&voyage, &ways[i]), cost_of(&voyage, &joined), 5.0);
        assert_true(cost_of(&voyage, &ways[i]) <
                    cost_of(&voyage, &track) - 60.0);
    }
}

/* A short board first, which she need not have made: on one side she then lies
 * a little higher. */
static void a_board_may_be_left_out(void **state) {
    (void)state;
    static const double miles[] = {0.5, 24.0};
    struct voyage voyage = made_voyage();
    struct underway start = sail_start(origin, (struct deck){.rolled = false});
    struct track track = beat(miles, 2), ways[3];
    size_t count = boards_ways(&voyage, &track, &start, ways, 3, &arena);
    assert_true(count >= 1);
    assert_int_equal(turns(&ways[0]), 0);
    assert_ends_as(&ways[0], &track);
    assert_true(cost_of(&voyage, &ways[0]) < cost_of(&voyage, &track));
}

/* The last of three; then the same over the date line. */
static void the_last_board_may_be_left_out(void **state) {
    (void)state;
    static const double miles[] = {12.0, 18.0, 0.5};
    struct voyage voyage = made_voyage();
    for (int shifted = 0; shifted < 2; shifted++) {
        struct track track = beat(miles, 3), ways[5];
        for (size_t i = 0; shifted && i < track.count; i++)
            track.vertices[i].at.lon_deg = angle_wrap_longitude(
                track.vertices[i].at.lon_deg + 180.0 - 0.1 - origin.lon_deg);
        struct underway start =
            sail_start(track.vertices[0].at, (struct deck){.rolled = false});
        size_t count = boards_ways(&voyage, &track, &start, ways, 5, &arena);
        double least_m = HUGE_VAL;
        assert_true(count >= 2);
        for (size_t i = 0; i < count; i++) {
            double sailed_m = 0.0;
            assert_true(turns(&ways[i]) < turns(&track));
            for (size_t k = 0; k + 1 < ways[i].count; k++)
                sailed_m += rhumb_between(ways[i].vertices[k].at,
                                          ways[i].vertices[k + 1].at)
                                .distance_m;
            least_m = fmin(least_m, sailed_m);
        }
        assert_true(least_m < nmi_to_m(30.5));
        assert_true(least_m > nmi_to_m(29.0));
    }
}

static void pinned_places_stay(void **state) {
    (void)state;
    static const double miles[] = {6.0, 18.0, 9.0};
    struct voyage voyage = made_voyage();
    struct underway start = sail_start(origin, (struct deck){.rolled = false});
    struct track track = beat(miles, 3), ways[2];
    track.vertices[2].pinned = track.vertices[4].pinned = true;
    assert_int_equal(boards_ways(&voyage, &track, &start, ways, 2, &arena), 0);
}

static void one_board_has_no_other_order(void **state) {
    (void)state;
    static const double miles[] = {12.0};
    struct voyage voyage = made_voyage();
    struct underway start = sail_start(origin, (struct deck){.rolled = false});
    struct track track = beat(miles, 1), ways[2];
    assert_int_equal(boards_ways(&voyage, &track, &start, ways, 2, &arena), 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(two_boards_on_one_side_become_one),
        cmocka_unit_test(a_board_may_be_left_out),
        cmocka_unit_test(the_last_board_may_be_left_out),
        cmocka_unit_test(pinned_places_stay),
        cmocka_unit_test(one_board_has_no_other_order),
    };
    return cmocka_run_group_tests(tests, scratch_begin, scratch_end);
}
