#include "../support/check.h"

#include "../support/shore_maker.h"
#include "earth/rhumb.h"
#include "earth/shore_near.h"
#include "earth/shore_walk.h"

#include <math.h>

static const struct coast_box box = {30.0, 60.0, 160.0, 220.0};

enum { ISLANDS = 40 };

struct made {
    struct arena arena;
    struct shore shore;
};

static void make(struct made *made, const struct coast_box *around,
                 struct seed *seed) {
    arena_init(&made->arena);
    struct made_line *lines = islands_make(around, ISLANDS, seed, &made->arena);
    shore_make(&made->shore, around, lines, ISLANDS, &made->arena);
}

/* What is leapt over is clear; what is left comes in order, without a gap but
 * for the leaps. */
static void leaps_pass_over_nothing_that_is_near(void **state) {
    (void)state;
    struct seed seed = {13};
    struct made made;
    int leaps = 0, pieces = 0;
    make(&made, &box, &seed);
    for (int i = 0; i < 300; i++) {
        struct position from = place_in(&box, &seed);
        struct position to = place_in(&box, &seed);
        double near_m = 1852.0 * pow(10.0, seed_between(&seed, -1.0, 2.0));
        struct way ways[2];
        assert_int_equal(shore_ways(&made.shore, from, to, ways), 1);
        struct walk walk = walk_begin(&made.shore.raster, ways[0]);
        struct piece piece;
        double last = 0.0;
        for (bool more = true; more;) {
            more = walk_next(&walk, near_m, &piece);
            double start = 1.0;
            if (more && piece.end > 0.0)
                start = chart_foot(ways[0].a, ways[0].b, piece.from);
            assert_true(start >= last - 1e-12);
            leaps += start > last + 1e-9;
            for (int k = 0; k < 10 && start > last + 1e-9; k++) {
                double t = last + (start - last) * k / 10.0;
                struct position place =
                    mercator_position(chart_along(ways[0].a, ways[0].b, t));
                assert_true(shore_distance_m(&made.shore, place, near_m,
                                             NULL) >= near_m);
            }
            last = more ? piece.end : last;
            pieces += more;
        }
    }
    assert_true(leaps > 300 && pieces > 300);
    arena_free(&made.arena);
}

static void far_is_said_only_where_it_is_true(void **state) {
    (void)state;
    static const struct coast_box boxes[] = {{30.0, 60.0, 160.0, 220.0},
                                             {-20.0, 20.0, 0.0, 40.0},
                                             {60.0, 85.0, -180.0, 180.0}};
    struct seed seed = {19};
    int far = 0;
    for (int b = 0; b < 3; b++) {
        struct made made;
        make(&made, &boxes[b], &seed);
        for (int i = 0; i < 20000; i++) {
            struct position from = place_in(&boxes[b], &seed);
            double length_m = 1852.0 * pow(10.0, seed_between(&seed, 0, 2.5));
            struct position to =
                rhumb_ahead(from, seed_between(&seed, 0.0, 360.0), length_m);
            double near_m = 1852.0 * seed_between(&seed, 0.0, 100.0);
            if (!shore_covers(&made.shore, to) ||
                !shore_is_far(&made.shore, from, to, near_m))
                continue;
            far++;
            if (far % 20 == 0)
                assert_near(shore_distance_m(
                                &made.shore,
                                mercator_position(chart_along(
                                    mercator_of(from),
                                    mercator_near(to, mercator_of(from)), 0.5)),
                                near_m, NULL),
                            near_m, 0.0);
        }
        arena_free(&made.arena);
    }
    assert_true(far > 2000);
}

static void a_leg_out_of_a_round_box_is_placed_twice(void **state) {
    (void)state;
    static const struct coast_box round = {-10.0, 10.0, -180.0, 180.0};
    struct arena arena;
    struct shore shore;
    struct way ways[2];
    arena_init(&arena);
    shore_make(&shore, &round, NULL, 0, &arena);
    struct position west = {1.0, 179.0}, east = {2.0, -179.0};
    assert_int_equal(shore_ways(&shore, west, east, ways), 2);
    assert_near(ways[0].b.x - ways[0].a.x, 2.0 * 0.017453292519943295, 1e-12);
    assert_near(ways[1].b.x - ways[1].a.x, 2.0 * 0.017453292519943295, 1e-12);
    assert_near(ways[0].a.x - ways[1].a.x, 6.283185307179586, 1e-12);
    assert_int_equal(shore_ways(&shore, east, west, ways), 2);
    assert_near(ways[1].a.x - ways[0].a.x, 6.283185307179586, 1e-12);
    assert_int_equal(
        shore_ways(&shore, east, (struct position){0.0, 0.5}, ways), 1);
    arena_free(&arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(leaps_pass_over_nothing_that_is_near),
        cmocka_unit_test(far_is_said_only_where_it_is_true),
        cmocka_unit_test(a_leg_out_of_a_round_box_is_placed_twice),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
