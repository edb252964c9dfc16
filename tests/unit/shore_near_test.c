#include "../support/check.h"

#include "../support/shore_maker.h"
#include "earth/chart.h"
#include "earth/geodesic.h"
#include "earth/rhumb.h"
#include "earth/shore_meet.h"
#include "earth/shore_near.h"
#include "earth/shore_walk.h"

#include <math.h>
#include <stdio.h>

/* Distances against PROJ's geodesic, measured to places all along the edges:
 * an independent way, slow and sure. */

static const double NMI_M = 1852.0;

/* Least value of a function over [0, 1] that has one valley. */
static double least_of(double (*value)(const void *context, double t),
                       const void *context) {
    const double golden = 0.6180339887498949;
    double low = 0.0, high = 1.0;
    while (high - low > 1e-5) {
        double a = high - golden * (high - low);
        double b = low + golden * (high - low);
        if (value(context, a) < value(context, b))
            high = b;
        else
            low = a;
    }
    double inside = value(context, 0.5 * (low + high));
    return fmin(inside, fmin(value(context, 0.0), value(context, 1.0)));
}

struct pair {
    struct position from;
    const struct mercator *edge;
};

static double to_edge(const void *context, double t) {
    const struct pair *pair = context;
    struct position place =
        mercator_position(chart_along(pair->edge[0], pair->edge[1], t));
    return geodesic_between(pair->from, place).distance_m;
}

static double reference_m(const struct made_line *lines, size_t count,
                          struct position from, double most_m) {
    double least_m = most_m;
    for (size_t i = 0; i < count; i++) {
        for (size_t k = 0; k + 1 < lines[i].count; k++) {
            struct pair pair = {from, &lines[i].points[k]};
            double edge_m = geodesic_between(mercator_position(pair.edge[0]),
                                             mercator_position(pair.edge[1]))
                                .distance_m;
            if (to_edge(&pair, 0.0) - 1.01 * edge_m < least_m)
                least_m = fmin(least_m, least_of(to_edge, &pair));
        }
    }
    return least_m;
}

/* From the equator to 80 degrees, one across 180, one all the way round. */
static const struct coast_box boxes[] = {{-5.0, 5.0, -10.0, 10.0},
                                         {35.0, 45.0, 170.0, 195.0},
                                         {-62.0, -55.0, 0.0, 30.0},
                                         {74.0, 80.0, -180.0, 180.0},
                                         {76.0, 80.0, 10.0, 60.0}};

enum { BOXES = sizeof boxes / sizeof boxes[0], ISLANDS = 30 };

struct made {
    struct arena arena;
    struct made_line *lines;
    struct shore shore;
};

static void make(struct made *made, const struct coast_box *box,
                 struct seed *seed) {
    arena_init(&made->arena);
    made->lines = islands_make(box, ISLANDS, seed, &made->arena);
    shore_make(&made->shore, box, made->lines, ISLANDS, &made->arena);
}

static void a_distance_is_true_up_to_100_nmi(void **state) {
    (void)state;
    const double most_m = 100.0 * NMI_M;
    double worst_frac = 0.0;
    int inside = 0;
    for (int i = 0; i < BOXES; i++) {
        struct made made;
        struct seed seed = {5};
        make(&made, &boxes[i], &seed);
        for (int k = 0; k < 100; k++) {
            struct position at = place_in(&boxes[i], &seed), nearest;
            double expected_m = reference_m(made.lines, ISLANDS, at, most_m);
            double actual_m =
                shore_distance_m(&made.shore, at, most_m, &nearest);
            assert_near(actual_m, expected_m, 1e-4 * expected_m + 0.5);
            assert_near(shore_segment_distance_m(&made.shore, at, at, most_m),
                        expected_m, 1e-4 * expected_m + 0.5);
            assert_true(fmin(shore_clear_m(&made.shore, at), most_m) <=
                        expected_m);
            if (actual_m >= most_m)
                continue;
            assert_near(geodesic_between(at, nearest).distance_m, expected_m,
                        1e-4 * expected_m + 0.5);
            double off_frac =
                fabs(actual_m - expected_m) / fmax(expected_m, 1000.0);
            worst_frac = fmax(worst_frac, off_frac);
            inside++;
        }
        arena_free(&made.arena);
    }
    assert_true(inside > 200);
    printf("%d distances, worst wrong by %.2g of itself\n", inside, worst_frac);
}

struct leg_distance {
    const struct made *made;
    struct position from;
    struct rhumb way;
    double most_m;
};

static double from_leg(const void *context, double t) {
    const struct leg_distance *leg = context;
    struct position at =
        rhumb_ahead(leg->from, leg->way.course_deg, t * leg->way.distance_m);
    return shore_distance_m(&leg->made->shore, at, leg->most_m, NULL);
}

/* Distances of places along the leg, which the test above has seen right. */
static double leg_reference_m(const struct leg_distance *leg) {
    double least_m = leg->most_m;
    int parts = (int)ceil(leg->way.distance_m / 200.0) + 1;
    for (int i = 0; i <= parts; i++)
        least_m = fmin(least_m, from_leg(leg, (double)i / parts));
    return least_m;
}

static void pick_leg(const struct coast_box *box, struct seed *seed,
                     struct position leg[2]) {
    double length_m = NMI_M * pow(10.0, seed_between(seed, -1.0, 2.3));
    leg[0] = place_in(box, seed);
    do
        leg[1] = rhumb_ahead(leg[0], seed_between(seed, 0.0, 360.0), length_m);
    while (leg[1].lat_deg < box->south_deg || leg[1].lat_deg > box->north_deg);
}

static void a_leg_is_as_near_as_its_nearest_place(void **state) {
    (void)state;
    struct seed seed = {17};
    int met = 0, near = 0, far = 0;
    for (int i = 0; i < BOXES; i++) {
        struct made made;
        make(&made, &boxes[i], &seed);
        for (int k = 0; k < 200; k++) {
            struct position leg[2];
            struct leg_distance reference = {.made = &made};
            pick_leg(&boxes[i], &seed, leg);
            if (!shore_covers(&made.shore, leg[1]))
                continue;
            reference.from = leg[0];
            reference.way = rhumb_between(leg[0], leg[1]);
            reference.most_m = NMI_M * seed_between(&seed, 0.5, 100.0);
            double expected_m = leg_reference_m(&reference);
            double actual_m = shore_segment_distance_m(
                &made.shore, leg[0], leg[1], reference.most_m);
            if (shore_meets(&made.shore, leg[0], leg[1])) {
                assert_near(actual_m, 0.0, 0.0);
                met++;
            } else {
                /* places 200 m apart miss the nearest by 100 m at most */
                assert_true(actual_m <= 1.001 * expected_m);
                assert_true(hypot(actual_m, 100.0) >= 0.999 * expected_m);
                *(actual_m < reference.most_m ? &near : &far) += 1;
            }
            assert_near(shore_segment_distance_m(&made.shore, leg[1], leg[0],
                                                 reference.most_m),
                        actual_m, 1e-6 * actual_m);
        }
        arena_free(&made.arena);
    }
    assert_true(met > 30 && near > 100 && far > 30);
}

static void nearer_is_the_same_answer(void **state) {
    (void)state;
    struct seed seed = {23};
    int yes = 0, no = 0;
    for (int i = 0; i < BOXES; i++) {
        struct made made;
        make(&made, &boxes[i], &seed);
        for (int k = 0; k < 4000; k++) {
            struct position leg[2];
            pick_leg(&boxes[i], &seed, leg);
            if (!shore_covers(&made.shore, leg[1]))
                continue;
            double limit_m = NMI_M * pow(10.0, seed_between(&seed, -1.0, 2.0));
            double distance_m =
                shore_segment_distance_m(&made.shore, leg[0], leg[1], limit_m);
            bool is_nearer = shore_nearer(&made.shore, leg[0], leg[1], limit_m);
            assert_int_equal(is_nearer, distance_m < limit_m);
            if (distance_m > 0.0 && is_nearer) {
                assert_false(shore_nearer(&made.shore, leg[0], leg[1],
                                          0.999999 * distance_m));
                assert_true(shore_nearer(&made.shore, leg[0], leg[1],
                                         1.000001 * distance_m));
            }
            assert_false(shore_nearer(&made.shore, leg[0], leg[1], 0.0));
            yes += is_nearer;
            no += !is_nearer;
        }
        arena_free(&made.arena);
    }
    assert_true(yes > 1000 && no > 1000);
}

/* No cell promises more than is true; and what it promises is worth having. */
static void the_clear_distance_is_never_too_long(void **state) {
    (void)state;
    struct seed seed = {31};
    double promised_m = 0.0, true_m = 0.0;
    for (int i = 0; i < BOXES; i++) {
        struct made made;
        make(&made, &boxes[i], &seed);
        for (int k = 0; k < 20000; k++) {
            struct position at = place_in(&boxes[i], &seed);
            double away_m =
                shore_distance_m(&made.shore, at, SHORE_REACH_M, NULL);
            double clear_m = shore_clear_m(&made.shore, at);
            assert_true(clear_m <= away_m);
            if (away_m > 60000.0 && away_m < 200000.0) {
                promised_m += clear_m;
                true_m += away_m;
            }
        }
        arena_free(&made.arena);
    }
    assert_true(promised_m > 0.75 * true_m);
}

static void no_shore_is_beyond_the_limit_and_never_nearer(void **state) {
    (void)state;
    struct arena arena;
    struct shore shore;
    arena_init(&arena);
    shore_make(&shore, &boxes[0], NULL, 0, &arena);
    struct position a = {-4.0, -9.0}, b = {4.0, 9.0}, nearest = {1.0, 2.0};
    assert_near(shore_distance_m(&shore, a, 1e9, &nearest), SHORE_REACH_M, 0.0);
    assert_near(nearest.lat_deg, 1.0, 0.0);
    assert_near(shore_segment_distance_m(&shore, a, b, 1e9), SHORE_REACH_M,
                0.0);
    assert_near(shore_segment_distance_m(&shore, a, b, 5000.0), 5000.0, 0.0);
    assert_false(shore_nearer(&shore, a, b, 1e9));
    assert_false(shore_meets(&shore, a, b));
    arena_free(&arena);
}

/* 100 nmi away across 180, and outside the box: still seen. */
static void a_shore_outside_the_box_is_near_all_the_same(void **state) {
    (void)state;
    struct arena arena;
    struct shore shore;
    struct seed seed = {1};
    static const struct position middle = {-45.0, -179.0};
    static const struct coast_box box = {-48.0, -42.0, 150.0, 178.0};
    arena_init(&arena);
    struct made_line island = island_make(middle, 5000.0, 8, &seed, &arena);
    shore_make(&shore, &box, &island, 1, &arena);
    struct position at = {-45.0, 177.9};
    double expected_m = reference_m(&island, 1, at, SHORE_REACH_M);
    assert_true(expected_m > 100.0 * NMI_M && expected_m < 130.0 * NMI_M);
    assert_near(shore_distance_m(&shore, at, SHORE_REACH_M, NULL), expected_m,
                1e-3 * expected_m);
    arena_free(&arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_distance_is_true_up_to_100_nmi),
        cmocka_unit_test(a_leg_is_as_near_as_its_nearest_place),
        cmocka_unit_test(nearer_is_the_same_answer),
        cmocka_unit_test(the_clear_distance_is_never_too_long),
        cmocka_unit_test(no_shore_is_beyond_the_limit_and_never_nearer),
        cmocka_unit_test(a_shore_outside_the_box_is_near_all_the_same),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
