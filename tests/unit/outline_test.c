#include "../support/check.h"

#include "earth/angle.h"
#include "earth/geodesic.h"
#include "earth/mercator.h"
#include "earth/outline.h"

#include <math.h>

static struct plane_point on_chart(struct position position) {
    struct mercator point = mercator_of(position);
    return (struct plane_point){point.x, point.y};
}

static struct position off_chart(struct plane_point point) {
    return mercator_position((struct mercator){point.x, point.y});
}

/* A star round a place: it is one line however the radii come out. */
enum { STAR = 200 };
static struct outline star(struct seed *seed, struct position middle,
                           double radius_rad, struct arena *arena) {
    struct plane_point *points = arena_alloc(arena, STAR + 1, sizeof *points);
    struct plane_point at = on_chart(middle);
    for (int i = 0; i < STAR; i++) {
        double s, c, r = radius_rad * seed_between(seed, 0.3, 1.0);
        sincos_deg(360.0 * i / STAR, &s, &c);
        points[i] = (struct plane_point){at.x + r * s, at.y + r * c};
    }
    points[STAR] = points[0];
    return outline_make(points, STAR, arena);
}

static void the_scale_is_that_of_the_ellipsoid(void **state) {
    (void)state;
    for (int lat = -89; lat <= 89; lat++) {
        struct position at = {lat, 0.0};
        double true_m = mercator_scale_m(lat);
        assert_near(mercator_scale_at_m(mercator_of(at).y) / true_m, 1.0, 3e-7);
    }
}

/* Every edge on its own, without runs and boxes. */
static bool meets_slowly(const struct outline *outline, struct plane_point from,
                         struct plane_point to) {
    bool found = false;
    for (size_t i = 0; i < outline->count; i++)
        found |=
            plane_meet(from, to, outline->points[i], outline->points[i + 1]);
    return found;
}

/* By the angle that the line turns through, seen from the place. */
static bool holds_slowly(const struct outline *outline, struct plane_point at) {
    double turned = 0.0;
    for (size_t i = 0; i < outline->count; i++) {
        struct plane_point a = outline->points[i], b = outline->points[i + 1];
        turned += angle_turn(atan2(a.y - at.y, a.x - at.x) * 180.0 / PI,
                             atan2(b.y - at.y, b.x - at.x) * 180.0 / PI);
    }
    return fabs(turned) > 180.0;
}

static void runs_and_boxes_change_no_answer(void **state) {
    (void)state;
    struct seed seed = {31};
    struct arena arena;
    arena_init(&arena);
    int met = 0, held = 0;
    for (int i = 0; i < 60; i++) {
        struct position middle = {seed_between(&seed, -70, 70),
                                  seed_between(&seed, -170, 170)};
        struct outline outline = star(&seed, middle, 0.1, &arena);
        for (int k = 0; k < 100; k++) {
            struct plane_point at = on_chart(middle), to;
            at.x += seed_between(&seed, -0.12, 0.12);
            at.y += seed_between(&seed, -0.12, 0.12);
            to.x = at.x + seed_between(&seed, -0.05, 0.05);
            to.y = at.y + seed_between(&seed, -0.05, 0.05);
            bool meets = meets_slowly(&outline, at, to);
            assert_int_equal(outline_meets(&outline, at, to), meets);
            bool holds = holds_slowly(&outline, at);
            assert_int_equal(outline_holds(&outline, at), holds);
            met += meets;
            held += holds;
        }
    }
    assert_true(met > 500 && held > 500);
    arena_free(&arena);
}

static void a_place_is_found_at_every_turn_of_its_longitude(void **state) {
    (void)state;
    struct seed seed = {32};
    struct arena arena;
    arena_init(&arena);
    struct outline here =
        star(&seed, (struct position){20, -179.9}, 0.1, &arena);
    for (int i = 0; i < 500; i++) {
        struct plane_point at = on_chart((struct position){20, -179.9}), to;
        at.x += seed_between(&seed, -0.12, 0.12);
        at.y += seed_between(&seed, -0.12, 0.12);
        to = (struct plane_point){at.x + 0.02, at.y - 0.01};
        struct plane_point at2 = {at.x + 2 * PI, at.y};
        struct plane_point to2 = {to.x + 2 * PI, to.y};
        assert_int_equal(outline_meets(&here, at, to),
                         outline_meets(&here, at2, to2));
        assert_int_equal(outline_holds(&here, at), outline_holds(&here, at2));
        assert_near(outline_distance_m(&here, at, to, 1e5),
                    outline_distance_m(&here, at2, to2, 1e5), 1e-3);
    }
    arena_free(&arena);
}

/* Against geodesics to places every 400 m or so of the lines. */
static double densely_m(const struct outline *outline, struct position at) {
    enum { PARTS = 100 };
    double least_m = HUGE_VAL;
    for (size_t i = 0; i < outline->count; i++) {
        struct plane_point a = outline->points[i], b = outline->points[i + 1];
        struct position ends = off_chart(a);
        if (geodesic_between(at, ends).distance_m > 2.5e5)
            continue;
        for (int k = 0; k < PARTS; k++) {
            double part = (double)k / PARTS;
            struct plane_point on = {a.x + part * (b.x - a.x),
                                     a.y + part * (b.y - a.y)};
            least_m =
                fmin(least_m, geodesic_between(at, off_chart(on)).distance_m);
        }
    }
    return least_m;
}

static void the_distance_is_that_of_geodesics(void **state) {
    (void)state;
    struct seed seed = {33};
    struct arena arena;
    arena_init(&arena);
    for (int i = 0; i < 12; i++) {
        struct position middle = {seed_between(&seed, -80, 80),
                                  seed_between(&seed, -180, 180)};
        double s, c;
        sincos_deg(middle.lat_deg, &s, &c);
        struct outline outline = star(&seed, middle, 0.02 / c, &arena);
        struct plane_point from = on_chart(middle);
        from.x += seed_between(&seed, -0.04, 0.04) / c;
        from.y += seed_between(&seed, -0.04, 0.04) / c;
        double mine_m = outline_distance_m(&outline, from, from, 1.5e5);
        double true_m = fmin(densely_m(&outline, off_chart(from)), 1.5e5);
        /* the dense places miss the foot by some 200 m along the line */
        assert_near(mine_m, true_m, 2e-4 * true_m + 5.0);
    }
    arena_free(&arena);
}

/* A line's distance is the least of those of its places. */
static void a_line_is_as_near_as_its_nearest_place(void **state) {
    (void)state;
    struct seed seed = {34};
    struct arena arena;
    arena_init(&arena);
    for (int i = 0; i < 200; i++) {
        struct position middle = {seed_between(&seed, -75, 75), 10.0};
        struct outline outline = star(&seed, middle, 0.01, &arena);
        struct plane_point from = on_chart(middle), to = from;
        from.x += seed_between(&seed, -0.03, 0.03);
        from.y += seed_between(&seed, 0.008, 0.03);
        to.x += seed_between(&seed, -0.03, 0.03);
        to.y += seed_between(&seed, 0.008, 0.03);
        double line_m = outline_distance_m(&outline, from, to, 9e4);
        double least_m = 9e4;
        for (int k = 0; k <= 1000; k++) {
            struct plane_point at = {from.x + (to.x - from.x) * k / 1000.0,
                                     from.y + (to.y - from.y) * k / 1000.0};
            least_m = outline_distance_m(&outline, at, at, least_m);
        }
        assert_true(line_m <= least_m * (1.0 + 1e-4));
        assert_near(line_m, least_m, 200.0 + 1e-3 * least_m);
    }
    arena_free(&arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_scale_is_that_of_the_ellipsoid),
        cmocka_unit_test(runs_and_boxes_change_no_answer),
        cmocka_unit_test(a_place_is_found_at_every_turn_of_its_longitude),
        cmocka_unit_test(the_distance_is_that_of_geodesics),
        cmocka_unit_test(a_line_is_as_near_as_its_nearest_place),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
