#include "../support/check.h"

#include "../support/shore_maker.h"
#include "earth/angle.h"
#include "earth/chart.h"
#include "earth/geodesic.h"
#include "earth/rhumb.h"
#include "earth/shore_meet.h"

#include <math.h>
#include <string.h>

/* Every edge of every line against the whole leg, with no raster. */
static bool meets_any(const struct made_line *lines, size_t count,
                      struct position from, struct position to) {
    struct mercator a = mercator_of(from), b = mercator_near(to, a);
    for (size_t i = 0; i < count; i++) {
        for (size_t k = 0; k + 1 < lines[i].count; k++) {
            struct mercator edge[2];
            memcpy(edge, &lines[i].points[k], sizeof edge);
            double turn = 2.0 * PI * round((a.x - edge[0].x) / (2.0 * PI));
            edge[0].x += turn;
            edge[1].x += turn;
            if (chart_meets(a, b, edge))
                return true;
        }
    }
    return false;
}

static const struct coast_box boxes[] = {{-10.0, 30.0, -20.0, 20.0},
                                         {55.0, 80.0, 160.0, 215.0},
                                         {-70.0, -30.0, -180.0, -140.0},
                                         {-60.0, 60.0, -180.0, 180.0},
                                         {20.0, 70.0, 100.0, 460.0}};

enum { BOXES = sizeof boxes / sizeof boxes[0], ISLANDS = 200 };

/* A leg of up to 600 nmi, or of no length, that stays in the box. */
static void pick_leg(const struct coast_box *box, struct seed *seed,
                     struct position leg[2]) {
    double length_m = 1852.0 * pow(10.0, seed_between(seed, 0.0, 2.8));
    do {
        leg[0] = place_in(box, seed);
        leg[1] = rhumb_ahead(leg[0], seed_between(seed, 0.0, 360.0), length_m);
    } while (leg[1].lat_deg < box->south_deg ||
             leg[1].lat_deg > box->north_deg ||
             (box->east_deg - box->west_deg < 360.0 &&
              angle_wrap_360(leg[1].lon_deg - box->west_deg) >
                  box->east_deg - box->west_deg));
}

static void the_raster_changes_no_answer(void **state) {
    (void)state;
    struct seed seed = {7};
    int met = 0, clear = 0;
    for (int i = 0; i < BOXES; i++) {
        struct arena arena;
        struct shore shore;
        arena_init(&arena);
        struct made_line *lines =
            islands_make(&boxes[i], ISLANDS, &seed, &arena);
        shore_make(&shore, &boxes[i], lines, ISLANDS, &arena);
        for (int k = 0; k < 3000; k++) {
            struct position leg[2];
            pick_leg(&boxes[i], &seed, leg);
            bool expected = meets_any(lines, ISLANDS, leg[0], leg[1]);
            assert_int_equal(shore_meets(&shore, leg[0], leg[1]), expected);
            assert_int_equal(shore_meets(&shore, leg[1], leg[0]), expected);
            met += expected;
            clear += !expected;
        }
        arena_free(&arena);
    }
    assert_true(met > 1000 && clear > 1000);
}

/* At least one part meets it, however the leg is cut. */
static void a_leg_is_refused_whatever_it_is_cut_into(void **state) {
    (void)state;
    struct seed seed = {11};
    struct arena arena;
    struct shore shore;
    int refused = 0;
    arena_init(&arena);
    struct made_line *lines = islands_make(&boxes[1], ISLANDS, &seed, &arena);
    shore_make(&shore, &boxes[1], lines, ISLANDS, &arena);
    for (int k = 0; k < 2000; k++) {
        struct position leg[2];
        pick_leg(&boxes[1], &seed, leg);
        enum coast_level level[2];
        for (int i = 0; i < 2; i++)
            level[i] = shore_level(&shore, shore_chart(&shore, leg[i]));
        bool expected = shore_meets(&shore, leg[0], leg[1]), any = false;
        struct rhumb all = rhumb_between(leg[0], leg[1]);
        struct position last = leg[0];
        int parts = (int)seed_between(&seed, 2.0, 60.0);
        for (int i = 1; i <= parts; i++) {
            struct position next =
                i == parts ? leg[1]
                           : rhumb_ahead(leg[0], all.course_deg,
                                         all.distance_m * i / parts);
            any |= shore_meets(&shore, last, next);
            last = next;
        }
        assert_int_equal(any, expected);
        if (level[0] != level[1])
            assert_true(expected);
        refused += expected;
    }
    assert_true(refused > 100);
    arena_free(&arena);
}

/* A wall along 30 N from 170 E to 170 W, a little thick. */
static const struct mercator *wall(struct arena *arena) {
    struct mercator *points = arena_alloc(arena, 5, sizeof *points);
    static const double corners[][2] = {
        {30.0, 170.0}, {30.0, 190.0}, {30.1, 190.0}, {30.1, 170.0}};
    for (int i = 0; i < 4; i++) {
        points[i] = mercator_of((struct position){corners[i][0], 0.0});
        points[i].x = corners[i][1] * RADIANS_PER_DEGREE;
    }
    points[4] = points[0];
    return points;
}

static void the_seam_at_180_is_no_place_to_slip_through(void **state) {
    (void)state;
    static const struct coast_box around[] = {{0.0, 60.0, 150.0, 210.0},
                                              {0.0, 60.0, -180.0, 180.0},
                                              {0.0, 60.0, 179.0, 539.0},
                                              {0.0, 60.0, 0.0, 360.0}};
    static const struct {
        struct position from, to;
        bool meets;
        double lon_deg; /* where it meets it first */
    } cases[] = {
        {{20, 175}, {40, 175}, true, 175},
        {{20, 179.9}, {40, -179.9}, true, 180},
        {{40, -179.9}, {20, 179.9}, true, 180},
        {{20, -180}, {40, -180}, true, 180},
        {{20, 165}, {20, -165}, false, 0},
        {{40, -165}, {40, 165}, false, 0},
        {{30.05, 165}, {30.05, -165}, true, 170},
        {{30.05, -165}, {30.05, 165}, true, -170},
        {{30.05, 180 - 360}, {30.06, 179}, false, 0}, /* in the wall */
        {{20, 169.9}, {40, 169.9}, false, 0},
    };
    for (int i = 0; i < 4; i++) {
        struct arena arena;
        struct shore shore;
        arena_init(&arena);
        shore_make(&shore, &around[i],
                   &(struct made_line){COAST_LAND, wall(&arena), 5}, 1, &arena);
        for (size_t k = 0; k < sizeof cases / sizeof cases[0]; k++) {
            struct position at;
            assert_int_equal(shore_meets(&shore, cases[k].from, cases[k].to),
                             cases[k].meets);
            assert_int_equal(
                shore_first_crossing(&shore, cases[k].from, cases[k].to, &at),
                cases[k].meets);
            if (cases[k].meets)
                assert_angle_near(at.lon_deg, cases[k].lon_deg, 0.01);
        }
        arena_free(&arena);
    }
}

static void the_first_of_many_crossings_is_found(void **state) {
    (void)state;
    struct seed seed = {3};
    int found = 0;
    for (int i = 0; i < BOXES; i++) {
        struct arena arena;
        struct shore shore;
        arena_init(&arena);
        struct made_line *lines =
            islands_make(&boxes[i], ISLANDS, &seed, &arena);
        shore_make(&shore, &boxes[i], lines, ISLANDS, &arena);
        for (int k = 0; k < 1500; k++) {
            struct position leg[2], at;
            pick_leg(&boxes[i], &seed, leg);
            if (!shore_first_crossing(&shore, leg[0], leg[1], &at)) {
                assert_false(shore_meets(&shore, leg[0], leg[1]));
                continue;
            }
            found++;
            struct rhumb way = rhumb_between(leg[0], at);
            struct rhumb all = rhumb_between(leg[0], leg[1]);
            assert_near(sin((way.course_deg - all.course_deg) * PI / 180.0) *
                            way.distance_m,
                        0.0, 0.01);
            /* clear up to a metre before, met a metre behind */
            if (way.distance_m > 2.0) {
                struct position before =
                    rhumb_ahead(leg[0], all.course_deg, way.distance_m - 1.0);
                assert_false(shore_meets(&shore, leg[0], before));
            }
            struct position behind =
                rhumb_ahead(leg[0], all.course_deg, way.distance_m + 1.0);
            if (way.distance_m + 1.0 < all.distance_m)
                assert_true(shore_meets(&shore, leg[0], behind));
        }
        arena_free(&arena);
    }
    assert_true(found > 300);
}

/* From 50 N 60 W to 50 N 10 W the geodesic goes up to 53 N. */
static void a_geodesic_is_held_against_the_shore_itself(void **state) {
    (void)state;
    static const struct coast_box box = {45.0, 60.0, -65.0, -5.0};
    static const struct position from = {50.0, -60.0}, to = {50.0, -10.0};
    struct arena arena;
    struct shore shore;
    struct seed seed = {1};
    arena_init(&arena);
    struct geodesic all = geodesic_between(from, to);
    struct position middle =
        geodesic_ahead(from, all.course_start_deg, 0.5 * all.distance_m);
    assert_true(middle.lat_deg > 52.5);
    struct made_line lines[2] = {
        island_make(middle, 3000.0, 12, &seed, &arena),
        island_make((struct position){50.0, -35.0}, 3000.0, 12, &seed, &arena)};
    shore_make(&shore, &box, &lines[0], 1, &arena);
    assert_true(shore_meets_geodesic(&shore, from, to));
    assert_true(shore_meets_geodesic(&shore, to, from));
    assert_false(shore_meets(&shore, from, to));
    shore_make(&shore, &box, &lines[1], 1, &arena);
    assert_false(shore_meets_geodesic(&shore, from, to));
    assert_true(shore_meets(&shore, from, to));
    /* what leaves the box is not known to be clear */
    shore_make(&shore, &(struct coast_box){45.0, 51.0, -65.0, -5.0}, NULL, 0,
               &arena);
    assert_true(shore_meets_geodesic(&shore, from, to));
    arena_free(&arena);
}

/* In chords of 500 m, with no leaps. */
static bool geodesic_meets_any(const struct shore *shore,
                               const struct position ends[2]) {
    struct geodesic all = geodesic_between(ends[0], ends[1]);
    int count = (int)ceil(all.distance_m / 500.0) + 1;
    struct position last = ends[0];
    for (int i = 1; i <= count; i++) {
        struct position next = ends[1];
        if (i < count)
            next = geodesic_ahead(ends[0], all.course_start_deg,
                                  all.distance_m * i / count);
        if (!shore_covers(shore, next) || shore_meets(shore, last, next))
            return true;
        last = next;
    }
    return false;
}

/* A chord of 10 km lies within some metres of its geodesic: a leg that passes
 * so near to a shore may be told either way. */
static void leaps_along_a_geodesic_miss_nothing(void **state) {
    (void)state;
    struct seed seed = {41};
    struct arena arena;
    struct shore shore;
    int met = 0, apart = 0;
    arena_init(&arena);
    struct made_line *lines = islands_make(&boxes[2], ISLANDS, &seed, &arena);
    shore_make(&shore, &boxes[2], lines, ISLANDS, &arena);
    for (int k = 0; k < 1500; k++) {
        struct position leg[2];
        pick_leg(&boxes[2], &seed, leg);
        bool expected = geodesic_meets_any(&shore, leg);
        apart += shore_meets_geodesic(&shore, leg[0], leg[1]) != expected;
        met += expected;
    }
    assert_true(met > 50 && met < 1400);
    assert_true(apart <= 1);
    arena_free(&arena);
}

/* The box begins and ends at Greenwich; the leg is far on both sides of it. */
static void a_leg_over_the_end_of_a_round_box_is_whole(void **state) {
    (void)state;
    static const struct coast_box round = {-10.0, 10.0, 0.0, 360.0};
    static const struct position west = {1.0, -40.0}, east = {1.0, 40.0};
    for (int i = 0; i < 8; i++) {
        struct position middle = {1.0, -35.0 + 10.0 * i}, at;
        struct arena arena;
        struct shore shore;
        struct seed seed = {1};
        arena_init(&arena);
        struct made_line island =
            island_make(middle, 20000.0, 9, &seed, &arena);
        shore_make(&shore, &round, &island, 1, &arena);
        assert_true(shore_meets(&shore, west, east));
        assert_true(shore_meets(&shore, east, west));
        assert_true(shore_first_crossing(&shore, east, west, &at));
        assert_near(at.lon_deg, middle.lon_deg, 0.2);
        assert_true(at.lon_deg > middle.lon_deg);
        assert_true(shore_first_crossing(&shore, west, east, &at));
        assert_true(at.lon_deg < middle.lon_deg);
        arena_free(&arena);
    }
}

static void lakes_are_not_met(void **state) {
    (void)state;
    struct arena arena;
    struct shore shore;
    struct seed seed = {1};
    static const struct position middle = {45.0, 15.0};
    arena_init(&arena);
    struct made_line lake = island_make(middle, 50000.0, 12, &seed, &arena);
    lake.level = COAST_LAKE;
    shore_make(&shore, &(struct coast_box){40.0, 50.0, 10.0, 20.0}, &lake, 1,
               &arena);
    assert_false(shore_meets(&shore, middle, (struct position){49.0, 15.0}));
    arena_free(&arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_raster_changes_no_answer),
        cmocka_unit_test(a_leg_is_refused_whatever_it_is_cut_into),
        cmocka_unit_test(the_seam_at_180_is_no_place_to_slip_through),
        cmocka_unit_test(the_first_of_many_crossings_is_found),
        cmocka_unit_test(a_geodesic_is_held_against_the_shore_itself),
        cmocka_unit_test(leaps_along_a_geodesic_miss_nothing),
        cmocka_unit_test(a_leg_over_the_end_of_a_round_box_is_whole),
        cmocka_unit_test(lakes_are_not_met),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
